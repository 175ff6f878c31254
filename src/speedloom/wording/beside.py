"""Two programmes beside each other: whose, when and what, as it is in the one and in the other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.cells import cell_text
from speedloom.wording.dates import clock, day_month, listing
from speedloom.wording.differences import FIELDS, value_words
from speedloom.wording.names import athlete_name, line_name, place_name, word
from speedloom.workflows.compare import Change, Differences, LineDifference, SessionDifference

NOT_THERE = "–"
MOST_DATES = 3
Key = tuple[str, str, str, str]


@dataclass(frozen=True)
class BesideRow:
    """One thing that differs, the same for all the days it differs on."""

    athlete: str
    days: str
    what: str
    one: str
    other: str


def beside_rows(
    differences: Differences, *, programme: Programme, catalogue: Catalogue
) -> tuple[BesideRow, ...]:
    """Write what differs as rows: athlete, days, what, and how it is in the one and the other programme."""
    found: dict[Key, list[date]] = defaultdict(list)
    for key, day in (*_sessions(differences.sessions), *_lines(differences.lines, catalogue=catalogue)):
        found[key].append(day)
    whole = [
        BesideRow(athlete_name(programme, athlete), "", "whole programme", was, now)
        for athletes, was, now in (
            (differences.athletes_added, NOT_THERE, "there"),
            (differences.athletes_removed, "there", NOT_THERE),
        )
        for athlete in athletes
    ]
    rows = (
        BesideRow(athlete_name(programme, athlete), _days(days), what, was, now)
        for (athlete, what, was, now), days in found.items()
    )
    return (*whole, *rows)


def _sessions(sessions: Iterable[SessionDifference]) -> Iterator[tuple[Key, date]]:
    for one in sessions:
        now = f"{day_month(one.date)} {clock(one.start)}, {place_name(one.place)}"
        was = " ".join(value_words(change.field, change.old) for change in one.changes)
        before, after = {
            "added": (NOT_THERE, now),
            "removed": (now, NOT_THERE),
        }.get(one.kind, (was, now))
        yield (one.athlete, "session", before, after), one.date


def _lines(lines: Iterable[LineDifference], *, catalogue: Catalogue) -> Iterator[tuple[Key, date]]:
    for one in lines:
        name, cell = line_name(one.line, catalogue=catalogue), cell_text(one.line)
        if one.kind == "changed":
            for change in one.changes:
                yield (one.athlete, f"{name}: {_field(change)}", *_both(change)), one.date
        else:
            before, after = (NOT_THERE, cell) if one.kind == "added" else (cell, NOT_THERE)
            yield (one.athlete, name, before, after), one.date


def _field(change: Change) -> str:
    return FIELDS.get(change.field, word(change.field))


def _both(change: Change) -> tuple[str, str]:
    return value_words(change.field, change.old), value_words(change.field, change.new)


def _days(days: Iterable[date]) -> str:
    ordered = sorted(set(days))
    if len(ordered) <= MOST_DATES:
        return listing(day_month(day) for day in ordered)
    return f"{len(ordered)} days from {day_month(ordered[0])} to {day_month(ordered[-1])}"
