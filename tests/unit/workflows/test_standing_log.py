"""What stands in a log: corrections, entries found again, lost days. Written from DATA.md, on JSON."""

from __future__ import annotations

from typing import Any

import pytest

from log_entries import entry, key, log_of, result
from small_programme import document, small_programme
from speedloom.errors import LogError
from speedloom.workflows.standing_log import StandingLog, standing_log

LATER, LAST = "2026-01-19T21:00:00+01:00", "2026-01-19T22:00:00+01:00"


def standing(*entries: dict[str, Any], content: dict[str, Any] | None = None) -> StandingLog:
    return standing_log(log_of(*entries), small_programme(content))


def ids(log: StandingLog) -> list[str]:
    return [one.entry.id for one in log.entries]


def test_a_correction_of_a_correction_stands_alone() -> None:
    first, second = entry(1, effort=5), entry(2, effort=6, at=LATER, replaces=key(1))
    third = entry(3, effort=7, at=LAST, replaces=key(2))
    assert ids(standing(first, second, third)) == [key(3)]
    assert ids(standing(first, third)) == [key(1), key(3)], "what joins them has not arrived yet"


def test_of_two_corrections_of_one_entry_the_later_stands() -> None:
    first = entry(1)
    assert ids(standing(first, entry(9, at=LATER, replaces=key(1)), entry(3, at=LAST, replaces=key(1)))) == [
        key(3)
    ]


def test_ties_are_settled_by_id() -> None:
    same = [entry(4, at=LATER, replaces=key(1)), entry(3, at=LATER, replaces=key(1))]
    assert ids(standing(entry(1), *same)) == [key(4)]
    # 20:00 at +00:00 and 21:00 at +01:00 are the same instant.
    other = entry(5, at="2026-01-19T20:00:00+00:00", replaces=key(1))
    assert ids(standing(entry(1), other, *same)) == [key(5)]


def test_a_correction_that_is_not_later_does_not_win() -> None:
    assert ids(standing(entry(1, at=LATER), entry(2, replaces=key(1)))) == [key(1)]


def test_the_same_id_twice_is_one_entry() -> None:
    assert ids(standing(entry(1), entry(1))) == [key(1)]


def test_a_ring_of_replacements_leaves_the_latest() -> None:
    ring = [entry(1, replaces=key(2)), entry(2, at=LATER, replaces=key(1))]
    assert ids(standing(*ring)) == [key(2)]
    assert ids(standing(entry(1, replaces=key(1)))) == [key(1)]


def test_a_correction_never_reaches_another_athletes_entry() -> None:
    content = document()
    content["programmes"].append({"athlete": "noa", "next_ref": 1, "weeks": []})
    noa = entry(2, athlete="noa", status="extra", session=None, at=LATER, replaces=key(1))
    assert ids(standing(entry(1), noa, content=content)) == [key(1), key(2)]


def test_entries_stand_in_order_of_date_moment_and_id() -> None:
    wednesday = {"session": "mila-250", "date": "2026-01-21", "at": "2026-01-01T00:00:00Z"}
    log = standing(entry(1, **wednesday), entry(2, at=LATER), entry(4), entry(3))
    assert ids(log) == [key(3), key(4), key(2), key(1)]


def test_entries_are_found_by_line_session_and_athlete() -> None:
    sled = {"line": "mila-203", "exercise": "sled_sprint"}
    log = standing(entry(1), entry(2, **sled), entry(3, status="extra", session=None, exercise="hop"))
    assert [one.place for one in log.entries] == ["in_programme", "in_programme", "extra"]
    assert [one.entry.id for one in log.of_line("mila-203")] == [key(2)]
    assert [one.entry.id for one in log.of_session("mila-200")] == [key(1), key(2)]
    assert [one.entry.id for one in log.whole_sessions()] == [key(1)]
    assert len(log.of_athlete("mila")) == 3
    assert log.of_athlete("noa") == log.of_line("mila-999") == ()


