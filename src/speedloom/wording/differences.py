"""Differences of two programmes in sentences, the same change said once for all sessions it is in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.cells import cell_text
from speedloom.wording.dates import clock, day_month, listing
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
MOST_DATES = 3
NOTHING = "Nothing changed.\n"


def differences_text(differences: Differences, *, programme: Programme, catalogue: Catalogue) -> str:
    """Write what changed: athletes, sessions, then lines."""
    if not differences:
        return NOTHING
    parts = [
        *_athletes(differences, programme=programme),
        *_sessions(differences.sessions, programme=programme),
        *_lines(differences.lines, programme=programme, catalogue=catalogue),
    ]
    return "\n".join(parts) + "\n"


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
    groups: dict[tuple[str, str], list[LineDifference]] = defaultdict(list)
    for line in lines:
        name = line_name(line.line, catalogue=catalogue)
        groups[athlete_name(programme, line.athlete), f"{name} {_change(line)}"].append(line)
    yield from (
        f"{athlete}, {_dates([line.date for line in group])}: {what}."
        for (athlete, what), group in groups.items()
    )


def _change(line: LineDifference) -> str:
    if line.kind != "changed":
        return f"{line.kind} ({cell_text(line.line)})"
    return listing(_one(change) for change in line.changes)


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
        return "none"
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
