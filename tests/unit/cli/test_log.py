"""`speedloom log` as a coach types it: done as written, tables both ways, questions, faults."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from log_entries import entry, key, log_of, result
from speedloom.exchange.documents import canonical, read_programme

Ask = Callable[..., Any]
ILL = ("--absent", "mila=illness")


def entries(path: Path) -> list[dict[str, Any]]:
    return [dict(one) for one in json.loads(path.read_text(encoding="utf-8"))["entries"]]


def saved(folder: Path, *content: dict[str, Any], name: str = "log.json") -> Path:
    path = folder / name
    path.write_text(canonical(log_of(*content)), encoding="utf-8")
    return path


def test_a_day_done_as_written_twice_is_noted_once(ask: Ask, small: Path, tmp_path: Path) -> None:
    log = tmp_path / "log.json"
    day = ("log", "done", small, "--date", "2026-01-19", "-o", log, "--by", "assistant-1")
    answer = ask(*day, "--except", "mila-203=stopped/pain")
    assert (answer.code, answer.err.splitlines()) == (0, ["New entries: 4", f"Written: {log}"])
    assert {one["line"]: one["status"] for one in entries(log)} == {
        "mila-201": "done", "mila-202": "done", "mila-203": "stopped", "mila-204": "done",
    }  # fmt: skip
    first = log.read_bytes()
    again = ask(*day)
    assert (again.code, again.err.splitlines()[0], log.read_bytes()) == (0, "New entries: 0", first)
    assert ask("log", "check", log, "--programme", small).out == "4 entries, Mon 19 Jan.\nmila: 4\n"


def test_who_was_absent_stands_for_the_whole_session(ask: Ask, small: Path, tmp_path: Path) -> None:
    log = tmp_path / "log.json"
    assert ask("log", "done", small, "--session", "mila-250", *ILL, "-o", log).code == 0
    (one,) = entries(log)
    assert (one["status"], one["reason"], one["line"], one["by"]) == ("absent", "illness", None, "coach")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "Expected one session or one day"),
        (("--session", "mila_200"), "mila_200: expected the ref of a session; did you mean mila-200?"),
        (("--date", "2026-01-20"), "the nearest are 2026-01-19 and 2026-01-21."),
        (("--date", "19.1."), "--date: expected a date, YYYY-MM-DD, got 19.1.."),
        (("--date", "2026-01-19", "--absent", "mila=rain"),
         "--absent: expected mila=REASON with one of pain"),
        (("--date", "2026-01-19", "--except", "mila-203"),
         "--except: expected LINE=STATUS or LINE=STATUS/REASON"),
        (("--date", "2026-01-19", "--at", "now"), "--at: expected an instant with offset"),
    ],
)  # fmt: skip
def test_what_cannot_be_noted_writes_nothing(
    ask: Ask, small: Path, tmp_path: Path, options: tuple[str, ...], said: str
) -> None:
    answer = ask("log", "done", small, *options, "-o", tmp_path / "log.json")
    assert (answer.code, said in answer.err, (tmp_path / "log.json").exists()) == (2, True, False), answer.err


def test_a_log_goes_out_as_a_table_and_comes_back(ask: Ask, small: Path, tmp_path: Path) -> None:
    log, table, back = (tmp_path / name for name in ("log.json", "log.csv", "back.json"))
    ask("log", "done", small, "--date", "2026-01-19", "-o", log)
    assert ask("log", "csv", log, "-o", table).code == 0
    assert ask("log", "read", table, "--programme", small, "-o", back).code == 0
    assert back.read_bytes() == log.read_bytes()
    over = ask("log", "read", table, "--programme", small, "-o", log)
    assert (over.code, over.err.splitlines()[0], back.read_bytes() == log.read_bytes()) == (
        0, "New entries: 0", True,
    )  # fmt: skip


def asked(ask: Ask, small: Path, path: Path, log: Path) -> Any:  # noqa: ANN401 — an answer
    answer = ask("log", "read", path, "--programme", small, "-o", log)
    assert answer.code == 0, answer.err
    return answer


def test_sheet_table_and_typed_log_get_the_same_questions_and_marks(
    ask: Ask, small: Path, tmp_path: Path
) -> None:
    """Must show: 400 kg gets a question, keeps the value, marks it unusual; for XLSX, CSV and typed."""
    book = tmp_path / "a.xlsx"
    ask("handout", small, "--xlsx", book)
    sheets = openpyxl.load_workbook(book)
    sheet = sheets["Week 2"]
    heads = {str(cell.value): index for index, cell in enumerate(sheet[2])}
    row = next(row for row in sheet.iter_rows(min_row=3) if row[0].value == "mila-252")
    row[heads["1"]].value = "25 x 400"
    sheets.save(book)
    table = tmp_path / "a.csv"
    table.write_text("line,set,reps,load_kg\nmila-252,1,25,400\n", encoding="utf-8")
    squat = {"session": "mila-250", "line": "mila-252", "exercise": "back_squat", "date": "2026-01-21"}
    typed = saved(tmp_path, entry(1, **squat, results=[result(reps=25, load_kg=400)]), name="typed.json")
    said = [asked(ask, small, path, tmp_path / f"{path.name}.log").out for path in (book, table, typed)]
    assert (
        "set 1: 400 kg? 72.5 kg is written, and above about 90.5 kg is asked about. (common practice)"
        in said[0]
    )
    assert "set 1: 25 repetitions? 8 repetitions are written, and above 16 repetitions" in said[0]
    questions = [[line for line in one.splitlines() if "?" in line] for one in said]
    assert questions[0] == questions[1] == questions[2]
    for path in (book, table, typed):
        (one,) = entries(tmp_path / f"{path.name}.log")
        assert [(part["reps"], part["load_kg"], part["mark"]) for part in one["results"]] == [
            (25, 400.0, "unusual")
        ]


def test_every_fault_of_a_log_is_said_at_once(ask: Ask, small: Path, tmp_path: Path) -> None:
    log = saved(tmp_path, entry(1, athlete="milla"), entry(2, replaces=key(9)), entry(3, minutes=2000))
    answer = ask("log", "check", log, "--programme", small)
    assert answer.code == 2
    places = ("entries.1.athlete", "entries.2.replaces", "entries.3.minutes")
    assert [place in answer.err for place in places] == [True, True, True]
    assert ask("log", "read", log, "--programme", small, "-o", tmp_path / "new.json").code == 2
    assert not (tmp_path / "new.json").exists()


def test_two_assistants_logs_are_joined_by_reading_one_into_the_other(
    ask: Ask, small: Path, tmp_path: Path
) -> None:
    log, other = saved(tmp_path, entry(1)), saved(tmp_path, entry(2, by="assistant-2"), name="other.json")
    asked(ask, small, other, log)
    assert [one["id"] for one in entries(log)] == [key(1), key(2)]
    assert asked(ask, small, other, log).err.splitlines()[0] == "New entries: 0"


def test_a_planned_programme_is_noted_as_written_without_a_question(
    ask: Ask, planned: Path, tmp_path: Path
) -> None:
    programme = read_programme(planned)
    log = tmp_path / "log.json"
    days = sorted({s.date for own in programme.programmes for week in own.weeks for s in week.sessions})
    for day in days:
        answer = ask("log", "done", planned, "--date", day, "-o", log)
        assert (answer.code, "?" in answer.out) == (0, False), answer.out
    lines = [
        line.ref
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
    ]
    assert sorted(one["line"] for one in entries(log)) == sorted(lines)
