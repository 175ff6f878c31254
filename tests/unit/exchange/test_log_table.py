"""A table of results typed by hand, written from the columns of DATA.md, is the log a person meant."""

from __future__ import annotations

import csv
import json
from datetime import UTC, datetime
from io import StringIO
from pathlib import Path
from typing import Any, get_args

import pytest

from log_entries import entry, log_of, result
from small_programme import small_programme
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.filled_weeks import Writing
from speedloom.exchange.log_csv import LOG_COLUMNS, log_csv
from speedloom.exchange.log_table import read_log_csv
from speedloom.exchange.week_layout import REASONS, STATUSES
from speedloom.training.log import Log, LogEntry
from speedloom.workflows.done_as_written import ABSENT_REASONS

COACH = Writing(by="coach")


def read(tmp_path: Path, text: str, writing: Writing = COACH) -> Log:
    path = tmp_path / "typed.csv"
    path.write_text(text, encoding="utf-8")
    return read_log_csv(path, small_programme(), writing=writing)[0]


def faults(tmp_path: Path, text: str) -> list[str]:
    with pytest.raises(UnusableFileError) as error:
        read(tmp_path, text)
    return [str(fault).partition("typed.csv, ")[2] for fault in error.value.faults]


def content(log: Log) -> list[dict[str, Any]]:
    return [dict(one) for one in json.loads(log.model_dump_json(by_alias=True))["entries"]]


def test_a_short_table_takes_the_rest_from_the_programme(tmp_path: Path) -> None:
    typed = "line;time_s;reps;rir;note\nmila-203;3,52;;;wind\nmila-203;3,49;;;\nmila-252;;8;\nmila-252;;7;2\n"
    sled, squat = content(read(tmp_path, typed))
    names = ("athlete", "session", "date", "exercise", "status", "note", "by")
    assert {name: sled[name] for name in names} == {
        "athlete": "mila", "session": "mila-200", "date": "2026-01-19", "exercise": "sled_sprint",
        "status": "done", "note": "wind", "by": "coach",
    }  # fmt: skip
    assert [sled[name] for name in ("at", "timing", "clock", "behind_m")] == [
        "2026-01-19T18:00:00+01:00", "gates", "behind", 0.5,
    ]  # fmt: skip
    measured = ("set", "rep", "load_kg", "distance_m", "time_s")
    assert [tuple(one[name] for name in measured) for one in sled["results"]] == [
        (1, 1, 37.5, 10.0, 3.52), (1, 2, 37.5, 10.0, 3.49),
    ]  # fmt: skip
    assert [(one["set"], one["rep"], one["reps"], one["rir"]) for one in squat["results"]] == [
        (1, None, 8, None), (2, None, 7, 2),
    ]  # fmt: skip


def test_whole_sessions_absences_and_extras(tmp_path: Path) -> None:
    typed = (
        "athlete,session,date,exercise,status,reason,effort,minutes,set,reps,at\n"
        "mila,mila-200,,,,,6,74,,,\n"
        "mila,mila-250,,,absent,illness,,,,,\n"
        "mila,,2026-01-20,hop,extra,,,,1,10,2026-01-20T10:00:00Z\n"
    )
    whole, absent, extra = content(read(tmp_path, typed))
    assert (whole["status"], whole["effort"], whole["minutes"], whole["line"]) == ("done", 6.0, 74.0, None)
    assert (absent["status"], absent["reason"], absent["date"]) == ("absent", "illness", "2026-01-21")
    assert (extra["session"], extra["exercise"], extra["results"][0]["reps"]) == (None, "hop", 10)


def test_reading_twice_gives_the_same_ids_and_another_value_another(tmp_path: Path) -> None:
    first = read(tmp_path, "line,time_s\nmila-203,3.52\n")
    assert read(tmp_path, "line,time_s\nmila-203,3.52\n") == first
    assert read(tmp_path, "line,time_s\nmila-203,3.53\n").entries[0].id != first.entries[0].id
    at = datetime(2026, 2, 1, tzinfo=UTC)
    assert read(tmp_path, "line,time_s\nmila-203,3.52\n", Writing(by="x", at=at)).entries[0].at == at


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("line,tiem_s\nmila-203,3\n",
         'line 1, tiem_s: expected a column of a log, got "tiem_s"; did you mean "time_s"?'),
        ("line,line\nmila-203,mila-203\n", "line 1, line: expected each column once"),
        ("time_s\n3.5\n", "line 1: expected a column line, session or athlete"),
        ("line,time_s\nmila-203,fast\n", 'line 2, time_s: expected a number from 0.01 to 600 s, got "fast"'),
        ("line,reps\nmila-252,2.5\n", "line 2, reps: expected a whole number from 0 to 200"),
        ("line,note\nmila-252,x\n", "line 2, status: expected what came of it, got an empty cell"),
        ("line,reps\nmila-999,5\n", "line 2, athlete: expected the athlete's ref, got an empty cell"),
        ("line,reps,at\nmila-252,5,yesterday\n", "line 2, at: expected an instant with offset"),
        ("line,reps,status\nmila-252,5,doen\n", 'got "doen"; did you mean "done"?'),
        ("programme,line,reps\n0123456789ab,mila-252,5\n", 'line 2, programme: expected "4f1c2a90b7de"'),
        ("id,line,reps\n7,mila-252,5\n", "line 2, id: expected an id of 36 signs"),
        ("line,reps,by\nmila-252,5,a\nmila-252,5,b\n", "line 3, by: expected the same as in line 2"),
    ],
)  # fmt: skip
def test_every_faulty_cell_is_named(tmp_path: Path, text: str, said: str) -> None:
    found = faults(tmp_path, text)
    assert any(said in fault for fault in found), found


def test_every_key_of_an_entry_and_of_a_result_has_a_column() -> None:
    typed = log_of(entry(1, results=[result()])).model_dump(mode="json")["entries"][0]
    wanted = {*typed, *typed["results"][0], "programme", "entry.mark"} - {"results"}
    assert set(LOG_COLUMNS) == wanted
    assert len(LOG_COLUMNS) == len(set(LOG_COLUMNS))


def test_a_note_cannot_run_as_a_formula() -> None:
    log = log_of(entry(1, note="=1+1", by="@me"))
    (row,) = csv.DictReader(StringIO(log_csv(log).decode("utf-8-sig")))
    assert (row["note"], row["by"]) == ("'=1+1", "'@me")


def test_the_words_are_those_of_the_log() -> None:
    field = LogEntry.model_fields
    assert {*STATUSES, "extra"} == set(get_args(field["status"].annotation))
    reasons = {word for part in get_args(field["reason"].annotation) for word in get_args(part)}
    assert set(REASONS) == set(ABSENT_REASONS) == reasons
