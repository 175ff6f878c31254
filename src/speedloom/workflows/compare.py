"""What differs between two programmes: sessions moved, added and removed, and lines changed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from datetime import date, time
from typing import Any

from speedloom.training.programme import Prescription, Programme, Session

SESSION_FIELDS = ("date", "start", "place")
LINE_FIELDS = (
    "exercise",
    "sets",
    "reps",
    "reps_to",
    "distance_m",
    "run_in_m",
    "load_kg",
    "added_kg",
    "share_1rm",
    "rir",
    "decrement",
    "contacts",
    "effort",
    "hold_s",
    "height_m",
    "grade",
    "rest_reps_s",
    "rest_s",
    "side",
    "kit",
)
Value = float | str | date | time | None


@dataclass(frozen=True)
class Change:
    """One field's old and new value."""

    field: str
    old: Value
    new: Value


@dataclass(frozen=True)
class SessionDifference:
    """A session that was moved, added or removed, as it is now (as it was, when removed)."""

    kind: str
    athlete: str
    ref: str
    date: date
    start: time
    place: str
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True)
class LineDifference:
    """A line that was changed, added or removed."""

    kind: str
    athlete: str
    ref: str
    session: str
    date: date
    exercise: str
    line: Prescription
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True)
class Differences:
    """All that differs; falsy when nothing does."""

    athletes_added: tuple[str, ...]
    athletes_removed: tuple[str, ...]
    sessions: tuple[SessionDifference, ...]
    lines: tuple[LineDifference, ...]

    def __bool__(self) -> bool:
        return bool(self.athletes_added or self.athletes_removed or self.sessions or self.lines)

    def to_json(self) -> dict[str, Any]:
        """Give plain JSON values."""
        lines = [
            {key: _plain(value) for key, value in asdict(line).items() if key != "line"}
            for line in self.lines
        ]
        return {
            "athletes_added": list(self.athletes_added),
            "athletes_removed": list(self.athletes_removed),
            "sessions": [_plain(asdict(session)) for session in self.sessions],
            "lines": lines,
        }


def compare(old: Programme, new: Programme) -> Differences:
    """Compare two programmes, athlete by athlete, in order of date."""
    before, after = _by_athlete(old), _by_athlete(new)
    both = [athlete for athlete in before if athlete in after]
    match = _by_ref if old.id == new.id else _by_day
    pairs = [
        (athlete, pair)
        for athlete in both
        for pair in _pairs(before[athlete], after[athlete], key=match)
        if pair[0] is not pair[1]  # an edit leaves most of a squad's sessions as they are in memory
    ]
    return Differences(
        athletes_added=tuple(athlete for athlete in after if athlete not in before),
        athletes_removed=tuple(athlete for athlete in before if athlete not in after),
        sessions=tuple(one for athlete, (a, b) in pairs for one in _session(athlete, a, b)),
        lines=tuple(one for athlete, (a, b) in pairs if a and b for one in _lines(athlete, a, b)),
    )


def _by_athlete(programme: Programme) -> Mapping[str, tuple[Session, ...]]:
    return {
        own.athlete: tuple(session for week in own.weeks for session in week.sessions)
        for own in programme.programmes
    }


def _by_ref(session: Session) -> object:
    return session.ref


def _by_day(session: Session) -> object:
    # Programmes of different briefs share no references: what stands on the same day is the same session.
    return (session.date, session.place)


Pair = tuple[Session | None, Session | None]


def _pairs(
    old: Iterable[Session], new: Iterable[Session], *, key: Callable[[Session], object]
) -> Iterator[Pair]:
    before, after = {key(session): session for session in old}, {key(session): session for session in new}
    for name in dict.fromkeys((*before, *after)):
        yield before.get(name), after.get(name)


def _changes(old: object, new: object, fields: Iterable[str]) -> tuple[Change, ...]:
    return tuple(
        Change(field, getattr(old, field), getattr(new, field))
        for field in fields
        if getattr(old, field) != getattr(new, field)
    )


def _session(athlete: str, old: Session | None, new: Session | None) -> Iterator[SessionDifference]:
    shown = new or old
    if shown is None:
        return
    changes = _changes(old, new, SESSION_FIELDS) if old and new else ()
    if old and new and not changes:
        return
    kind = "moved" if old and new else "added" if new else "removed"
    yield SessionDifference(
        kind=kind,
        athlete=athlete,
        ref=shown.ref,
        date=shown.date,
        start=shown.start,
        place=shown.place,
        changes=changes,
    )


def _lines(athlete: str, old: Session, new: Session) -> Iterator[LineDifference]:
    before, after = _line_keys(old), _line_keys(new)
    for key in dict.fromkeys((*before, *after)):
        was, now = before.get(key), after.get(key)
        changes = _changes(was, now, LINE_FIELDS) if was and now else ()
        shown = now or was
        if shown is None or (was and now and not changes):
            continue
        kind = "changed" if was and now else "added" if now else "removed"
        yield LineDifference(
            kind=kind,
            athlete=athlete,
            ref=shown.ref,
            session=new.ref,
            date=new.date,
            exercise=shown.exercise,
            line=shown,
            changes=changes,
        )


def _line_keys(session: Session) -> Mapping[object, Prescription]:
    """Key lines by what they are for, so that a line whose reference is new is still the same work."""
    seen: Counter[object] = Counter()
    keyed: dict[object, Prescription] = {}
    for line in session.prescriptions:
        key = (line.purpose, line.method, line.run, line.exercise)
        keyed[key, seen[key]] = line
        seen[key] += 1
    return keyed


def _plain(value: object) -> object:
    if isinstance(value, dict):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(entry) for entry in value]
    return value.isoformat() if isinstance(value, (date, time)) else value
