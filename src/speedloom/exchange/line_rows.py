"""Rows of a table of lines turned into sessions and lines; every fault is kept, with row and column."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from pydantic import BaseModel, ValidationError

from speedloom.exchange.cells import RowCells, as_number
from speedloom.exchange.fault import Fault, did_you_mean
from speedloom.exchange.line_columns import LINE_COLUMNS, LineColumn, Owner
from speedloom.exchange.model_faults import faults_of
from speedloom.exchange.table import Row, Table
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Expect, Prescription, Session, StopRule, Week
from speedloom.training.words import COACH_METHODS

NEEDED = ("athlete", "date", "session.start", "place", "exercise", "sets", "reps", "minutes")
"""What a programme made by hand has to say of every line."""
_OF_LINE = {"exercise", "sets", "reps", "minutes"}
_MODELS: Mapping[Owner, type[BaseModel]] = {
    "week": Week,
    "session": Session,
    "line": Prescription,
    "expect": Expect,
    "stop_rule": StopRule,
}
_FLAGS = {"true": True, "yes": True, "1": True, "false": False, "no": False, "0": False}


@dataclass(frozen=True)
class LineRow:
    """One row: whose it is, its week and session as they stand there, and the line where it holds one."""

    number: int
    athlete: str
    day: date
    week: Mapping[str, Any]
    session: Mapping[str, Any]
    line: Prescription | None


@cache
def known_headers() -> Mapping[str, LineColumn]:
    """Give every header a table may have: the names of the data, and the same in pounds and yards."""
    every = {column.name: column for column in LINE_COLUMNS}
    return {**{column.foreign: column for column in LINE_COLUMNS if column.foreign}, **every}


def header_faults(table: Table) -> Iterator[Fault]:
    """Find headers that are not known, stand twice, or are missing."""
    known = known_headers()
    of_column = [known[name].name for name in table.columns if name in known]
    for name in dict.fromkeys(table.columns):
        if name not in known:
            todo = did_you_mean(name, known, otherwise="leave the column out")
            yield Fault(table.file, table.header_row, name, f'"{name}"', "a known column", todo)
        elif of_column.count(known[name].name) > 1:
            todo = "leave one of them out"
            yield Fault(table.file, table.header_row, name, "it twice", "each column once", todo)
    for name in NEEDED:
        if name not in of_column:
            todo = "add it to the header"
            yield Fault(table.file, table.header_row, name, "none", f'a column "{name}"', todo)


def read_line_row(
    row: Row, *, file: str, catalogue: Catalogue, extra: frozenset[str], faults: list[Fault]
) -> LineRow | None:
    """Read a row; what is wrong with it is added to the faults, and None given."""
    before = len(faults)
    cells = RowCells(file, row, faults)
    parts: dict[str, dict[str, Any]] = {owner: {} for owner in ("athlete", *_MODELS)}
    has_line = any(name in row.cells for name, column in known_headers().items() if _is_of_line(column))
    for name in NEEDED:
        if has_line or name not in _OF_LINE:
            _needed(cells, row, name)
    for name, column in known_headers().items():
        if name in row.cells:
            parts[column.owner][column.field] = _value(cells, name, column)
    day = cells.day("date")
    line = None
    if has_line:
        _complete(cells, parts["line"], catalogue=catalogue, extra=extra)
        content = {
            **parts["line"],
            **{owner: parts[owner] for owner in ("expect", "stop_rule") if parts[owner]},
        }
        line = _line(content, file=file, row=row, faults=faults)
    athlete = cells.ref("athlete")
    if len(faults) > before or athlete is None or day is None:
        return None
    return LineRow(row.number, athlete, day, parts["week"], parts["session"], line)


def _is_of_line(column: LineColumn) -> bool:
    return column.owner in {"line", "expect", "stop_rule"}


def _needed(cells: RowCells, row: Row, name: str) -> None:
    foreign = next(
        (one for one, column in known_headers().items() if column.name == name and one in row.cells), None
    )
    if foreign is None:
        cells.fault(name, "a value", "fill it in")


def _value(cells: RowCells, name: str, column: LineColumn) -> Any:  # noqa: ANN401 — whatever the field holds
    text = cells.text(name) or ""
    kind = _kind(column)
    if kind in {"number", "integer"}:
        return _number(cells, name, column, whole=kind == "integer")
    if kind == "boolean":
        if text.lower() not in _FLAGS:
            cells.fault(name, "true or false", "write one of them")
        return _FLAGS.get(text.lower())
    if kind == "array":
        return re.split(r"[\s,;]+", text)
    if kind == "time":
        return f"0{text}" if re.match(r"\d:", text) else text
    return re.sub(r"[\s-]+", "_", text.lower()) if kind == "word" else text


def _number(cells: RowCells, name: str, column: LineColumn, *, whole: bool) -> float | int | None:
    value = as_number((cells.text(name) or "").replace("−", "-"))
    if value is None:
        cells.fault(name, "a number", "write the number alone, or leave the cell empty")
    elif whole and value != int(value):
        cells.fault(name, "a whole number", "")
    elif name == column.foreign:
        return round(value * column.per_foreign, 2)
    return value if value is None or not whole else int(value)


@cache
def _kind(column: LineColumn) -> str:
    """Say what a column holds, from the field's JSON Schema."""
    if column.owner == "athlete":
        return "string"
    field = _MODELS[column.owner].model_json_schema()["properties"][column.field]
    shapes = [shape for shape in field.get("anyOf", [field]) if shape.get("type") != "null"]
    shape = shapes[0]
    return "word" if "enum" in shape else str(shape.get("format") or shape.get("type"))


def _complete(cells: RowCells, line: dict[str, Any], *, catalogue: Catalogue, extra: frozenset[str]) -> None:
    """Fill in what the catalogue knows of an exercise, and what every line has."""
    line.setdefault("purpose", "work")
    exercise = str(line.get("exercise", ""))
    known = catalogue.get(exercise)
    if known is not None:
        line.setdefault("method", known.method)
    own = line["purpose"] != "work" or exercise in extra or line.get("method") in COACH_METHODS
    if exercise and known is None and not own:
        near = did_you_mean(
            exercise, [one.ref for one in catalogue.exercises], otherwise="see docs/reference"
        )
        todo = f"{near}; an exercise of your own has method other"
        cells.fault("exercise", "an exercise of the catalogue", todo)
    line.setdefault("method", "technique")
    # Only a place holder where the table has no refs: they are given when the programme is put together.
    line.setdefault("ref", "-")


def _line(content: Mapping[str, Any], *, file: str, row: Row, faults: list[Fault]) -> Prescription | None:
    told = {fault.column for fault in faults if fault.row == row.number}
    try:
        return Prescription.model_validate_json(json.dumps(content))
    except ValidationError as error:
        found = faults_of(error, model=Prescription, file=file, row_of=lambda _: row.number)
        faults.extend(fault for fault in found if fault.column not in told)
        return None
