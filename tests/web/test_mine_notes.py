"""An athlete's note of any day: written and taken back by the athlete, read by those who coach."""

from __future__ import annotations

from datetime import date

import pytest

from invented_squads import Squads
from speedloom.store import daily
from speedloom.store.cards import Role
from web.test_mine import SCALES, as_, here, mine, on, text


@pytest.mark.parametrize("day", [date(2026, 1, 13), date(2026, 7, 1)])
def test_a_note_of_a_day_without_a_session_is_kept_and_read_by_the_coach(
    squads: Squads, monkeypatch: pytest.MonkeyPatch, day: date
) -> None:
    on(monkeypatch, day)
    page = mine(squads)
    assert "No training is planned for you today." in page
    assert "Something to say about today" in page
    client = as_(squads)
    assert client.post(here(squads, "note/"), {"text": "Swam a little <easy>"}).status_code == 302
    assert "Swam a little <easy>" in mine(squads)
    about = f"/squads/{squads.ours}/athletes/mila/"
    readers: tuple[Role, ...] = ("owner", "coach", "assistant", "clinician")
    for role in readers:
        assert "Swam a little" in text(as_(squads, role).get(about)), role
    assert "Swam a little" not in text(as_(squads, "viewer").get(about))
    assert client.post(here(squads, "answers/"), dict.fromkeys(SCALES, "4")).status_code == 302
    assert "Answered today" in mine(squads)


def test_an_empty_note_is_asked_about_and_too_long_a_one_stays(squads: Squads) -> None:
    client = as_(squads)
    empty = client.post(here(squads, "note/"), {"text": "  "})
    assert empty.status_code == 422
    assert "a few words are enough" in text(empty)
    long = client.post(here(squads, "note/"), {"text": "word " * 500})
    assert long.status_code == 422
    assert "word word word" in text(long)


def test_a_note_is_taken_back_by_who_wrote_it_and_of_others_nothing_is_seen(squads: Squads) -> None:
    daily.add_note(squads.by_role["coach"], squads.ours, "mila", text="Zwaluw")
    client = as_(squads)
    client.post(here(squads, "note/"), {"text": "A slip"})
    own, other = daily.notes(squads.keeper, squads.ours, "mila")
    assert "Zwaluw" not in mine(squads)
    assert client.post(here(squads, "note/"), {"take_back": str(other.id)}).status_code == 404
    assert client.post(here(squads, "note/"), {"take_back": str(own.id)}).status_code == 302
    assert "A slip" not in mine(squads)
    assert daily.notes(squads.keeper, squads.ours, "mila") == (other,)


@pytest.mark.parametrize("role", ["owner", "coach", "assistant", "clinician", "viewer"])
def test_nobody_writes_an_athletes_own_note(role: Role, squads: Squads) -> None:
    assert as_(squads, role).post(here(squads, "note/"), {"text": "x"}).status_code == 403
    assert as_(squads).post(here(squads, "note/", "noa"), {"text": "x"}).status_code == 403
    assert daily.notes(squads.keeper, squads.ours, "noa") == ()
