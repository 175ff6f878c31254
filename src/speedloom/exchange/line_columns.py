"""The columns of a table of lines: one row a line, the programme's own names as headers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time
from typing import Literal

from pydantic import BaseModel

from speedloom.training.programme import Expect, Prescription, Programme, Session, StopRule, Week
from speedloom.wording.units import KG_PER_LB, M_PER_YD, METRIC, Units

Value = str | float | int | bool | date | None
Owner = Literal["athlete", "week", "session", "line", "expect", "stop_rule"]
_PER_FOREIGN = {"kg": ("lb", KG_PER_LB), "m": ("yd", M_PER_YD)}
_FOREIGN_DECIMALS = 2
"""Enough to give back the hundredth of a kilogram or metre in which documents are stored."""


@dataclass(frozen=True)
class LineColumn:
    """One column: its header, whose field it is, and the other unit it may be written in."""

    name: str
    owner: Owner
    field: str
    foreign: str = ""
    per_foreign: float = 1.0

    def header(self, units: Units) -> str:
        """Give the header in the units a coach reads."""
        return self.foreign if self._converts(units) else self.name

    def shown(self, value: Value, units: Units) -> Value:
        """Give a value in the units a coach reads."""
        if isinstance(value, int | float) and self._converts(units):
            return round(value / self.per_foreign, _FOREIGN_DECIMALS)
        return value

    def _converts(self, units: Units) -> bool:
        return self.foreign.endswith((f"_{units.mass}", f"_{units.length}"))


def _column(owner: Owner, field: str, *, name: str = "") -> LineColumn:
    # Heights of boxes are written in centimetres everywhere: nobody measures one in yards.
    unit = "" if field == "height_m" else field.rpartition("_")[2]
    foreign, each = _PER_FOREIGN.get(unit, ("", 1.0)) if owner == "line" else ("", 1.0)
    other = f"{field.removesuffix(unit)}{foreign}" if foreign else ""
    return LineColumn(name or field, owner, field, other, each)


def _fields(model: type[BaseModel], *, without: set[str]) -> tuple[str, ...]:
    return tuple(field for field in model.model_fields if field not in without)


_LINE_FIRST = ("ref", "purpose", "method", "run", "exercise")
_LINE = _fields(Prescription, without={*_LINE_FIRST, "basis", "expect", "stop_rule", "locked"})
LINE_COLUMNS: tuple[LineColumn, ...] = (
    _column("athlete", "athlete"),
    _column("week", "number", name="week"),
    *(_column("week", field, name=f"week.{field}") for field in ("kind", "mesocycle", "specificity")),
    _column("session", "date"),
    _column("session", "start", name="session.start"),
    *(_column("session", field) for field in ("place", "slot", "role")),
    _column("session", "minutes", name="session.minutes"),
    _column("session", "minutes_available"),
    _column("session", "locked", name="session.locked"),
    _column("session", "ref", name="session.ref"),
    *(_column("line", field) for field in (*_LINE_FIRST, *_LINE)),
    *(_column("expect", field, name=f"expect.{field}") for field in Expect.model_fields),
    *(_column("stop_rule", field, name=f"stop_rule.{field}") for field in StopRule.model_fields),
    _column("line", "locked"),
)
"""Fields that sessions and lines both have are the line's; the session's are written `session.…`."""


def headers(units: Units = METRIC) -> tuple[str, ...]:
    """List the headers in the units a coach reads."""
    return tuple(column.header(units) for column in LINE_COLUMNS)


def line_rows(
    programme: Programme, *, athlete: str | None = None, week: int | None = None, units: Units = METRIC
) -> Iterator[tuple[Value, ...]]:
    """Give every line as a row of `headers`; a session without lines has one row."""
    for own in programme.programmes:
        for one in own.weeks if athlete in (None, own.athlete) else ():
            for session in one.sessions if week in (None, one.number) else ():
                for line in session.prescriptions or (None,):
                    yield _row(own.athlete, one, session, line, units=units)


def _row(
    athlete: str, week: Week, session: Session, line: Prescription | None, *, units: Units
) -> tuple[Value, ...]:
    parts: dict[Owner, BaseModel | None] = {
        "week": week,
        "session": session,
        "line": line,
        "expect": line.expect if line else None,
        "stop_rule": line.stop_rule if line else None,
    }
    fields = (
        athlete if column.owner == "athlete" else _plain(getattr(parts[column.owner], column.field, None))
        for column in LINE_COLUMNS
    )
    return tuple(column.shown(value, units) for column, value in zip(LINE_COLUMNS, fields, strict=True))


def _plain(value: object) -> Value:
    """Give a field as a spreadsheet holds it."""
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, tuple):
        return " ".join(map(str, value))
    if value == "" or value is None:
        return None
    return value if isinstance(value, str | int | float | date) else str(value)