def test_a_retired_line_is_found_by_date_and_exercise_or_is_not_in_the_programme_now() -> None:
    content = document()
    content["programmes"][0]["retired"] = ["mila-203", "mila-299"]
    monday = content["programmes"][0]["weeks"][1]["sessions"][0]
    next(one for one in monday["prescriptions"] if one["ref"] == "mila-203")["ref"] = "mila-499"
    found, gone = standing(
        entry(1, line="mila-203", exercise="sled_sprint"),
        entry(2, line="mila-299", exercise="hop"),
        content=content,
    ).entries
    assert found.line is not None
    assert (found.line.ref, found.place) == ("mila-499", "in_programme")
    assert gone.session is not None
    assert (gone.session.ref, gone.line, gone.place) == ("mila-200", None, "not_in_programme")


def test_a_retired_session_is_found_when_the_day_has_one() -> None:
    found, gone = standing(entry(1, session="mila-9"), entry(2, session="mila-9", date="2026-01-20")).entries
    assert found.session is not None
    assert (found.session.ref, found.place) == ("mila-200", "in_programme")
    assert (gone.session, gone.place) == (None, "not_in_programme")


def test_lost_days_are_those_on_which_nothing_was_done() -> None:
    absent = {"status": "absent", "reason": "illness"}
    assert [str(day) for day in standing(entry(1, **absent)).lost_days("mila")] == ["2026-01-19"]
    assert standing(entry(1)).lost_days("mila") == ()
    assert standing().lost_days("mila") == standing(entry(1, **absent)).lost_days("noa") == ()
    line = {"line": "mila-203", "exercise": "sled_sprint"}
    assert standing(entry(1, **line, status="skipped")).lost_days("mila") == (), "one line is no session"
    assert standing(entry(1, **absent), entry(2, **line)).lost_days("mila") == (), "done after all"


def test_a_day_with_two_sessions_is_lost_when_both_are() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][1]["date"] = "2026-01-19"
    one = entry(1, status="absent")
    other = entry(2, status="skipped", session="mila-250", reason="weather")
    assert standing(one, content=content).lost_days("mila") == ()
    assert len(standing(one, other, content=content).lost_days("mila")) == 1


def test_an_unusual_result_stays_and_is_not_used() -> None:
    results = [result(rep=1, time_s=2.1), result(rep=2, time_s=0.9, mark="unusual")]
    (one,) = standing(entry(1, line="mila-202", exercise="acceleration_run", results=results)).entries
    log = standing(one.entry.model_dump(mode="json"))
    assert len(one.entry.results) == 2
    assert [part.time_s for part in log.usable_results(one)] == [2.1]
    assert log.usable_results(one.entry) == log.usable_results(one)


def test_a_log_about_another_programme_is_refused() -> None:
    with pytest.raises(LogError, match="Expected a log about programme 4f1c2a90b7de, got one about 000"):
        standing_log(log_of(programme="000000000000"), small_programme())


def test_a_settled_conflict_counts_once() -> None:
    """One of two values was chosen: the new entry says what the right one says, and the day has one run."""
    line = {"line": "mila-203", "exercise": "sled_sprint"}

    def run(rep: int, time_s: float) -> dict[str, Any]:
        return result(rep=rep, time_s=time_s, distance_m=10, load_kg=37.5)

    right = entry(1, results=[run(1, 3.5), run(2, 3.6)], **line)
    other = entry(2, results=[run(1, 3.7)], at=LATER, **line)
    settled = entry(3, results=[run(1, 3.5)], at=LAST, replaces=key(2), **line)
    log = standing(right, other, settled)
    assert ids(log) == [key(1)]
    assert [one.time_s for one in log.entries[0].entry.results] == [3.5, 3.6]
    more = {**settled, "results": [run(1, 3.5), run(3, 3.9)]}
    assert [one.time_s for one in standing(right, other, more).entries[1].entry.results] == [3.9]
    stopped = {**settled, "status": "stopped", "reason": "pain"}
    assert [one.entry.status for one in standing(right, other, stopped).entries] == ["done", "stopped"]


def test_equal_runs_of_one_entry_and_equal_work_outside_the_programme_are_all_work() -> None:
    run = result(time_s=3.5, distance_m=10)
    alike = entry(1, line="mila-203", exercise="sled_sprint", results=[run, run])
    assert len(standing(alike).entries[0].entry.results) == 2
    extra = {"session": None, "line": None, "exercise": "sled_sprint", "status": "extra", "results": [run]}
    assert len(standing(entry(1, **extra), entry(2, at=LATER, **extra)).entries) == 2
