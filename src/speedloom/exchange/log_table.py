"""A table of results (CSV) read as a log: rows of one entry share its id, or what they are about."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, get_args
from uuid import UUID, uuid5

from speedloom.exchange.cells import RowCells
from speedloom.exchange.fault import Fault, UnusableFileError, did_you_mean, shown
from speedloom.exchange.filled_weeks import Place, Writing, clock_of, places_of
from speedloom.exchange.log_csv import ENTRY_COLUMNS, LOG_COLUMNS, RESULT_COLUMNS, WHOLE_COLUMNS, as_typed
from speedloom.exchange.table import Row, Table
from speedloom.exchange.table_file import read_table
from speedloom.exchange.week_layout import REASONS, STATUSES
from speedloom.exchange.zone import zone_of
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Programme
from speedloom.training.words import Clock, Timing
from speedloom.wording.line_words import TIMES, boxes
from speedloom.workflows.log_limits import LIMITS

_SPACE = UUID("b5b4f8a2-6c0d-5e0e-8b55-0a6e6a2f7d31")
"""The name space of ids made from rows: the same rows give the same id, so reading twice stores once."""
_OF_THE_ENTRY = (*ENTRY_COLUMNS, *WHOLE_COLUMNS)
_MEASURED = ("load_kg", "distance_m", "time_s", "reps", "rir", "contacts")
_WHOLE_NUMBERS = frozenset({"reps", "rir", "contacts"})
_MOST = 1_000_000
_ID = re.compile(r"[0-9a-fA-F-]{36}")


@dataclass(frozen=True)
class _Reader:
    """Reads the rows of one table."""

    table: Table
    programme: Programme
    writing: Writing
    places: dict[str, Place]
    faults: list[Fault]


def read_log_csv(path: Path, programme: Programme, *, writing: Writing) -> tuple[Log, frozenset[str]]:
    """Read a table of results, and the ids that stood in it.

    A row without an id takes what it leaves open from the line or session it names.

    Raises:
        UnusableFileError: every fault of header and cells, each with row and column.
    """
    table = read_table(path, needed=("athlete",))
    reader = _Reader(table, programme, writing, places_of(programme), [*table.faults, *_header_faults(table)])
    if reader.faults:
        raise UnusableFileError(reader.faults)
    groups: dict[tuple[str, ...], list[Row]] = {}
    for row in table.rows:
        groups.setdefault(_about(row), []).append(row)
    read = [_entry(rows, reader) for rows in groups.values()]
    if reader.faults:
        raise UnusableFileError(reader.faults)
    entries = tuple(entry for entry in read if entry is not None)
    log = Log(schema="speedloom.log/1", programme=programme.id, timezone=programme.timezone, entries=entries)
    return log, frozenset(row.cells["id"] for row in table.rows if "id" in row.cells)


def _header_faults(table: Table) -> Iterator[Fault]:
    def of_header(column: str, came: str, expected: str, todo: str) -> Fault:
        return Fault(table.file, table.header_row, column, came, expected, todo)

    for column, times in Counter(table.columns).items():
        if times > 1:
            yield of_header(column, f"{shown(column)} {times} times", "each column once", "leave one out")
        if column not in LOG_COLUMNS:
            todo = did_you_mean(column, LOG_COLUMNS, otherwise="leave the column out")
            yield of_header(column, shown(column), "a column of a log", todo)
    if not {"id", "line", "session", "athlete"} & set(table.columns):
        yield of_header("", "none", "a column line, session or athlete", "say what each row is about")


def _about(row: Row) -> tuple[str, ...]:
    if "id" in row.cells:
        return ("id", row.cells["id"])
    return tuple(
        row.cells.get(column, "") for column in ("athlete", "session", "line", "date", "exercise", "at")
    )


def _entry(rows: list[Row], reader: _Reader) -> LogEntry | None:
    before = len(reader.faults)
    first = RowCells(reader.table.file, rows[0], reader.faults)
    _same_in_every_row(rows, reader)
    cells = rows[0].cells
    named = None if "id" in cells else reader.places.get(cells.get("line", cells.get("session", "")))
    content = _own(first, cells, reader) | _whole(first)
    content["results"] = [_result(row, at, named, reader) for at, row in enumerate(rows) if _has_result(row)]
    if named is not None:
        content = _filled_up(content, named)
    _needed(first, content, reader)
    if len(reader.faults) > before:
        return None
    content["at"] = content["at"] or _start(content, reader)
    if not content["id"]:
        written = [sorted(row.cells.items()) for row in rows]
        content["id"] = str(uuid5(_SPACE, json.dumps([reader.programme.id, written], ensure_ascii=False)))
    return LogEntry.model_validate_json(json.dumps(content))


def _same_in_every_row(rows: list[Row], reader: _Reader) -> None:
    for row in rows[1:]:
        for column in _OF_THE_ENTRY:
            if row.cells.get(column, "") not in ("", rows[0].cells.get(column, "")):
                cells = RowCells(reader.table.file, row, reader.faults)
                cells.fault(column, f"the same as in line {rows[0].number}", "rows of one entry share it")


def _own(cells: RowCells, typed: dict[str, str], reader: _Reader) -> dict[str, Any]:
    """Read what an entry says of itself."""
    if typed.get("programme", reader.programme.id) != reader.programme.id:
        cells.fault("programme", shown(reader.programme.id), "name the programme that the log is about")
    if "id" in typed and not _ID.fullmatch(typed["id"]):
        cells.fault("id", "an id of 36 signs", "leave it empty to have one made")
    return {
        "id": typed.get("id"), "at": _moment(cells, typed.get("at"), reader),
        "by": as_typed(typed.get("by", reader.writing.by)),
        "revision": cells.whole("revision", low=1, high=_MOST) or reader.programme.revision.number,
        "athlete": cells.ref("athlete"), "session": cells.ref("session"), "line": cells.ref("line"),
        "date": str(cells.day("date") or "") or None, "exercise": cells.ref("exercise"),
        "replaces": typed.get("replaces"), "status": cells.word("status", (*STATUSES, "extra")),
        "reason": cells.word("reason", REASONS), "timing": cells.word("timing", get_args(Timing)),
        "clock": cells.word("clock", get_args(Clock)),
        "behind_m": cells.number("behind_m", low=0, high=_MOST),
        "surface": as_typed(typed["surface"]) if "surface" in typed else None,
    }  # fmt: skip


def _whole(cells: RowCells) -> dict[str, Any]:
    return {
        **{name: _limited(cells, name) for name in ("effort", "minutes")},
        "note": as_typed(cells.text("note") or ""),
        "mark": cells.word("entry.mark", ("unusual",)),
    }


def _moment(cells: RowCells, text: str | None, reader: _Reader) -> str | None:
    if text is None:
        return reader.writing.at.isoformat() if reader.writing.at else None
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        cells.fault("at", "an instant with offset, such as 2026-01-12T20:00:00+01:00", "or leave it empty")
    return text


def _has_result(row: Row) -> bool:
    return any(column in row.cells for column in RESULT_COLUMNS)


def _limited(cells: RowCells, name: str) -> float | None:
    limit = LIMITS[name]
    if name in _WHOLE_NUMBERS:
        return cells.whole(name, low=int(limit.low), high=int(limit.high))
    return cells.number(name, low=limit.low, high=limit.high, unit=limit.unit or " ")


def _result(row: Row, at: int, named: Place | None, reader: _Reader) -> dict[str, Any]:
    cells = RowCells(reader.table.file, row, reader.faults)
    line = named.line if named else None
    each = line.reps if line is not None and boxes(line)[1] == TIMES else 1
    counted = (at // each + 1, at % each + 1 if each > 1 else None) if "id" not in row.cells else (None, None)
    result: dict[str, Any] = {
        "set": cells.whole("set", low=1, high=_MOST) or counted[0],
        "rep": cells.whole("rep", low=1, high=_MOST) or counted[1],
        **{name: _limited(cells, name) for name in _MEASURED},
        "mark": cells.word("mark", ("unusual",)),
    }
    if result["set"] is None:
        cells.fault("set", "the number of the set", "every row with a result has one")
    if line is not None:
        result["load_kg"] = line.load_kg if result["load_kg"] is None else result["load_kg"]
        result["distance_m"] = line.distance_m if result["distance_m"] is None else result["distance_m"]
    return result


def _filled_up(content: dict[str, Any], named: Place) -> dict[str, Any]:
    """Take from the programme what rows without an id leave open."""
    line = named.line
    timed = any(result["time_s"] is not None for result in content["results"])
    known = {
        "athlete": named.athlete, "session": named.session.ref, "date": str(named.session.date),
        "exercise": line.exercise if line else None, "surface": line.surface if line else None,
        "status": "done" if content["results"] or content["effort"] is not None else None,
        **(clock_of(line) if line is not None and timed and content["timing"] is None else {}),
    }  # fmt: skip
    return content | {name: value for name, value in known.items() if content[name] is None}


def _needed(cells: RowCells, content: dict[str, Any], reader: _Reader) -> None:
    for column, expected in (
        ("athlete", "the athlete's ref"),
        ("date", "a date"),
        ("status", "what came of it"),
    ):
        if content[column] is None and not cells.has(column):
            cells.fault(column, expected, "fill it in, or name the line or session")
    if content["at"] is None and content["session"] not in reader.places:
        cells.fault("at", "the moment it was written down", "fill it in, or give --at")


def _start(content: dict[str, Any], reader: _Reader) -> str:
    session = reader.places[content["session"]].session
    day = datetime.fromisoformat(content["date"]).date()
    return datetime.combine(day, session.start, tzinfo=zone_of(reader.programme)).isoformat()
