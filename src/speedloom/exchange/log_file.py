"""A log beside its programme: is it usable, and how new entries join those already there."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.exchange.fault import Fault, UnusableFileError, did_you_mean, shown
from speedloom.training.document import canonical
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.workflows.log_limits import LIMITS

_Found = tuple[str, str, str, str]
"""Column, what came, what was expected, what to do."""


def check_log(log: Log, programme: Programme, *, file: str) -> None:
    """Find everything in a log that its programme cannot explain.

    Raises:
        UnusableFileError: every fault, each with its path in the log.
    """
    faults = list(_faults(log, programme, file))
    if faults:
        raise UnusableFileError(faults)


def appended(log: Log, draft: Log, *, file: str, own_ids: Collection[str] = ()) -> Log:
    """Join a draft to a log: an entry that is there already is left out, a changed one replaces the old.

    Entries whose id was made where they were typed (`own_ids`) say themselves what they replace.

    Raises:
        UnusableFileError: another programme's log, an id that stands for something else, or a correction
            that is not later than what it corrects.
    """
    if log.programme != draft.programme:
        todo = "choose another file for this programme's log"
        raise UnusableFileError(
            [Fault(file, None, "programme", shown(log.programme), shown(draft.programme), todo)]
        )
    there = {entry.id: entry for entry in log.entries}
    latest = {_about(entry): entry for entry in sorted(log.entries, key=lambda one: one.order)}
    fresh = [entry for entry in draft.entries if entry.id not in there]
    new = [entry if entry.id in own_ids else _replacing(entry, latest.get(_about(entry))) for entry in fresh]
    faults = [
        Fault(file, None, f"entries.{entry.id}.at", entry.at.isoformat(), f"later than {old.at.isoformat()}",
              f"{entry.line or entry.session} was written down before: a correction needs a later --at")
        for entry in new
        if entry.id not in own_ids and (old := latest.get(_about(entry))) and entry.at <= old.at
    ]  # fmt: skip
    faults += [
        Fault(file, None, f"entries.{entry.id}.id", "another entry under this id", "each id for one entry",
              "a correction is a new entry with an id of its own that replaces the old one")
        for entry in draft.entries
        if entry.id in own_ids and entry.id in there and _content(there[entry.id]) != _content(entry)
    ]  # fmt: skip
    if faults:
        raise UnusableFileError(faults)
    return log.model_copy(update={"entries": (*log.entries, *new)})


def _about(entry: LogEntry) -> tuple[str | None, ...]:
    return (entry.athlete, entry.session, entry.line, None if entry.session else entry.id)


def _replacing(entry: LogEntry, old: LogEntry | None) -> LogEntry:
    return entry.model_copy(update={"replaces": old.id}) if old else entry


def _content(entry: LogEntry) -> str:
    """Write an entry without its marks and who sent it in, which are put on later."""
    results = tuple(result.model_copy(update={"mark": None}) for result in entry.results)
    return canonical(entry.model_copy(update={"results": results, "mark": None, "sent_by": None}))


def _faults(log: Log, programme: Programme, file: str) -> Iterator[Fault]:
    if log.programme != programme.id:
        todo = "name the programme that the log is about"
        yield Fault(file, None, "programme", shown(log.programme), shown(programme.id), todo)
        return
    known = _Known.of(programme)
    once: dict[str, LogEntry] = {}
    for entry in log.entries:
        once.setdefault(entry.id.lower(), entry)
    for number, entry in enumerate(log.entries, start=1):
        found = (
            *_itself(entry, once[entry.id.lower()], programme),
            *_what(entry, known),
            *_when(entry, known),
            *_how_much(entry),
            *_replaced(entry, once),
        )
        for column, came, expected, todo in found:
            yield Fault(file, None, f"entries.{number}.{column}", came, expected, todo)


def _itself(entry: LogEntry, first: LogEntry, programme: Programme) -> Iterator[_Found]:
    if _content(first) != _content(entry):
        yield "id", shown(entry.id), "each id for one entry", "give one of them an id of its own"
    if entry.revision > programme.revision.number:
        expected = f"a revision up to {programme.revision.number}"
        yield "revision", str(entry.revision), expected, "name the newer programme"


@dataclass(frozen=True)
class _Known:
    """What a programme holds, by ref."""

    athletes: tuple[str, ...]
    sessions: Mapping[str, tuple[str, Session]]
    lines: Mapping[str, tuple[str, Session, Prescription]]
    retired: frozenset[str]
    first: date
    last: date

    @classmethod
    def of(cls, programme: Programme) -> _Known:
        """Read a programme."""
        weeks = [(own.athlete, week) for own in programme.programmes for week in own.weeks]
        sessions = {one.ref: (athlete, one) for athlete, week in weeks for one in week.sessions}
        mondays = [week.monday for _, week in weeks]
        return cls(
            athletes=tuple(own.athlete for own in programme.programmes),
            sessions=sessions,
            lines={
                line.ref: (athlete, session, line)
                for athlete, session in sessions.values()
                for line in session.prescriptions
            },
            retired=frozenset(ref for own in programme.programmes for ref in own.retired),
            first=min(mondays, default=date.min),
            last=max(mondays, default=date.max - timedelta(days=6)) + timedelta(days=6),
        )


def _what(entry: LogEntry, known: _Known) -> Iterator[_Found]:
    if entry.athlete not in known.athletes:
        todo = did_you_mean(entry.athlete, known.athletes, otherwise="correct the ref")
        yield "athlete", shown(entry.athlete), "an athlete of the programme", todo
        return
    if entry.status == "extra":
        if entry.session or entry.line:
            came = shown(entry.session or entry.line)
            yield "session", came, "null for an extra", "leave session and line out"
    elif entry.session is None:
        yield "session", "null", "the session it is about", "or say status extra"
    elif entry.session not in known.retired:
        yield from _session(entry, entry.session, known)


def _session(entry: LogEntry, ref: str, known: _Known) -> Iterator[_Found]:
    """Find sessions, lines and exercises that are not the programme's, now or before."""
    athlete, session = known.sessions.get(ref, ("", None))
    if session is None or athlete != entry.athlete:
        own = [one for one, (owner, _) in known.sessions.items() if owner == entry.athlete]
        near = did_you_mean(ref, own, otherwise="correct the ref")
        todo = f"it is {athlete}'s; {near}" if session else near
        yield "session", shown(ref), f"a session of {entry.athlete}", todo
        return
    if entry.line is None or entry.line in known.retired:
        return
    _, home, line = known.lines.get(entry.line, ("", None, None))
    if line is None or home is not session:
        here = [one.ref for one in session.prescriptions]
        near = did_you_mean(entry.line, here, otherwise="correct the ref")
        todo = f"it stands in {home.ref} on {home.date}; {near}" if home else near
        yield "line", shown(entry.line), f"a line of {ref}", todo
    elif entry.exercise not in (None, line.exercise):
        todo = "another exercise is an extra, or a note"
        yield "exercise", shown(entry.exercise), shown(line.exercise), todo


