"""One athlete's weeks beside what stands in the log of them: the one place where done work is added up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, reduce
from operator import add

from speedloom.checking.people import Person
from speedloom.checking.scene import Scene
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.workflows.review_lines import (
    SessionOutcome,
    done_before_it_went,
    is_whole,
    outside_the_plan,
    session_outcome,
)
from speedloom.workflows.reviewed import Amounts
from speedloom.workflows.standing_log import StandingEntry

SUNDAY = timedelta(days=6)


def scene_of(programme: Programme, *, rulebook: Rulebook, catalogue: Catalogue) -> Scene:
    """Give what a log is read beside; the programme's own changes are added where the book has none."""
    used = programme.brief.content
    book = rulebook.with_changes(used.rules) if used and used.rules and not rulebook.changes else rulebook
    return Scene(programme, used, book, catalogue)


@dataclass(frozen=True)
class AthleteLog:
    """What stands in the log of one athlete, beside the athlete's programme."""

    scene: Scene
    person: Person
    entries: tuple[StandingEntry, ...]

    def about(self, session: Session) -> tuple[StandingEntry, ...]:
        """Give the entries about a session and its lines."""
        return tuple(self._by_session.get(session.ref, ()))

    def outcome(self, week: Week, session: Session) -> SessionOutcome:
        """Say what became of a session."""
        about = self.about(session)
        refs = {session.ref, *(one.entry.session for one in about if is_whole(one.entry))}
        written = not self._written.isdisjoint(refs)
        return session_outcome(self.scene, self.person, week, session, about, written=written)

    def outside(self, week: Week) -> tuple[tuple[LogEntry, Amounts], ...]:
        """Give a week's extra work, and work whose line is not in the programme now, with its amounts."""
        those = [one.entry for one in self.entries if _is_outside(one) and in_week(one.entry.date, week)]
        those += done_before_it_went(self.person, self._wholes(week), self._written)
        return tuple(outside_the_plan(self.scene, self.person, week, those))

    def _wholes(self, week: Week) -> tuple[LogEntry, ...]:
        """Give the last word on each session as a whole that counts in a week."""
        own = {session.ref for session in week.sessions}
        said: dict[str | None, LogEntry] = {}
        for one in self.entries:
            here = in_week(one.entry.date, week) if one.session is None else one.session.ref in own
            if here and is_whole(one.entry) and one.place != "extra":
                last = said.get(one.entry.session, one.entry)
                said[one.entry.session] = max(last, one.entry, key=lambda entry: entry.order)
        return tuple(said.values())

    @cached_property
    def _written(self) -> frozenset[str | None]:
        """The sessions of whose lines somebody wrote, lines that are gone too."""
        return frozenset(one.entry.session for one in self.entries if one.entry.line is not None)

    def done(self, week: Week) -> Amounts:
        """Add up what was done in a week's sessions and beside them."""
        inside = (self.outcome(week, session).amounts.done for session in week.sessions)
        return reduce(add, (*inside, *(found for _, found in self.outside(week))), Amounts())

    @cached_property
    def _by_session(self) -> dict[str, list[StandingEntry]]:
        found: dict[str, list[StandingEntry]] = {}
        for one in self.entries:
            if one.session is not None and not _is_outside(one):
                found.setdefault(one.session.ref, []).append(one)
        return found


def _is_outside(one: StandingEntry) -> bool:
    """Say whether an entry is extra, or has no line and no session in the programme as it is now."""
    if one.place == "in_programme":
        return False
    return one.session is None or (one.line is None and one.entry.line is not None)


def in_week(day: date, week: Week) -> bool:
    """Say whether a date lies in a week."""
    return week.monday <= day <= week.monday + SUNDAY


def athlete_logs(scene: Scene, entries: tuple[StandingEntry, ...]) -> Iterator[AthleteLog]:
    """Give every athlete of a programme with the entries about them."""
    for person in scene.people:
        own = tuple(one for one in entries if one.entry.athlete == person.ref)
        yield AthleteLog(scene, person, own)
