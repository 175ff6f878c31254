"""The sessions of a table of lines: rows put together, refs given out, contradictions named."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from speedloom.exchange.fault import Fault, UnusableFileError, shown
from speedloom.exchange.line_columns import LINE_COLUMNS
from speedloom.exchange.line_rows import NEEDED, LineRow, header_faults, read_line_row
from speedloom.exchange.model_faults import faults_of
from speedloom.exchange.table import Table
from speedloom.exchange.table_file import read_table
from speedloom.exchange.week_layout import LINES_SHEET
from speedloom.training.calendar import monday_of
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Session

A_WEEK = timedelta(days=7)
_NO_REF = "-"


@dataclass(frozen=True)
class LineTable:
    """A sound table of lines."""

    file: str
    rows: tuple[LineRow, ...]

    @property
    def athletes(self) -> tuple[str, ...]:
        """The athletes, by ref."""
        return tuple(sorted({row.athlete for row in self.rows}))

    def of(self, athlete: str) -> tuple[LineRow, ...]:
        """Give one athlete's rows."""
        return tuple(row for row in self.rows if row.athlete == athlete)


def read_line_table(path: Path, *, catalogue: Catalogue, extra: frozenset[str]) -> LineTable:
    """Read a table of lines; `extra` are exercises that may stand there beside the catalogue's.

    Raises:
        UnusableFileError: every fault, each with row and column.
    """
    table = read_table(path, needed=NEEDED, named=LINES_SHEET)
    faults = [*table.faults, *header_faults(table)]
    if faults:
        # Without a sound header every row would be at fault.
        raise UnusableFileError(faults)
    found = [
        read_line_row(row, file=table.file, catalogue=catalogue, extra=extra, faults=faults)
        for row in table.rows
    ]
    if not table.rows:
        faults.append(Fault(table.file, table.header_row, "", "a header only", "one row a line", "add lines"))
    rows = [row for row in found if row is not None]
    faults += [] if faults else _differing(table, rows)
    if faults:
        raise UnusableFileError(faults)
    return LineTable(table.file, tuple(rows))


def _differing(table: Table, rows: Sequence[LineRow]) -> Iterator[Fault]:
    """Find rows of one session that say different things about it, and refs that stand twice."""
    first: dict[object, LineRow] = {}
    seen: set[str] = set()
    for row in rows:
        before = first.setdefault(_session_key(row), row)
        for field in row.session.keys() & before.session.keys():
            if row.session[field] != before.session[field] or row.athlete != before.athlete:
                expected = f"{shown(before.session[field])}, as in line {before.number} of the same session"
                todo = "make them equal, or give the sessions different refs"
                yield Fault(
                    table.file,
                    row.number,
                    _header("session", field),
                    shown(row.session[field]),
                    expected,
                    todo,
                )
        ref = row.line.ref if row.line else _NO_REF
        if ref in seen:
            yield Fault(table.file, row.number, "ref", shown(ref), "each ref once", "leave the cell empty")
        seen |= {ref} - {_NO_REF}
    yield from _week_numbers(table, rows)


def _week_numbers(table: Table, rows: Sequence[LineRow]) -> Iterator[Fault]:
    numbered = [row for row in rows if "number" in row.week]
    for row in numbered:
        wanted = numbered[0].week["number"] + weeks_between(numbered[0].day, row.day)
        if row.week["number"] != wanted:
            expected = f"{wanted} for {row.day}, counted from line {numbered[0].number}"
            todo = "weeks run from Monday; correct the week or the date, or leave the column out"
            yield Fault(table.file, row.number, "week", shown(row.week["number"]), expected, todo)


def weeks_between(first: date, last: date) -> int:
    """Count the weeks from one date's to another's."""
    return (monday_of(last) - monday_of(first)) // A_WEEK


def _header(owner: str, field: str) -> str:
    return next(column.name for column in LINE_COLUMNS if (column.owner, column.field) == (owner, field))


def _session_key(row: LineRow) -> tuple[object, ...]:
    ref = row.session.get("ref")
    return (ref,) if ref else (row.athlete, row.day, row.session.get("start"), row.session.get("place"))


class Refs:
    """Gives out refs of one athlete that nothing else has."""

    def __init__(self, athlete: str, taken: Iterable[str], *, first: int = 1) -> None:
        """Start after the highest number that is taken."""
        numbers = (int(ref.rpartition(_NO_REF)[2]) for ref in taken if ref.rpartition(_NO_REF)[2].isdecimal())
        self._athlete, self.next = athlete, max((*(number + 1 for number in numbers), first))

    def new(self) -> str:
        """Give out the next ref."""
        self.next += 1
        return f"{self._athlete}-{self.next - 1}"


@dataclass(frozen=True)
class Told:
    """A session with what its first row says about the week."""

    session: Session
    week: Mapping[str, Any]


def told_sessions(table: LineTable, athlete: str, refs: Refs) -> list[Told]:
    """Put an athlete's rows together into sessions, in the order of the table.

    Raises:
        UnusableFileError: what is said of a session cannot be.
    """
    groups: dict[object, list[LineRow]] = {}
    for row in table.of(athlete):
        groups.setdefault(_session_key(row), []).append(row)
    faults: list[Fault] = []
    found = [_session(table, group, refs, faults) for group in groups.values()]
    if faults:
        raise UnusableFileError(faults)
    return [
        Told(session, group[0].week) for session, group in zip(found, groups.values(), strict=True) if session
    ]


def _session(table: LineTable, group: Sequence[LineRow], refs: Refs, faults: list[Fault]) -> Session | None:
    told: dict[str, Any] = {"role": "neutral", "slot": None}
    for row in reversed(group):
        told.update(row.session)
    told["ref"] = told.get("ref") or refs.new()
    lines = [row.line for row in group if row.line]
    told.setdefault("minutes", sum(line.minutes for line in lines))
    told.setdefault("minutes_available", told["minutes"])
    try:
        session = Session.model_validate_json(json.dumps({**told, "prescriptions": []}))
    except ValidationError as error:
        found = faults_of(error, model=Session, file=table.file, row_of=lambda _: group[0].number)
        faults.extend(
            Fault(one.file, one.row, _header("session", one.column), one.what_came, one.expected, one.todo)
            for one in found
        )
        return None
    named = tuple(
        line.model_copy(update={"ref": refs.new()}) if line.ref == _NO_REF else line for line in lines
    )
    return session.model_copy(update={"prescriptions": named})


def refs_in(rows: Iterable[LineRow]) -> Iterator[str]:
    """Give the refs that stand in rows."""
    for row in rows:
        yield str(row.session.get("ref", ""))
        yield row.line.ref if row.line else ""
