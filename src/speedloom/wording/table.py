"""The progression table: a row for each day and exercise, a column for each week, as plain data."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week
from speedloom.training.words import COACH_METHODS, WEEKDAYS
from speedloom.wording.cells import Cell, cell, quality
from speedloom.wording.dates import clock, runs
from speedloom.wording.names import ROLE_NAMES, WEEK_NAMES, athlete_name, line_name, place_name
from speedloom.wording.units import METRIC, Units

Shade = Literal["", "striped", "plain"]
SHADES: Mapping[str, Shade] = {"introduction": "striped", "deload": "striped", "taper": "plain"}
ORDER = (
    "acceleration",
    "top_speed",
    "submaximal",
    "sled",
    "plyo_horizontal",
    "plyo_vertical",
    "jump_squat",
    "throw",
    "clean",
    "main_lift",
    "knee_one_leg",
    "hip_one_leg",
    "pull",
    "push",
    "trunk",
    "nordic",
    "hinge",
    "groin",
    "calf",
)
"""The order of rows: the order of a session."""


@dataclass(frozen=True)
class Column:
    """A week: its number, Monday, kind, mesocycle, and how it is shaded."""

    week: int
    monday: date
    kind: str
    note: str
    mesocycle: int | None
    shade: Shade


@dataclass(frozen=True)
class Square:
    """One line in one week; `changed` when it is other work than in the week before."""

    cell: Cell
    changed: bool
    ref: str
    exercise: str


@dataclass(frozen=True)
class Row:
    """An exercise, or some that follow each other, through the weeks; None where a week has none."""

    label: str
    method: str
    squares: tuple[Square | None, ...]


@dataclass(frozen=True)
class Day:
    """The rows of one training day of the week."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Table:
    """One athlete's progression."""

    athlete: str
    title: str
    columns: tuple[Column, ...]
    days: tuple[Day, ...]


@dataclass(frozen=True)
class _Key:
    """A row's address: the day, and what the line is for."""

    rank: int
    slot: str
    occurrence: int


@dataclass(frozen=True)
class _DayKey:
    """A day's address: weekday, field or gym, and which of several alike."""

    weekday: int
    kind: str
    occurrence: int


def progression_table(
    programme: Programme, athlete: str, *, catalogue: Catalogue, units: Units = METRIC
) -> Table:
    """Lay out one athlete's weeks as the sheet every coach reads.

    Raises:
        KeyError: when the programme has no such athlete.
    """
    own = _of(programme, athlete)
    kinds = _place_kinds(programme)
    sessions: dict[_DayKey, dict[int, Session]] = defaultdict(dict)
    for week in own.weeks:
        for key, session in _keyed(week, kinds=kinds):
            sessions[key][week.number] = session
    days = tuple(
        Day(title=_day_title(key, sessions[key]), rows=rows)
        for key in sorted(sessions, key=lambda key: (key.weekday, key.occurrence, key.kind))
        if (rows := _rows(sessions[key], weeks=own.weeks, catalogue=catalogue, units=units))
    )
    columns = tuple(_column(week) for week in own.weeks)
    return Table(athlete=athlete, title=athlete_name(programme, athlete), columns=columns, days=days)


def _of(programme: Programme, athlete: str) -> AthleteProgramme:
    for own in programme.programmes:
        if own.athlete == athlete:
            return own
    raise KeyError(athlete)


def _column(week: Week) -> Column:
    return Column(
        week=week.number,
        monday=week.monday,
        kind=week.kind,
        note=WEEK_NAMES[week.kind],
        mesocycle=week.mesocycle,
        shade=SHADES.get(week.kind, ""),
    )


def _place_kinds(programme: Programme) -> Mapping[str, str]:
    content = programme.brief.content
    return {place.ref: place.kind for place in content.places} if content else {}


def _keyed(week: Week, *, kinds: Mapping[str, str]) -> Iterator[tuple[_DayKey, Session]]:
    seen: dict[tuple[int, str], int] = defaultdict(int)
    for session in sorted(week.sessions, key=lambda session: (session.date, session.start)):
        kind = "gym" if kinds.get(session.place, session.place) == "gym" else "field"
        weekday = session.date.weekday()
        yield _DayKey(weekday, kind, seen[weekday, kind]), session
        seen[weekday, kind] += 1


