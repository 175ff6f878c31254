"""Sessions noted as done as written: the prescribed results, nothing made up, the same twice. On JSON."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from typing import Any
from uuid import NAMESPACE_DNS, NAMESPACE_OID, NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

import pytest

from log_entries import entry, log_of, result
from small_programme import document, small_programme
from speedloom.errors import LogError
from speedloom.exchange.log_file import appended, check_log
from speedloom.training.log import Log
from speedloom.training.rule import load_rulebook
from speedloom.workflows.done_as_written import Noted, done_as_written, named_id
from speedloom.workflows.log_questions import questions
from speedloom.workflows.standing_log import standing_log

ZONE = ZoneInfo("Europe/Amsterdam")
LATER = datetime(2026, 2, 1, tzinfo=UTC)


def squad() -> dict[str, Any]:
    """Give the small programme to a second athlete as well."""
    content = document()
    text = json.dumps(content["programmes"][0]).replace("mila", "noa")
    content["programmes"].append(json.loads(text))
    return content


PROGRAMME = small_programme(squad())


def done(log: Log | None = None, **fields: Any) -> Log:  # noqa: ANN401
    return done_as_written(PROGRAMME, Noted(by="coach", **fields), zone=ZONE, log=log)


def content(log: Log) -> dict[str, dict[str, Any]]:
    entries = json.loads(log.model_dump_json(by_alias=True))["entries"]
    return {one["line"] or one["session"]: one for one in entries}


def test_a_session_is_its_lines_as_they_are_written() -> None:
    log = done(session="mila-200")
    found = content(log)
    assert list(found) == ["mila-201", "mila-202", "mila-203", "mila-204"]
    assert found["mila-201"]["results"] == [], "a warm-up has none"
    sled = found["mila-203"]
    names = ("by", "athlete", "session", "date", "status", "revision", "at")
    assert {name: sled[name] for name in names} == {
        "by": "coach", "athlete": "mila", "session": "mila-200", "date": "2026-01-19", "status": "done",
        "revision": 1, "at": "2026-01-19T19:00:00+01:00",
    }  # fmt: skip
    assert [(one["set"], one["rep"], one["distance_m"], one["load_kg"]) for one in sled["results"]] == [
        (1, rep, 10.0, 37.5) for rep in (1, 2, 3, 4)
    ]
    assert [(one["set"], one["reps"], one["contacts"]) for one in found["mila-204"]["results"]] == [
        (number, 5, 5) for number in (1, 2, 3, 4)
    ]
    squat = content(done(session="mila-250"))
    assert [
        (one["set"], one["rep"], one["reps"], one["load_kg"]) for one in squat["mila-252"]["results"]
    ] == [(number, None, 8, 72.5) for number in (1, 2, 3)]
    assert {one["reps"] for one in squat["mila-253"]["results"]} == {None}, "8 to 12 is no number"


def test_ids_are_those_of_version_5() -> None:
    for space, name in ((NAMESPACE_DNS, "www.example.com"), (NAMESPACE_OID, ""), (NAMESPACE_URL, "Ünïcode")):
        assert named_id(str(space), name) == str(uuid5(space, name))


def test_nothing_that_nobody_took_is_made_up() -> None:
    log = done(day=date(2026, 1, 21))
    for one in content(log).values():
        assert (one["timing"], one["clock"], one["effort"], one["minutes"], one["note"]) == (
            None, None, None, None, "",
        )  # fmt: skip
        assert {(part["time_s"], part["rir"], part["mark"]) for part in one["results"]} <= {
            (None, None, None)
        }
    check_log(log, PROGRAMME, file="log")
    assert questions(standing_log(log, PROGRAMME), rulebook=load_rulebook()) == ()


def test_a_day_is_everybodys_and_the_absent_are_named() -> None:
    found = content(done(day=date(2026, 1, 19), absent={"noa": "illness"}))
    assert list(found) == ["mila-201", "mila-202", "mila-203", "mila-204", "noa-200"]
    absent = found["noa-200"]
    assert (absent["status"], absent["reason"], absent["line"], absent["exercise"], absent["results"]) == (
        "absent", "illness", None, None, [],
    )  # fmt: skip
    log = standing_log(done(day=date(2026, 1, 19), absent={"noa": None}), PROGRAMME)
    assert [str(day) for day in log.lost_days("noa")] == ["2026-01-19"]
    assert {one.athlete for one in done(day=date(2026, 1, 19), athletes=("noa",)).entries} == {"noa"}


def test_a_second_call_adds_nothing() -> None:
    fields: dict[str, Any] = {
        "day": date(2026, 1, 19),
        "absent": {"noa": "illness"},
        "exceptions": {"mila-203": ("stopped", "pain")},
    }
    first = done(**fields)
    assert done(**fields) == first
    assert appended(first, done(**fields), file="log") == first
    assert done(first, **fields).entries == ()
    assert done(first, **fields, at=LATER).entries == ()


def test_an_exception_says_how_a_line_went_and_corrects_what_was_noted() -> None:
    changed: dict[str, Any] = {"session": "mila-200", "exceptions": {"mila-203": ("skipped", "weather")}}
    found = content(done(**changed))
    assert (found["mila-203"]["status"], found["mila-203"]["reason"], found["mila-203"]["results"]) == (
        "skipped", "weather", [],
    )  # fmt: skip
    before = done(session="mila-200")
    after = appended(before, done(before, **changed, at=LATER), file="log")
    assert len(after.entries) == len(before.entries) + 1
    (line,) = standing_log(after, PROGRAMME).of_line("mila-203")
    assert (line.entry.status, line.entry.replaces is not None) == ("skipped", True)


def test_what_was_written_down_already_stays() -> None:
    timed = entry(1, line="mila-203", exercise="sled_sprint", results=[result(rep=1, time_s=3.5)])
    log = log_of(timed)
    assert list(content(done(log, session="mila-200"))) == ["mila-201", "mila-202", "mila-204"]
    away = log_of(entry(1, status="absent", reason="illness"))
    assert done(away, session="mila-200").entries == ()


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({}, "Expected one session or one day, got both or neither"),
        ({"session": "mila-200", "day": date(2026, 1, 19)}, "Expected one session or one day"),
        ({"session": "mila-210"}, "mila-210: expected the ref of a session; did you mean mila-2"),
        ({"day": date(2026, 1, 20)},
         "2026-01-20: expected a day with a session; the nearest are 2026-01-19 and 2026-01-21."),
        ({"day": date(2026, 1, 19), "athletes": ("nao",)}, "nao: expected an athlete who has this session"),
        ({"day": date(2026, 1, 19), "absent": {"milla": None}}, "did you mean mila?"),
        ({"session": "mila-200", "exceptions": {"mila-252": ("skipped", None)}},
         "mila-252: expected a line of what is noted; did you mean mila-202?"),
    ],
)  # fmt: skip
def test_refs_that_are_not_there_are_named(fields: dict[str, Any], said: str) -> None:
    with pytest.raises(LogError) as error:
        done(**fields)
    assert said in str(error.value)


def test_nobody_is_absent_who_trained() -> None:
    log = log_of(entry(1, line="mila-203", exercise="sled_sprint"))
    with pytest.raises(LogError, match="mila: expected nobody absent who trained; the log has entries about"):
        done(log, session="mila-200", absent={"mila": "illness"})