def _when(entry: LogEntry, known: _Known) -> Iterator[_Found]:
    if not known.first <= entry.date <= known.last:
        expected = f"a day of the programme, {known.first} to {known.last}"
        yield "date", str(entry.date), expected, "was the year or the month typed wrongly?"


def _how_much(entry: LogEntry) -> Iterator[_Found]:
    """Find values that cannot be true; what is merely unusual is asked about elsewhere."""
    for name in ("effort", "minutes"):
        yield from _beyond(name, name, getattr(entry, name))
    for number, result in enumerate(entry.results, start=1):
        for name in ("time_s", "load_kg", "distance_m", "reps", "rir", "contacts"):
            yield from _beyond(name, f"results.{number}.{name}", getattr(result, name))


def _beyond(name: str, column: str, value: float | None) -> Iterator[_Found]:
    limit = LIMITS[name]
    if value is not None and not limit.contains(value):
        expected = f"{limit.name} in [{limit.low:g}, {limit.high:g}] {limit.unit}".rstrip()
        yield column, f"{value:g}", expected, "correct the value"


def _replaced(entry: LogEntry, once: Mapping[str, LogEntry]) -> Iterator[_Found]:
    if entry.replaces is None:
        return
    old = once.get(entry.replaces)
    if old is None:
        todo = did_you_mean(entry.replaces, once, otherwise="send the entry it corrects as well")
        yield "replaces", shown(entry.replaces), "the id of an entry", todo
    elif old.athlete != entry.athlete:
        todo = f"that entry is {old.athlete}'s"
        yield "replaces", shown(entry.replaces), f"an entry of {entry.athlete}", todo
    elif _in_a_ring(entry, once):
        todo = "an entry cannot correct itself, not even by way of others"
        yield "replaces", shown(entry.replaces), "an entry written before", todo


def _in_a_ring(entry: LogEntry, once: Mapping[str, LogEntry]) -> bool:
    seen: set[str] = set()
    at: LogEntry | None = entry
    while at is not None and at.id not in seen:
        seen.add(at.id)
        at = once.get(at.replaces or "")
    return at is not None and at.id == entry.id
