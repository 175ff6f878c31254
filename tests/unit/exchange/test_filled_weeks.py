"""Filled week sheets come back as the log a person would have typed.

Must show: filled XLSX → log equal to the typed one.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from small_programme import document, small_programme
from speedloom.exchange.documents import read_log, write_document
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.filled_weeks import Writing, read_filled
from speedloom.exchange.log_file import appended, check_log
from speedloom.exchange.workbook import WorkbookOrder, workbook
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.rule import load_rulebook
from speedloom.wording.units import Units
from speedloom.workflows.log_questions import with_marks

Filled = Mapping[str, Mapping[str, object]]
COACH = Writing(by="assistant-1")
EFFORT, NOTE = "Effort 0–10", "Note"


def filled(path: Path, cells: Filled, *, units: Units | None = None, upside_down: bool = False) -> Path:
    """Write the workbook of the small programme and fill in cells by ref and heading."""
    order = WorkbookOrder(units=units or Units())
    content = workbook(
        small_programme(), order, catalogue=load_catalogue(), stamp=datetime(2026, 1, 5, tzinfo=UTC)
    )
    book = openpyxl.load_workbook(BytesIO(content))
    for sheet in book.worksheets:
        heads = (
            {str(cell.value): index for index, cell in enumerate(sheet[2])}
            if sheet.title[:4] == "Week"
            else {}
        )
        for row in sheet.iter_rows(min_row=3) if heads else ():
            for heading, value in cells.get(str(row[0].value), {}).items():
                row[heads[heading]].value = value
        if upside_down and heads:
            turn_over(sheet)
    book.save(path)
    return path


def turn_over(sheet: Any) -> None:  # noqa: ANN401 — openpyxl's sheet
    """Put the rows under the headings in the opposite order, as sorting in a spreadsheet would."""
    for merged in list(sheet.merged_cells.ranges):
        sheet.unmerge_cells(str(merged))
    rows = [[cell.value for cell in row] for row in sheet.iter_rows(min_row=3)]
    for number, row in enumerate(reversed(rows), start=3):
        for column, value in enumerate(row, start=1):
            sheet.cell(number, column).value = value


def read(path: Path, writing: Writing = COACH) -> Log:
    log = read_filled(path, small_programme(), writing=writing)
    return with_marks(log, small_programme(), rulebook=load_rulebook())


def faults(path: Path) -> list[str]:
    with pytest.raises(UnusableFileError) as error:
        read(path)
    return [str(fault).partition("] ")[2] or str(fault).partition("], ")[2] for fault in error.value.faults]


CELLS: Filled = {
    "mila-200": {EFFORT: 6, "Minutes": 74, NOTE: "Wind"},
    "mila-202": {str(box): "x" for box in range(1, 7)},
    "mila-203": {
        "1": 3.52,
        "2": "3,49",
        "3": "-",
        "4": 9.9,
        "Load done kg": 35,
        "Status": "stopped",
        "Reason": "pain",
    },
    "mila-252": {"1": 8, "2": "8 x 80", "3": 7, "In reserve": 1, "Done on": datetime(2026, 1, 22)},  # noqa: DTZ001
    "mila-253": {"Status": "skipped", "Reason": "time"},
}


def typed() -> dict[str, Any]:
    """Type the same in the shape of DATA.md, without the ids."""
    plain = {
        "by": "assistant-1", "revision": 1, "athlete": "mila", "replaces": None, "reason": None,
        "timing": None, "clock": None, "behind_m": None, "surface": None, "results": [], "effort": None,
        "minutes": None, "note": "", "mark": None,
        "status": "done", "line": None, "exercise": None,
    }  # fmt: skip
    monday = {**plain, "session": "mila-200", "date": "2026-01-19", "at": "2026-01-19T18:00:00+01:00"}
    gym = {**plain, "session": "mila-250", "date": "2026-01-21", "at": "2026-01-21T19:30:00+01:00"}
    empty = {
        "load_kg": None,
        "distance_m": None,
        "time_s": None,
        "reps": None,
        "rir": None,
        "contacts": None,
        "mark": None,
    }
    run = {**empty, "set": 1, "distance_m": 10.0}
    sled = {**run, "load_kg": 35.0}
    squat = {**empty, "rep": None, "load_kg": 72.5}
    entries = [
        {**monday, "effort": 6.0, "minutes": 74.0, "note": "Wind"},
        {**monday, "line": "mila-202", "exercise": "acceleration_run",
         "results": [{**run, "rep": rep} for rep in range(1, 7)]},
        {**monday, "line": "mila-203", "exercise": "sled_sprint", "status": "stopped", "reason": "pain",
         "timing": "gates", "clock": "behind", "behind_m": 0.5,
         "results": [{**sled, "rep": 1, "time_s": 3.52}, {**sled, "rep": 2, "time_s": 3.49},
                     {**sled, "rep": 4, "time_s": 9.9, "mark": "unusual"}]},
        {**gym, "line": "mila-253", "exercise": "split_squat", "status": "skipped", "reason": "time"},
        {**gym, "line": "mila-252", "exercise": "back_squat", "date": "2026-01-22",
         "at": "2026-01-22T19:30:00+01:00",
         "results": [{**squat, "set": 1, "reps": 8}, {**squat, "set": 2, "reps": 8, "load_kg": 80.0},
                     {**squat, "set": 3, "reps": 7, "rir": 1}]},
    ]  # fmt: skip
    return {
        "schema": "speedloom.log/1", "programme": "4f1c2a90b7de", "timezone": "Europe/Amsterdam",
        "entries": sorted(entries, key=lambda one: (one["at"], one["line"] or "")),
    }  # fmt: skip


def without_ids(log: Log) -> dict[str, Any]:
    content = json.loads(log.model_dump_json(by_alias=True))
    for entry in content["entries"]:
        entry.pop("id")
    content["entries"].sort(key=lambda one: (one["at"], one["line"] or ""))
    return dict(content)


def test_a_filled_workbook_is_the_log_that_was_typed(tmp_path: Path) -> None:
    log = read(filled(tmp_path / "filled.xlsx", CELLS))
    assert without_ids(log) == typed()
    assert len({entry.id for entry in log.entries}) == 5
    check_log(log, small_programme(), file="log")
    write_document(tmp_path / "log.json", log)
    assert read_log(tmp_path / "log.json") == log


def test_ids_come_from_the_cells_and_not_from_the_order_of_rows(tmp_path: Path) -> None:
    log = read(filled(tmp_path / "a.xlsx", CELLS))
    assert read(filled(tmp_path / "b.xlsx", CELLS, upside_down=True)) == log
    other = read(filled(tmp_path / "c.xlsx", {**CELLS, "mila-200": {EFFORT: 7}}))
    assert len({entry.id for entry in other.entries} - {entry.id for entry in log.entries}) == 1


def test_an_empty_workbook_is_an_empty_log(tmp_path: Path) -> None:
    assert read(filled(tmp_path / "a.xlsx", {})).entries == ()


def test_pounds_on_the_sheet_are_kilograms_in_the_log(tmp_path: Path) -> None:
    cells: Filled = {"mila-203": {"1": 3.5, "Load done lb": 82.7}, "mila-252": {"1": "8 x 176.4 lb"}}
    log = read(filled(tmp_path / "a.xlsx", cells, units=Units(mass="lb", length="yd")))
    # 82.7 lb and 176.4 lb, NIST SP 811 (memory): 0.45359237 kg each.
    assert sorted(entry.results[0].load_kg or 0 for entry in log.entries) == [37.51, 80.01]
    assert {entry.results[0].distance_m for entry in log.entries} == {10.0, None}


def test_a_moment_from_outside_stands_at_every_entry(tmp_path: Path) -> None:
    at = datetime(2026, 2, 1, 9, tzinfo=UTC)
    log = read(filled(tmp_path / "a.xlsx", CELLS), Writing(by="mila", at=at))
    assert {(entry.at, entry.by) for entry in log.entries} == {(at, "mila")}


@pytest.mark.parametrize(
    ("ref", "cells", "said"),
    [
        ("mila-203", {"1": 0}, None),
        ("mila-203", {"1": "fast"}, 'x for done, - for not done, or nothing, got "fast"'),
        ("mila-203", {"5": 3.5}, "5: expected nothing beyond box 4 of this line"),
        ("mila-252", {"1": 2.5}, "1: expected repetitions (5), repetitions x load (5 x 80)"),
        ("mila-252", {"1": "300"}, "1: expected repetitions (5)"),
        ("mila-200", {EFFORT: 11}, 'Effort 0–10: expected a number from 0 to 10, got "11"'),
        ("mila-200", {"Status": "skiped"}, "Status: expected one of done, modified"),
        ("mila-200", {"Done on": "19/01/2026"}, "Done on: expected a date, YYYY-MM-DD"),
        ("mila-202", {EFFORT: 5, "1": "x"}, "Effort 0–10: expected nothing in a line's row"),
        ("mila-202", {"1": "#DIV/0!"}, "1: expected a value, got #DIV/0! in"),
        ("mila-202", {"1": 3.4, NOTE: "#N/A"}, "Note: expected a value, got #N/A in"),
        ("mila-202", {NOTE: "sore"}, "Status: expected boxes filled in, or one of done"),
        ("mila-202", {"1": "x", "Status": "absent"}, "Status: expected done, modified or stopped"),
    ],
)  # fmt: skip
def test_every_faulty_cell_is_named_by_row_and_heading(
    tmp_path: Path, ref: str, cells: dict[str, object], said: str | None
) -> None:
    path = filled(tmp_path / "a.xlsx", {ref: cells})
    if said is None:
        assert read(path).entries[0].results == ()
        return
    (fault,) = faults(path)
    assert fault.startswith("line ")
    assert said in fault


def test_another_programme_or_an_own_workbook_is_refused(tmp_path: Path) -> None:
    path = filled(tmp_path / "a.xlsx", CELLS)
    other = small_programme({**document(), "id": "000000000000"})
    with pytest.raises(UnusableFileError, match='programme: expected "000000000000", got "4f1c2a90b7de"'):
        read_filled(path, other, writing=COACH)
    book = openpyxl.Workbook()
    book.save(tmp_path / "own.xlsx")
    with pytest.raises(UnusableFileError, match="give the workbook that `speedloom handout --xlsx` wrote"):
        read(tmp_path / "own.xlsx")


def test_a_line_that_is_not_in_the_programme_now_asks_for_the_one_it_came_from(tmp_path: Path) -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"].pop(0)
    with pytest.raises(UnusableFileError, match="needs the programme it came from"):
        read_filled(filled(tmp_path / "a.xlsx", CELLS), small_programme(content), writing=COACH)


def test_reading_twice_stores_once_and_a_correction_replaces(tmp_path: Path) -> None:
    first = read(filled(tmp_path / "a.xlsx", CELLS))
    assert appended(first, first, file="log") == first
    changed = filled(tmp_path / "b.xlsx", {**CELLS, "mila-200": {EFFORT: 7}})
    with pytest.raises(UnusableFileError, match="a correction needs a later --at"):
        appended(first, read(changed), file="log")
    later = Writing(by="assistant-1", at=datetime(2026, 2, 1, tzinfo=UTC))
    log = appended(first, read(changed, later), file="log")
    (new,) = log.entries[len(first.entries) :]
    (old,) = (entry for entry in first.entries if entry.line is None)
    assert (new.replaces, new.effort) == (old.id, 7.0)
    assert log.entries[: len(first.entries)] == first.entries


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"athlete": "milla"}, 'an athlete of the programme, got "milla"; did you mean "mila"?'),
        ({"session": "mila-9"}, 'entries.1.session: expected a session of mila, got "mila-9"'),
        ({"line": "mila-402", "session": "mila-200"}, "entries.1.line: expected a line of mila-200"),
        ({"exercise": "hop"}, "entries.1.exercise"),
        ({"revision": 3}, "entries.1.revision: expected a revision up to 1, got 3"),
        ({"replaces": "x"}, "entries.1.replaces: expected the id of an entry"),
        ({"session": None}, "entries.1.session: expected the session it is about"),
        ({"status": "extra"}, "entries.1.session: expected null for an extra"),
    ],
)  # fmt: skip
def test_a_log_that_its_programme_cannot_explain(tmp_path: Path, change: dict[str, Any], said: str) -> None:
    log = read(filled(tmp_path / "a.xlsx", {"mila-202": {"1": "x"}}))
    (entry,) = log.entries
    wrong = log.model_copy(update={"entries": (entry.model_copy(update=change),)})
    with pytest.raises(UnusableFileError) as error:
        check_log(wrong, small_programme(), file="log.json")
    assert said in str(error.value)
