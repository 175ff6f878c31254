"""A log beside its programme: every fault at once, with what may have been meant. Written from DATA.md."""

from __future__ import annotations

from typing import Any

import pytest

from log_entries import PLAIN, entry, key, log_of, result
from small_programme import document, small_programme
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.log_file import appended, check_log
from speedloom.training.log import Log

LATER = "2026-01-19T21:00:00+01:00"
SQUAT = {"session": "mila-250", "line": "mila-252", "exercise": "back_squat", "date": "2026-01-21"}


def two_athletes() -> dict[str, Any]:
    content = document()
    week = {**content["programmes"][0]["weeks"][1], "sessions": []}
    session = {**content["programmes"][0]["weeks"][1]["sessions"][0], "ref": "noa-1", "prescriptions": []}
    week["sessions"] = [session]
    content["programmes"].append({"athlete": "noa", "next_ref": 9, "weeks": [week]})
    return content


def faults(*entries: dict[str, Any]) -> list[str]:
    with pytest.raises(UnusableFileError) as error:
        check_log(log_of(*entries), small_programme(two_athletes()), file="log.json")
    return [str(fault).removeprefix("log.json, ") for fault in error.value.faults]


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ([entry(1, athlete="milla")],
         'entries.1.athlete: expected an athlete of the programme, got "milla"; did you mean "mila"?'),
        ([entry(1, session="noa-1")],
         'entries.1.session: expected a session of mila, got "noa-1"; it is noa\'s; '),
        ([entry(1, line="mila-252", exercise="back_squat")],
         ('entries.1.line: expected a line of mila-200, got "mila-252"; '
         'it stands in mila-250 on 2026-01-21; did you mean "mila-202"?')),
        ([entry(1, date="2025-01-19")],
         ("entries.1.date: expected a day of the programme, 2026-01-12 to 2026-02-08, got 2025-01-19; "
         "was the year or the month typed wrongly?")),
        ([entry(1, replaces=key(2))], f'entries.1.replaces: expected the id of an entry, got "{key(2)}"'),
        ([entry(1, replaces=key(2)), entry(2, replaces=key(1))],
         f'entries.1.replaces: expected an entry written before, got "{key(2)}"; an entry cannot'),
        ([entry(1, replaces=key(1))],
         f'entries.1.replaces: expected an entry written before, got "{key(1)}"; an'),
        ([entry(1), entry(2, athlete="noa", session="noa-1", replaces=key(1))],
         f"entries.2.replaces: expected an entry of noa, got \"{key(1)}\"; that entry is mila's"),
        ([entry(1, **SQUAT, results=[result(load_kg=4000, reps=8)])],
         "entries.1.results.1.load_kg: expected load in [0, 1000] kg, got 4000; correct the value"),
        ([entry(1, **SQUAT, results=[result(reps=8), result(reps=999)])],
         "entries.1.results.2.reps: expected repetitions of a set in [0, 200], got 999"),
        ([entry(1, **SQUAT, results=[result(time_s=0)])], "entries.1.results.1.time_s: expected the time of"),
        ([entry(1, minutes=1500)],
         "entries.1.minutes: expected minutes of a session in [0, 1440] min, got 1500"),
        ([entry(1), entry(1, effort=4)], f'entries.2.id: expected each id for one entry, got "{key(1)}"'),
        ([entry(1, exercise="hop", line="mila-202")], "entries.1.exercise: expected"),
        ([entry(1, revision=3)], "entries.1.revision: expected a revision up to 1, got 3"),
    ],
)  # fmt: skip
def test_each_fault_is_said_with_what_may_have_been_meant(entries: list[dict[str, Any]], said: str) -> None:
    found = faults(*entries)
    assert any(fault.startswith(said) for fault in found), found


def test_every_fault_is_listed_at_once() -> None:
    wrong = [
        entry(1, athlete="milla"),
        entry(2, date="2027-01-19", minutes=2000),
        entry(3, replaces=key(9)),
        entry(4, session=None),
    ]
    assert [fault.partition(":")[0] for fault in faults(*wrong)] == [
        "entries.1.athlete", "entries.2.date", "entries.2.minutes", "entries.3.replaces", "entries.4.session",
    ]  # fmt: skip


def test_what_was_sent_twice_a_correction_an_extra_and_a_retired_line_are_no_faults() -> None:
    content = two_athletes()
    content["programmes"][0]["retired"] = ["mila-9"]
    good = [
        entry(1), entry(1), entry(2, at=LATER, replaces=key(1)),
        entry(3, status="extra", session=None, exercise="hop"),
        entry(4, session="mila-9"), entry(5, line="mila-9", exercise="hop"),
        entry(6, **SQUAT, results=[result(load_kg=400, reps=25)], minutes=None),
    ]  # fmt: skip
    check_log(log_of(*good), small_programme(content), file="log.json")


def test_entries_with_ids_of_their_own_are_joined_as_they_are() -> None:
    log = log_of(entry(1))
    other = log_of(entry(1), entry(2, by="assistant-2"), entry(3, at=LATER, replaces=key(1)))
    ids = {one.id for one in other.entries}
    joined = appended(log, other, file="log.json", own_ids=ids)
    assert joined.entries == other.entries
    assert appended(joined, other, file="log.json", own_ids=ids) == joined
    with pytest.raises(UnusableFileError, match="each id for one entry"):
        appended(log, log_of(entry(1, effort=9)), file="log.json", own_ids=ids)


def test_a_mark_alone_makes_no_other_entry() -> None:
    typed = log_of(entry(1, **SQUAT, results=[result(reps=25)]))
    marked = log_of(entry(1, **SQUAT, results=[result(reps=25, mark="unusual")]))
    assert appended(marked, typed, file="log.json", own_ids={key(1)}) == marked


def test_the_plain_entry_has_every_key_of_an_entry() -> None:
    assert {*PLAIN, "id", "mark", "sent_by"} == set(
        Log.model_json_schema()["$defs"]["LogEntry"]["properties"]
    )
