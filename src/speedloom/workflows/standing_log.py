"""What stands in a log: every entry once, corrections applied, each beside its place in the programme."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from speedloom.errors import LogError
from speedloom.training.document import canonical
from speedloom.training.log import Log, LogEntry, Result
from speedloom.training.programme import Prescription, Programme, Session

Place = Literal["in_programme", "not_in_programme", "extra"]
NOT_TRAINED = frozenset({"absent", "skipped"})
"""What is said of a whole session that did not take place for somebody."""
MEASURED = ("time_s", "load_kg", "distance_m", "reps", "rir", "contacts")
"""What a result says of a repetition or set."""


@dataclass(frozen=True)
class StandingEntry:
    """One entry that stands, beside what it is about in the programme as it is now."""

    entry: LogEntry
    session: Session | None
    line: Prescription | None
    place: Place


@dataclass(frozen=True)
class StandingLog:
    """The entries that stand, in order of date, moment and id."""

    entries: tuple[StandingEntry, ...]
    programme: Programme

    def of_athlete(self, ref: str) -> tuple[StandingEntry, ...]:
        """Give the entries of an athlete."""
        return tuple(one for one in self.entries if one.entry.athlete == ref)

    def of_session(self, ref: str) -> tuple[StandingEntry, ...]:
        """Give the entries about a session that is in the programme now, and about its lines."""
        return tuple(one for one in self.entries if one.session is not None and one.session.ref == ref)

    def of_line(self, ref: str) -> tuple[StandingEntry, ...]:
        """Give the entries about a line that is in the programme now."""
        return tuple(one for one in self.entries if one.line is not None and one.line.ref == ref)

    def whole_sessions(self) -> tuple[StandingEntry, ...]:
        """Give the entries about whole sessions; an extra without an exercise is one too."""
        return tuple(one for one in self.entries if _of_the_whole(one))

    def lost_days(self, athlete: str) -> tuple[date, ...]:
        """Give the days on which an athlete had sessions and trained in none of them, as the log says.

        A session is lost when it was logged absent or skipped as a whole, and nothing else says that it
        was done after all. A day without an entry is not known, so it is not lost.
        """
        sessions = [session for own, session in self.programme.sessions() if own == athlete]
        lost = {session.date: True for session in sessions}
        for session in sessions:
            lost[session.date] &= self._lost(session.ref)
        return tuple(sorted(day for day, every in lost.items() if every))

    def _lost(self, session: str) -> bool:
        about = self.of_session(session)
        said = any(_of_the_whole(one) and one.entry.status in NOT_TRAINED for one in about)
        return said and all(one.entry.status in NOT_TRAINED for one in about)

    def usable_results(self, entry: StandingEntry | LogEntry) -> tuple[Result, ...]:
        """Give the results that may change an estimate: all but those marked unusual."""
        of = entry.entry if isinstance(entry, StandingEntry) else entry
        return tuple(result for result in of.results if result.mark != "unusual")

    def usable_session(self, entry: StandingEntry | LogEntry) -> tuple[float, float] | None:
        """Give effort (0-10) and minutes of a whole session that may make a session load; None else."""
        of = entry.entry if isinstance(entry, StandingEntry) else entry
        if of.effort is None or of.minutes is None or of.mark == "unusual":
            return None
        return (of.effort, of.minutes)


def standing_log(log: Log, programme: Programme) -> StandingLog:
    """Apply a log's corrections and find each entry's place in the programme as it is now.

    An entry is found by its line; where the line was retired or is unknown, by athlete, date and exercise
    (for a whole session by athlete and date, when the day has one session).

    A repetition of a line of which several entries say the same, as after one of two values was chosen,
    counts once: it stays in the first of them.

    Raises:
        LogError: the log is about another programme.
    """
    entries = _each_repetition_once(standing_entries(log.entries))
    return StandingLog(placed_entries(log.model_copy(update={"entries": entries}), programme), programme)


def placed_entries(log: Log, programme: Programme) -> tuple[StandingEntry, ...]:
    """Find every entry's place in the programme, in the log's order, corrected ones included.

    Raises:
        LogError: the log is about another programme.
    """
    if log.programme != programme.id:
        message = (
            f"Expected a log about programme {programme.id}, got one about {log.programme}; "
            "name the programme that the log is about."
        )
        raise LogError(message)
    places = _Places(programme)
    return tuple(places.of(entry) for entry in log.entries)


def standing_entries(entries: Iterable[LogEntry]) -> tuple[LogEntry, ...]:
    """Give the entries that stand, in order of date, moment and id; their order in the log means nothing.

    Entries that replace each other, in however many steps, are one account of the same thing: of these the
    one with the latest `at` stands, ties by id. A correction never reaches another athlete's entry.
    """
    once: dict[str, LogEntry] = {}
    for entry in entries:
        there = once.setdefault(entry.id, entry)
        # Two entries under one id are a fault that `log check` names; until then the choice is not by order.
        once[entry.id] = max(there, entry, key=lambda one: (one.order, canonical(one)))
    latest: dict[str, LogEntry] = {}
    roots = _roots(once)
    for entry in once.values():
        root = roots[entry.id]
        latest[root] = max(latest.get(root, entry), entry, key=lambda one: one.order)
    return tuple(sorted(latest.values(), key=lambda one: (one.date, *one.order)))


def _each_repetition_once(entries: Iterable[LogEntry]) -> tuple[LogEntry, ...]:
    """Leave out what an earlier entry says of the same repetition; an entry that says nothing else goes."""
    said: set[tuple[object, ...]] = set()
    kept = []
    for entry in entries:
        left = tuple(one for one in entry.results if _repetition(entry, one) not in said)
        # Work outside the programme is told apart by nothing: the same twice was done twice.
        if entry.line is not None:
            said |= {_repetition(entry, one) for one in entry.results}
        if len(left) == len(entry.results):
            kept.append(entry)
        elif left or entry.status != "done" or entry.note:
            kept.append(entry.model_copy(update={"results": left}))
    return tuple(kept)


def _repetition(entry: LogEntry, result: Result) -> tuple[object, ...]:
    """Give which repetition a result is of, and what it says of it."""
    return (entry.athlete, entry.line, *(getattr(result, name) for name in ("set", "rep", *MEASURED)))


def _roots(once: dict[str, LogEntry]) -> dict[str, str]:
    """Name every entry's account by one key: entries joined by `replaces` share it, even in a ring."""
    above: dict[str, str] = {}

    def top(key: str) -> str:
        while above.get(key, key) != key:
            key = above[key]
        return key

    for entry in once.values():
        replaced = once.get(entry.replaces or "")
        if entry.replaces is None or (replaced is not None and replaced.athlete != entry.athlete):
            continue
        # Two corrections of an entry that has not arrived yet belong together as well, an athlete's own ones.
        key = replaced.id if replaced else f"{entry.athlete}/{entry.replaces}"
        high, low = sorted((top(entry.id), top(key)))
        above[low] = high
    return {key: top(key) for key in once}


