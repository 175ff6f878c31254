"""Wellness and notes: the athlete's own, seen by those who need it."""

from __future__ import annotations

from datetime import date

import pytest
from pydantic import ValidationError

from invented_squads import Squads
from speedloom.store import daily, exporting
from speedloom.store.refusals import NotAllowedError, NotThereError, RefusedError
from speedloom.training.wellness import Wellness


def answers(ref: str = "mila", *, mood: int = 4) -> Wellness:
    """Answer five questions."""
    return Wellness(athlete=ref, date=date(2026, 1, 12), fatigue=3, sleep=5, soreness=2, stress=4, mood=mood)


def test_the_last_answers_of_a_day_hold(squads: Squads) -> None:
    mila = squads.by_role["athlete"]
    for mood in (4, 2):
        daily.record_wellness(mila, squads.ours, answers(mood=mood))
    assert daily.wellness(squads.by_role["clinician"], squads.ours) == (answers(mood=2),)
    assert daily.wellness(mila, squads.ours, since=date(2026, 1, 13)) == ()


@pytest.mark.parametrize("role", ["assistant", "viewer"])
def test_who_does_not_need_it_sees_none(role: str, squads: Squads) -> None:
    daily.record_wellness(squads.by_role["athlete"], squads.ours, answers())
    assert daily.wellness(squads.by_role[role], squads.ours) == ()  # type: ignore[index]


def test_nobody_answers_for_another(squads: Squads) -> None:
    with pytest.raises(NotAllowedError):
        daily.record_wellness(squads.by_role["athlete"], squads.ours, answers("noa"))
    with pytest.raises(NotAllowedError):
        daily.record_wellness(squads.by_role["coach"], squads.ours, answers())


@pytest.mark.parametrize("mood", [0, 6])
def test_answers_go_from_one_to_five(mood: int) -> None:
    # McLean et al. 2010 (read): five items, 1 to 5, 5 good.
    with pytest.raises(ValidationError):
        answers(mood=mood)


def test_a_note_is_taken_back_by_its_writer_only(squads: Squads) -> None:
    coach, assistant = squads.by_role["coach"], squads.by_role["assistant"]
    card = daily.add_note(coach, squads.ours, "mila", text=" Likes the left start ")
    assert daily.notes(assistant, squads.ours, "mila") == (card,)
    assert card.text == "Likes the left start"
    with pytest.raises(NotThereError):
        daily.take_back_note(assistant, squads.ours, "mila", card.id)
    daily.take_back_note(coach, squads.ours, "mila", card.id)
    assert daily.notes(coach, squads.ours, "mila") == ()
    with pytest.raises(RefusedError):
        daily.add_note(coach, squads.ours, "mila", text=" ")


def test_an_athlete_gets_notes_by_export_and_not_on_a_page(squads: Squads) -> None:
    mila = squads.by_role["athlete"]
    daily.add_note(squads.by_role["coach"], squads.ours, "mila", text="Likes the left start")
    with pytest.raises(NotAllowedError):
        daily.notes(mila, squads.ours, "mila")
    kept = exporting.export_athlete(mila, squads.ours, "mila")
    assert [one["text"] for one in kept["notes"]] == ["Likes the left start"]
