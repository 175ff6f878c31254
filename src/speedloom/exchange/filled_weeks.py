"""Filled week sheets of a workbook read back as a log: an entry a row that somebody wrote in."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid5

from speedloom.exchange.cells import RowCells
from speedloom.exchange.error_cells import cell_name, error_fault, is_error
from speedloom.exchange.fault import Fault, UnusableFileError, shown
from speedloom.exchange.filled_boxes import Done, read_boxes
from speedloom.exchange.sheet_file import Sheet, read_sheets
from speedloom.exchange.table import Row
from speedloom.exchange.week_layout import (
    EFFORT,
    LAYOUT,
    LOAD_DONE,
    META_SHEET,
    MINUTES,
    PLANNED,
    REASONS,
    RESERVE,
    STATUSES,
)
from speedloom.exchange.zone import zone_of
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.wording.line_words import boxes
from speedloom.wording.units import KG_PER_LB
from speedloom.workflows.log_limits import LIMITS

_SPACE = UUID("6f1f9a3e-3a0c-5d0b-9d52-6b1c0a7f5f10")
"""The name space of ids made from sheets: the same cells give the same id, so reading twice stores once."""


@dataclass(frozen=True)
class Writing:
    """Who wrote the sheet, and when; without `at` an entry's moment is its session's start."""

    by: str
    at: datetime | None = None


@dataclass(frozen=True)
class Place:
    """What a ref stands for."""

    athlete: str
    session: Session
    line: Prescription | None


@dataclass(frozen=True)
class _Meta:
    """What the hidden sheet says."""

    revision: int
    per_unit: float


@dataclass(frozen=True)
class _Reader:
    """Reads rows of one workbook."""

    programme: Programme
    meta: _Meta
    writing: Writing
    places: Mapping[str, Place]


def read_filled(path: Path, programme: Programme, *, writing: Writing) -> Log:
    """Read what was filled in into the week sheets of a programme's workbook.

    Raises:
        UnusableFileError: no such workbook, another programme's, or every faulty cell with row and column.
    """
    sheets = read_sheets(path)
    reader = _Reader(programme, _meta(path, sheets, programme), writing, places_of(programme))
    faults: list[Fault] = []
    entries: dict[str, LogEntry] = {}
    seen: dict[str, int] = {}
    for sheet in sheets:
        faults += _failed(f"{path} [{sheet.name}]", sheet)
        for row in _filled_rows(sheet):
            cells = RowCells(f"{path} [{sheet.name}]", row, faults)
            ref = row.cells.get(PLANNED[0], "")
            if ref in seen:
                cells.fault(PLANNED[0], "each line once", f"it stands in line {seen[ref]} as well")
            seen[ref] = row.number
            entry = _entry(cells, row, reader, faults)
            if entry is not None:
                entries[entry.id] = entry
    if faults:
        raise UnusableFileError(faults)
    ordered = tuple(sorted(entries.values(), key=lambda one: one.order))
    return Log(schema="speedloom.log/1", programme=programme.id, timezone=programme.timezone, entries=ordered)


def _meta(path: Path, sheets: tuple[Sheet, ...], programme: Programme) -> _Meta:
    rows = next((sheet.rows for sheet in sheets if sheet.name == META_SHEET), ())
    facts = {cells[0]: cells[1] for _, cells in rows if len(cells) > 1}
    wanted = {"layout": (LAYOUT, "give the workbook that `speedloom handout --xlsx` wrote"),
              "programme": (programme.id, "name the programme it was written from")}  # fmt: skip
    wrong = [
        Fault(str(path), None, name, shown(facts.get(name)), shown(value), todo)
        for name, (value, todo) in wanted.items()
        if facts.get(name) != value
    ]
    if wrong:
        raise UnusableFileError(wrong[:1])
    revision = facts.get("revision", "")
    if not revision.isdecimal() or revision == "0":
        raise UnusableFileError(
            [Fault(str(path), None, "revision", shown(revision), "a revision's number", "")]
        )
    return _Meta(int(revision), KG_PER_LB if facts.get("mass") == "lb" else 1.0)


def places_of(programme: Programme) -> dict[str, Place]:
    """Give every session and line of a programme, by ref."""
    places: dict[str, Place] = {}
    for own in programme.programmes:
        for week in own.weeks:
            for session in week.sessions:
                places[session.ref] = Place(own.athlete, session, None)
                for line in session.prescriptions:
                    places[line.ref] = Place(own.athlete, session, line)
    return places


def _filled_rows(sheet: Sheet) -> Iterator[Row]:
    """Give the rows under a week's headings that somebody wrote in, their cells by heading."""
    heads: list[str] = []
    for number, cells in sheet.rows:
        if cells[: len(PLANNED)] == list(PLANNED):
            heads = cells
            continue
        named = {head: cell for head, cell in zip(heads, cells, strict=False) if head and cell}
        if any(head not in PLANNED for head in named):
            yield Row(number, named)