class _Places:
    """Where things stand in a programme."""

    def __init__(self, programme: Programme) -> None:
        self._sessions = {session.ref: (own, session) for own, session in programme.sessions()}
        self._lines = {
            line.ref: (own, session, line)
            for own, session in self._sessions.values()
            for line in session.prescriptions
        }

    def of(self, entry: LogEntry) -> StandingEntry:
        if entry.status == "extra":
            return StandingEntry(entry, None, None, "extra")
        session, line = self._by_ref(entry) or self._by_day(entry)
        known = line is not None if entry.line is not None else session is not None
        return StandingEntry(entry, session, line, "in_programme" if known else "not_in_programme")

    def _by_ref(self, entry: LogEntry) -> tuple[Session | None, Prescription | None] | None:
        if entry.line is not None:
            own, session, line = self._lines.get(entry.line, (None, None, None))
            return (session, line) if own == entry.athlete else None
        own, whole = self._sessions.get(entry.session or "", (None, None))
        return (whole, None) if own == entry.athlete else None

    def _by_day(self, entry: LogEntry) -> tuple[Session | None, Prescription | None]:
        that_day = [
            session
            for own, session in self._sessions.values()
            if own == entry.athlete and session.date == entry.date
        ]
        if entry.line is None:
            return (that_day[0] if len(that_day) == 1 else None, None)
        for session in that_day:
            for line in session.prescriptions:
                if line.exercise == entry.exercise:
                    return session, line
        own, was = self._sessions.get(entry.session or "", (None, None))
        return (was if own == entry.athlete else None, None)


def _of_the_whole(one: StandingEntry) -> bool:
    return one.entry.line is None and one.entry.exercise is None