def _day_title(key: _DayKey, sessions: Mapping[int, Session]) -> str:
    roles = dict.fromkeys(
        ROLE_NAMES[session.role].removesuffix(" day") for _, session in sorted(sessions.items())
    )
    parts = (
        WEEKDAYS[key.weekday][:3].capitalize(),
        key.kind,
        " or ".join(filter(None, roles)),
        _since((week, place_name(session.place)) for week, session in sorted(sessions.items())),
        _since((week, clock(session.start)) for week, session in sorted(sessions.items())),
    )
    return " · ".join(filter(None, dict.fromkeys(parts)))


def _since(values: Iterable[tuple[int, str]]) -> str:
    """Name the values in order, each but the first with the weeks it holds in.

    >>> _since([(1, "hall"), (2, "hall"), (3, "turf")])
    'hall, turf in week 3'
    """
    weeks: dict[str, list[int]] = defaultdict(list)
    for week, value in values:
        weeks[value].append(week)
    first, *others = weeks
    later = (f"{value} in week{'s' * (len(weeks[value]) > 1)} {runs(weeks[value])}" for value in others)
    return ", ".join((first, *later))


def _rows(
    sessions: Mapping[int, Session], *, weeks: Sequence[Week], catalogue: Catalogue, units: Units
) -> tuple[Row, ...]:
    lines: dict[_Key, dict[int, Prescription]] = defaultdict(dict)
    for number, session in sessions.items():
        for key, line in _keyed_lines(session, catalogue=catalogue):
            lines[key][number] = line
    numbers = [week.number for week in weeks]
    return tuple(
        _row(lines[key], numbers=numbers, catalogue=catalogue, units=units)
        for key in sorted(lines, key=lambda key: (key.rank, key.slot, key.occurrence))
    )


def _keyed_lines(session: Session, *, catalogue: Catalogue) -> Iterator[tuple[_Key, Prescription]]:
    seen: dict[str, int] = defaultdict(int)
    planned_before = False
    for line in session.prescriptions:
        if line.purpose != "work":
            continue
        own = line.method in COACH_METHODS
        slot = line.exercise if own else _slot(line, catalogue=catalogue)
        yield _Key(_rank(slot, last=planned_before), slot, seen[slot]), line
        seen[slot] += 1
        planned_before = planned_before or not own


def _slot(line: Prescription, *, catalogue: Catalogue) -> str:
    exercise = catalogue.get(line.exercise)
    slot = exercise.slot if exercise else line.exercise
    return "sled" if slot == "hill" else slot


def _rank(slot: str, *, last: bool) -> int:
    if slot in ORDER:
        return ORDER.index(slot)
    return len(ORDER) if last else -1


def _row(
    lines: Mapping[int, Prescription], *, numbers: Sequence[int], catalogue: Catalogue, units: Units
) -> Row:
    before: Prescription | None = None
    squares: list[Square | None] = []
    for number in numbers:
        line = lines.get(number)
        squares.append(_square(line, before=before, units=units) if line else None)
        before = line or before
    first = next(iter(lines.values()))
    label = _label([lines[number] for number in sorted(lines)], weeks=sorted(lines), catalogue=catalogue)
    return Row(label=label, method=first.method, squares=tuple(squares))


def _square(line: Prescription, *, before: Prescription | None, units: Units) -> Square:
    changed = before is not None and quality(before) != quality(line)
    return Square(cell=cell(line, units=units), changed=changed, ref=line.ref, exercise=line.exercise)


def _label(lines: Sequence[Prescription], *, weeks: Sequence[int], catalogue: Catalogue) -> str:
    since: dict[str, int] = {}
    for week, line in zip(weeks, lines, strict=True):
        name = line_name(line, catalogue=catalogue)
        since.setdefault(f"{name}, each side" if line.side == "each" else name, week)
    first, *others = since
    return " → ".join((first, *(f"{name} ({since[name]})" for name in others)))
