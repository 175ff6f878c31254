"""A programme made by hand: a table of lines, with refs, minutes and weeks filled in where absent."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from speedloom.exchange.line_sessions import (
    A_WEEK,
    LineTable,
    Refs,
    Told,
    read_line_table,
    refs_in,
    told_sessions,
    weeks_between,
)
from speedloom.exchange.sheet_file import SHEET_FILES
from speedloom.training.calendar import monday_of
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import (
    AthleteProgramme,
    BriefCopy,
    Programme,
    Revision,
    RulebookStamp,
    Week,
)
from speedloom.training.rule import Rulebook

HAND_MADE = frozenset({".csv", *SHEET_FILES})
"""Endings of files that hold a table of lines."""
_BY_HAND = "by hand"


@dataclass(frozen=True)
class Frame:
    """What a table of lines does not hold: the zone, the day week 1 holds, exercises of the coach's own."""

    timezone: str = "UTC"
    start: date | None = None
    extra: frozenset[str] = frozenset()


def read_hand_made(path: Path, *, rulebook: Rulebook, catalogue: Catalogue, frame: Frame) -> Programme:
    """Read a programme made by hand (CSV, XLSX, ODS).

    Raises:
        UnusableFileError: every fault, each with row and column.
    """
    table = read_line_table(path, catalogue=catalogue, extra=frame.extra)
    own = tuple(_own(table, athlete, frame) for athlete in table.athletes)
    lines = json.dumps([one.model_dump(mode="json") for one in own], sort_keys=True)
    return Programme(
        schema="speedloom.programme/1",
        id=sha256(lines.encode()).hexdigest()[:12],
        revision=Revision(),
        engine=_BY_HAND,
        timezone=frame.timezone,
        rulebook=RulebookStamp(digest=rulebook.digest),
        brief=BriefCopy(digest=None, content=None),
        programmes=own,
    )


def _own(table: LineTable, athlete: str, frame: Frame) -> AthleteProgramme:
    """Lay an athlete's sessions into weeks, from the first to the last; an empty one is a break."""
    refs = Refs(athlete, refs_in(table.of(athlete)))
    told = sorted(told_sessions(table, athlete, refs), key=lambda one: (one.session.date, one.session.start))
    start = monday_of(frame.start or min(row.day for row in table.rows))
    offset = next(
        (row.week["number"] - weeks_between(start, row.day) for row in table.rows if "number" in row.week), 1
    )
    first, last = (weeks_between(start, one.session.date) for one in (told[0], told[-1]))
    weeks = [_week(start + index * A_WEEK, index + offset, told) for index in range(first, last + 1)]
    return AthleteProgramme(athlete=athlete, next_ref=refs.next, weeks=tuple(weeks))


def _week(monday: date, number: int, told: Sequence[Told]) -> Week:
    within = [one for one in told if monday_of(one.session.date) == monday]
    fields: dict[str, Any] = {"kind": "loading" if within else "break", "mesocycle": None, "specificity": 0.0}
    for one in reversed(within):
        fields.update(one.week)
    week = Week.model_validate_json(json.dumps({**fields, "number": number, "monday": monday.isoformat()}))
    return week.model_copy(update={"sessions": tuple(one.session for one in within)})