def _failed(file: str, sheet: Sheet) -> Iterator[Fault]:
    """Find the cells under a week's headings in which a formula failed."""
    heads: list[str] = []
    for number, cells in sheet.rows:
        if cells[: len(PLANNED)] == list(PLANNED):
            heads = cells
        for at, text in enumerate(cells[: len(heads)]):
            if is_error(text):
                yield error_fault(file, number, heads[at], cell=cell_name(number, at + 1), text=text)


def _entry(cells: RowCells, row: Row, reader: _Reader, faults: list[Fault]) -> LogEntry | None:
    before = len(faults)
    ref = row.cells.get(PLANNED[0], "")
    place = reader.places.get(ref)
    if place is None:
        todo = "rows are known by their hidden first column; an older sheet needs the programme it came from"
        cells.fault(PLANNED[0], f"a row of programme {reader.programme.id}", todo)
        return None
    day = cells.day("Done on") or place.session.date
    told = _line_words(cells, row, place.line, reader) if place.line else _session_words(cells)
    entry = {
        "id": _id(reader, row), "at": _moment(reader, day, place.session).isoformat(),
        "by": reader.writing.by,
        "revision": reader.meta.revision, "athlete": place.athlete, "session": place.session.ref,
        "line": place.line.ref if place.line else None, "date": day.isoformat(),
        "exercise": place.line.exercise if place.line else None, "replaces": None,
        "reason": cells.word("Reason", REASONS), "note": cells.text("Note") or "", **told,
    }  # fmt: skip
    return LogEntry.model_validate_json(json.dumps(entry)) if len(faults) == before else None


def _id(reader: _Reader, row: Row) -> str:
    """Make an id of the row's ref and what stands in it."""
    written = {head: cell for head, cell in row.cells.items() if head not in PLANNED[1:]}
    name = [reader.programme.id, reader.meta.revision, *sorted(written.items())]
    return str(uuid5(_SPACE, json.dumps(name, ensure_ascii=False)))


def _moment(reader: _Reader, day: date, session: Session) -> datetime:
    start = datetime.combine(day, session.start, tzinfo=zone_of(reader.programme))
    return reader.writing.at or start


def _session_words(cells: RowCells) -> dict[str, Any]:
    """Read what was said of the whole session."""
    return {
        "status": cells.word("Status", STATUSES) or "done",
        **_NO_CLOCK,
        "results": [],
        "effort": cells.number(EFFORT, low=0, high=10),
        "minutes": cells.number(MINUTES, low=0, high=LIMITS["minutes"].high, unit="min"),
    }


_NO_CLOCK: Mapping[str, None] = {"timing": None, "clock": None, "behind_m": None, "surface": None}


def _line_words(cells: RowCells, row: Row, line: Prescription, reader: _Reader) -> dict[str, Any]:
    """Read what was said of one line."""
    load_head = next((head for head in row.cells if head.startswith(LOAD_DONE)), LOAD_DONE)
    load = cells.number(load_head, low=0, high=LIMITS["load_kg"].high / reader.meta.per_unit, unit=" ")
    load_kg = None if load is None else round(load * reader.meta.per_unit, 2)
    headings = {int(head): head for head in row.cells if head.isdecimal()}
    done = read_boxes(cells, line, headings, load_kg=load_kg, per_unit=reader.meta.per_unit)
    results = [dict(result) for result in done.results]
    reserve = cells.whole(RESERVE, low=0, high=int(LIMITS["rir"].high))
    if reserve is not None and results:
        results[-1]["rir"] = reserve
    for column in (EFFORT, MINUTES):
        if cells.has(column):
            cells.fault(column, "nothing in a line's row", "write it in the session's row above")
    clock = clock_of(line) if done.timed else _NO_CLOCK
    return {
        "status": _status(cells, line, done), **clock, "surface": line.surface, "results": results,
        "effort": None, "minutes": None,
    }  # fmt: skip


def _status(cells: RowCells, line: Prescription, done: Done) -> str:
    from_boxes = "done" if len(done.results) == boxes(line)[0] else "modified"
    said: str | None = cells.word("Status", STATUSES)
    if said in {"skipped", "absent"} and done.results:
        cells.fault("Status", "done, modified or stopped where boxes are filled in", "correct one of them")
    if not cells.has("Status") and not done.filled:
        cells.fault("Status", f"boxes filled in, or one of {', '.join(STATUSES)}", "")
    return said or from_boxes


def clock_of(line: Prescription) -> dict[str, Any]:
    """Say how the times were taken: as those the expected time is made for."""
    if line.expect is None:
        return dict(_NO_CLOCK)
    timing, _, clock = line.expect.clock.partition("/")
    kind, _, behind = clock.partition("/")
    # A zone after a run-in is timed between two beams: no start of a clock belongs to it.
    started = None if kind in {"", "flying"} else kind
    return {"timing": timing or None, "clock": started, "behind_m": float(behind) if behind else None}
