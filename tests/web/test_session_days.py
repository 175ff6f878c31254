"""A session of another day: the page asks first which day is written down, and writes that day."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime

import pytest

from field_entries import DAY, SLED, client, entry, here, run, sent, stored
from invented_squads import PROGRAMME, Squads
from speedloom.store.stops import write
from speedloom.training.log import LogEntry

TODAY = "2026-01-21"
PLAIN = f"sessions/{DAY}/"
QUESTION = "This session is planned for Mon 19 Jan; today is Wed 21 Jan."
TO_COME = "is still to come"
TYPED = {f"box:{SLED}.1.1": "3.52", "nonce": "one"}


@pytest.fixture(autouse=True)
def wednesday(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2026, 1, 21, 18, tzinfo=UTC))


@pytest.mark.parametrize(
    ("day", "said"),
    [(DAY, QUESTION), ("2026-01-26", "This session is planned for Mon 26 Jan; today is Wed 21 Jan.")],
)
def test_a_past_and_a_coming_day_are_asked_about_before_anything_can_be_written(
    squads: Squads, day: str, said: str
) -> None:
    page = client(squads.by_role["assistant"]).get(here(squads, f"sessions/{day}/")).content.decode()
    assert said in page
    assert [f'name="on" value="{one}"' in page for one in (day, TODAY)] == [True, True]
    assert "session.js" not in page
    assert not re.search(r'name="do" value="(all|group|else)', page)
    assert re.search(r'name="box:[^"]+"[^>]* readonly', page)


def test_todays_session_asks_nothing(squads: Squads) -> None:
    page = client(squads.by_role["assistant"]).get(here(squads, f"sessions/{TODAY}/")).content.decode()
    assert "Which day" not in page
    assert "session.js" in page
    assert f'data-day="{TODAY}"' in page


def test_a_form_that_says_no_day_is_asked_and_comes_back_with_everything_typed(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    answer = found.post(here(squads, PLAIN), TYPED)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert stored(squads) == ()
    assert QUESTION in page
    assert 'value="3.52"' in page
    assert 'type="radio" name="on" value="2026-01-21"' in page
    assert found.post(here(squads, PLAIN), {**TYPED, "on": TODAY}).status_code == 302
    assert [f"{one.date}" for one in stored(squads)] == [TODAY]


def test_trained_today_is_written_as_today_and_stands_on_the_page_of_the_planned_day(squads: Squads) -> None:
    found, address = client(squads.by_role["assistant"]), here(squads, f"{PLAIN}?on={TODAY}")
    page = found.get(address).content.decode()
    assert "Written down for Wed 21 Jan; planned for Mon 19 Jan." in page
    assert (f'data-planned="{DAY}"' in page, f'data-day="{TODAY}"' in page) == (True, True)
    found.post(address, TYPED)
    found.post(address, {"do": "after", "effort:mila": "6", "nonce": "two"})
    found.post(
        address, {"do": "else", "line": "noa-203", "what": "absent", "reason": "time", "nonce": "three"}
    )
    assert {(f"{one.date}", one.session) for one in stored(squads)} == {
        (TODAY, "mila-200"),
        (TODAY, "noa-200"),
    }
    for rest in (PLAIN, f"{PLAIN}?on={DAY}"):
        again = found.get(here(squads, rest)).content.decode()
        assert f'name="was:{SLED}.1.1" value="3.52"' in again
        assert "absent" in again
    asked = f"written/?date={DAY}&on={TODAY}&session=mila-200&session=noa-200"
    assert found.get(here(squads, asked)).json()["count"] == 3
    assert found.get(here(squads, f"written/?date={DAY}")).json()["count"] == 0


def test_a_swap_of_another_day_is_found_again_and_not_taken_for_that_days_own(squads: Squads) -> None:
    found, address = client(squads.by_role["assistant"]), here(squads, f"{PLAIN}?on={TODAY}")
    page = found.get(address).content.decode()
    to = re.search(r'value="swap:([^"]+)"', page.partition(f'id="row-{SLED}"')[2])
    assert to
    form = {"do": "else", "line": SLED, "what": f"swap:{to[1]}", "reason": "kit", "nonce": "one"}
    found.post(address, form)
    extra = stored(squads)[-1]
    assert (f"{extra.date}", extra.note) == (TODAY, "Instead of Sled, planned Mon 19 Jan: kit")
    found.post(address, {f"box:{SLED}.1.1": "3.9", "nonce": "two"})
    assert stored(squads)[-1].replaces == extra.id
    assert "Instead of Sled, planned" not in found.get(here(squads, PLAIN)).content.decode()


@pytest.mark.parametrize("on", ["2026-01-22", "soon", ""])
def test_a_day_to_come_that_is_not_the_planned_one_is_no_answer(squads: Squads, on: str) -> None:
    found = client(squads.by_role["assistant"])
    assert found.post(here(squads, f"{PLAIN}?on={on}"), TYPED).status_code == 422
    assert stored(squads) == ()


def test_paper_of_a_past_day_asks_nothing_and_of_a_coming_day_asks(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    past = found.get(here(squads, f"{PLAIN}paper/")).content.decode()
    assert "Which day" not in past
    assert 'id="paper"' in past
    coming = here(squads, "sessions/2026-01-26/paper/")
    assert "Which day" in found.get(coming).content.decode()
    found.post(coming, {"box:mila-303.1.1": "3.5", "nonce": "one"})
    assert stored(squads) == ()
    answer = found.post(f"{coming}?on=2026-01-26", {"box:mila-303.1.1": "3.5", "nonce": "one"})
    assert answer.status_code == 422
    assert TO_COME in answer.content.decode()
    assert 'value="3.5"' in answer.content.decode()
    assert stored(squads) == ()


@pytest.mark.parametrize(
    "form",
    [
        {"do": "all:mila-303"},
        {"do": "group:mila-303 noa-303"},
        {"box:mila-303.1.1": "3.5"},
        {"do": "after", "effort:mila": "6"},
        {"do": "else", "what": "skip", "line": "mila-303"},
        {"do": "else", "what": "late", "line": "mila-303"},
    ],
)
def test_nothing_is_trained_on_a_day_to_come(squads: Squads, form: dict[str, str]) -> None:
    found, coming = client(squads.by_role["coach"]), here(squads, "sessions/2026-01-26/?on=2026-01-26")
    assert "Only who will be absent is written beforehand." in found.get(coming).content.decode()
    answer = found.post(coming, {**form, "nonce": "one"})
    assert answer.status_code == 422
    assert TO_COME in answer.content.decode()
    assert stored(squads) == ()


def test_who_will_be_absent_is_written_beforehand(squads: Squads) -> None:
    found, coming = client(squads.by_role["coach"]), here(squads, "sessions/2026-01-26/?on=2026-01-26")
    form = {"do": "else", "what": "absent", "line": "mila-303", "reason": "illness", "nonce": "one"}
    assert found.post(coming, form).status_code == 302
    assert [(f"{one.date}", one.status) for one in stored(squads)] == [("2026-01-26", "absent")]


def test_a_phone_sends_no_work_of_a_day_to_come_and_the_day_is_the_squads(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    who = squads.by_role["coach"]
    at = {"at": "2026-01-21T19:00:00+01:00", "session": None, "line": None, "status": "extra"}
    body = sent(client(who), squads, [entry(1, who, date="2026-01-22", **at)], status=422)
    assert TO_COME in body["refused"][0]["why"]
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2026, 1, 21, 23, 30, tzinfo=UTC))
    assert sent(client(who), squads, [entry(1, who, date="2026-01-22", **at)])["stored"]


def test_what_was_written_of_a_day_to_come_can_still_be_taken_back(squads: Squads) -> None:
    who, day = squads.by_role["coach"], "2026-01-26"
    old = entry(1, who, date=day, session="mila-300", line="mila-303", at="2026-01-21T18:30:00+01:00")
    old["results"] = [run(1, 3.5)]
    write(who, squads.ours, PROGRAMME, [LogEntry.model_validate_json(json.dumps(old))])
    form = {"box:mila-303.1.1": "-", "was:mila-303.1.1": "3.50", "nonce": "two"}
    assert client(who).post(here(squads, f"sessions/{day}/?on={day}"), form).status_code == 302
    assert (stored(squads)[-1].replaces, stored(squads)[-1].results) == (old["id"], ())


def test_who_only_looks_is_told_and_not_asked(squads: Squads) -> None:
    found = client(squads.by_role["viewer"])
    page = found.get(here(squads, PLAIN)).content.decode()
    assert "This is the session of Mon 19 Jan, not of today." in page
    assert "Which day" not in page
    assert found.post(here(squads, f"{PLAIN}?on={DAY}"), TYPED).status_code == 403
    assert found.post(here(squads, "written/"), "{}", content_type="application/json").status_code == 403
