"""Differences of two programmes in sentences, the same change said once for all sessions it is in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time
from textwrap import wrap

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Programme
from speedloom.wording.dates import clock, day_month, listing
from speedloom.wording.line_words import dose, load, manner, side_words
from speedloom.wording.names import athlete_name, line_name, place_name, word
from speedloom.wording.units import quantity, rest, share
from speedloom.workflows.compare import Change, Differences, LineDifference, SessionDifference

FIELDS: Mapping[str, str] = {
    "reps_to": "most repetitions",
    "reps": "repetitions",
    "distance_m": "distance",
    "run_in_m": "run-in",
    "load_kg": "load",
    "added_kg": "added mass",
    "share_1rm": "share of the maximum",
    "rir": "in reserve",
    "decrement": "slower by",
    "hold_s": "hold",
    "height_m": "height",
    "rest_reps_s": "rest between repetitions",
    "rest_s": "rest between sets",
}
NO_VALUE: Mapping[str, str] = {"effort": "full"}
"""What it means where no value is written."""
MOST_DATES = 3
NOTHING = "Nothing changed.\n"


def differences_text(
    differences: Differences, *, programme: Programme, catalogue: Catalogue, width: int | None = None
) -> str:
    """Write what changed, a sentence a line: athletes, sessions, then each athlete's lines by day.

    Sentences longer than a width, where one is given, go on in the next row, indented.
    """
    if not differences:
        return NOTHING
    parts = [
        *_athletes(differences, programme=programme),
        *_sessions(differences.sessions, programme=programme),
        *_lines(differences.lines, programme=programme, catalogue=catalogue),
    ]
    rows = parts if width is None else [row for part in parts for row in _rows(part, width)]
    return "\n".join(rows) + "\n"


def _rows(sentence: str, width: int) -> list[str]:
    return wrap(sentence, width, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)


def _athletes(differences: Differences, *, programme: Programme) -> Iterator[str]:
    for kind, athletes in (
        ("Added", differences.athletes_added),
        ("Removed", differences.athletes_removed),
    ):
        if athletes:
            yield f"{kind}: {listing(athlete_name(programme, athlete) for athlete in athletes)}."


def _sessions(sessions: Iterable[SessionDifference], *, programme: Programme) -> Iterator[str]:
    groups: dict[str, list[str]] = defaultdict(list)
    for session in sessions:
        groups[_session(session)].append(athlete_name(programme, session.athlete))
    yield from (f"{sentence}: {listing(names)}." for sentence, names in groups.items())


def _session(session: SessionDifference) -> str:
    now = f"{day_month(session.date)} {clock(session.start)}, {place_name(session.place)}"
    if session.kind != "moved":
        return f"Session {session.kind}, {now}"
    old = {change.field: change.old for change in session.changes}
    before = " ".join(value_words(field, old[field]) for field in ("date", "start", "place") if field in old)
    return f"Session moved from {before} to {now}"


def _lines(lines: Iterable[LineDifference], *, programme: Programme, catalogue: Catalogue) -> Iterator[str]:
    """Write a sentence for an athlete and the days on which the same lines change in the same way."""
    own: dict[str, dict[str, list[date]]] = {}
    for line in lines:
        what = f"{line_name(line.line, catalogue=catalogue)} {_change(line, catalogue=catalogue)}"
        own.setdefault(line.athlete, {}).setdefault(what, []).append(line.date)
    for athlete, changes in own.items():
        together: dict[tuple[date, ...], list[str]] = defaultdict(list)
        for what, days in changes.items():
            together[tuple(sorted(set(days)))].append(what)
        for dates, whats in sorted(together.items()):
            yield f"{athlete_name(programme, athlete)}, {_dates(dates)}: {'; '.join(whats)}."


def _change(line: LineDifference, *, catalogue: Catalogue) -> str:
    if line.kind != "changed":
        return f"{line.kind} ({_whole(line.line, catalogue=catalogue)})"
    return listing(_one(change) for change in line.changes)


def _whole(line: Prescription, *, catalogue: Catalogue) -> str:
    """Write a whole line with its units, such as `2 × 15 m, at 95 %` or `3 × 8–12 repetitions, 60 kg`."""
    bare = not (line.hold_s or line.distance_m)
    often = " ".join(filter(None, (dose(line), "repetitions" if bare else "", side_words(line))))
    return ", ".join(filter(None, (often, load(line, catalogue=catalogue), manner(line))))


def _one(change: Change) -> str:
    name = FIELDS.get(change.field, word(change.field))
    return f"{name} {value_words(change.field, change.old)} → {value_words(change.field, change.new)}"


def _dates(days: Sequence[date]) -> str:
    ordered = sorted(set(days))
    if len(ordered) <= MOST_DATES:
        return listing(day_month(day) for day in ordered)
    return f"{len(ordered)} days from {day_month(ordered[0])} to {day_month(ordered[-1])}"


def value_words(field: str, value: float | str | date | time | None) -> str:
    """Write the value of a field with its unit, as differences show it."""
    if value is None:
        return NO_VALUE.get(field, "none")
    if isinstance(value, date):
        return day_month(value)
    if isinstance(value, time):
        return clock(value)
    return word(value) if isinstance(value, str) else _number(field, value)


def _number(field: str, value: float) -> str:
    if field in {"share_1rm", "decrement", "effort", "grade"}:
        return share(value)
    unit = field.rpartition("_")[2]
    return rest(value) if unit == "s" else quantity(value, unit if unit in {"kg", "m"} else "1")
