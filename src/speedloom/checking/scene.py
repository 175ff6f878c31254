"""What the rules look at: the programme in the order of days, with its people, places, kit and rulebook."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cached_property

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue, Exercise
from speedloom.training.kit import Kit, Place
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook


@dataclass(frozen=True)
class Visit:
    """One athlete's session, with the athlete, the week and its working lines."""

    person: Person
    week: Week
    session: Session
    work: tuple[Work, ...]

    @cached_property
    def starts(self) -> datetime:
        """Local start; gaps are counted from start to start on the clock on the wall."""
        return datetime.combine(self.session.date, self.session.start)

    @property
    def day(self) -> date:
        """The date."""
        return self.session.date

    def hours_since(self, earlier: Visit) -> float:
        """Count the hours from another session's start to this one's."""
        return (self.starts - earlier.starts).total_seconds() / 3600


Squads = Mapping[tuple[object, ...], int]
"""How many athletes train at each date, start and place [count]."""


@dataclass(frozen=True)
class Scene:
    """One programme with all that a rule may ask for."""

    programme: Programme
    brief: ResolvedBrief | None
    book: Rulebook
    catalogue: Catalogue
    present: Squads | None = None
    """Who trains where and when in the squad that this is a part of; None where nobody else is there."""

    @cached_property
    def people(self) -> tuple[Person, ...]:
        """The athletes, in the programme's order."""
        return tuple(self._person(one) for one in self.programme.programmes)

    def _person(self, programme: AthleteProgramme) -> Person:
        entries = {entry.ref: entry for entry in (self.brief.athletes if self.brief else ())}
        all_trials = self.brief.measurements.trials if self.brief else ()
        own = tuple(trial for trial in all_trials if trial.athlete == programme.athlete)
        latest = max((trial.session for trial in own), default=None)
        wanted = programme.profile or latest
        trials = tuple(trial for trial in own if trial.session == wanted)
        return Person(
            ref=programme.athlete,
            entry=entries.get(programme.athlete),
            programme=programme,
            trials=trials,
            brief=self.brief,
            book=self.book,
        )

    def is_over(self, day: date) -> bool:
        """Say whether a date is frozen: it is context, and not judged."""
        frozen = self.programme.revision.frozen_until
        return frozen is not None and day <= frozen

    @cached_property
    def lines_over(self) -> Mapping[str, Prescription]:
        """The lines of sessions that are over, by reference."""
        return {
            line.ref: line
            for person in self.people
            for week in person.programme.weeks
            for session in week.sessions
            if self.is_over(session.date)
            for line in session.prescriptions
        }

    @cached_property
    def visits_of(self) -> Mapping[str, tuple[Visit, ...]]:
        """Each athlete's sessions in the order of time, without those that are over and were lost."""
        return {person.ref: tuple(self._visits(person)) for person in self.people}

    def _visits(self, person: Person) -> list[Visit]:
        visits = [
            Visit(person, week, session, self.works(person, week, session))
            for week in person.programme.weeks
            for session in week.sessions
            if not (self.is_over(session.date) and person.is_away(session.date))
        ]
        return sorted(visits, key=lambda visit: (visit.starts, visit.session.ref))

    def works(self, person: Person, week: Week, session: Session) -> tuple[Work, ...]:
        """Give a session's working lines."""
        return tuple(self._work(person, week, session))

    def _work(self, person: Person, week: Week, session: Session) -> Iterator[Work]:
        for line in session.prescriptions:
            if line.purpose == "work":
                yield Work(line, self.exercise(line.exercise), person, week, session, self._heavier(line))

    def _heavier(self, line: Prescription) -> float:
        """Compare a load set by hand with what would stand there: the share is written for the latter."""
        node = self.programme.basis.get(line.basis.get("load_kg", ""))
        instead = None if node is None else self.programme.basis.get(node.inputs.get("proposed", ""))
        if node is None or node.by != "coach" or instead is None or line.load_kg is None:
            return 1.0
        proposed = instead.value
        return max(1.0, line.load_kg / proposed) if isinstance(proposed, float) and proposed > 0 else 1.0

    @cached_property
    def visits(self) -> tuple[Visit, ...]:
        """All sessions, athlete by athlete."""
        return tuple(visit for visits in self.visits_of.values() for visit in visits)

    @cached_property
    def lines(self) -> tuple[tuple[Visit, Work], ...]:
        """All working lines with their session."""
        return tuple((visit, work) for visit in self.visits for work in visit.work)

    @cached_property
    def places(self) -> Mapping[str, Place]:
        """Places by reference."""
        return {place.ref: place for place in (self.brief.places if self.brief else ())}

    @cached_property
    def kit(self) -> Mapping[str, Kit]:
        """Kit by reference."""
        return {kit.ref: kit for kit in (self.brief.kit if self.brief else ())}

    @cached_property
    def _exercises(self) -> Mapping[str, Exercise]:
        embedded = self.brief.catalogue if self.brief else ()
        return {exercise.ref: exercise for exercise in (*self.catalogue.exercises, *embedded)}

    def exercise(self, ref: str) -> Exercise | None:
        """Find an exercise: the brief's own entry first, then the catalogue's."""
        return self._exercises.get(ref)

    def squad(self, session: Session) -> int:
        """Count the athletes who train at that date, start and place."""
        return self.squads[(session.date, session.start, session.place)]

    @cached_property
    def squads(self) -> Squads:
        """Count those who train together, without those whose session is over and was lost."""
        if self.present is not None:
            return self.present
        present: dict[tuple[object, ...], set[str]] = {}
        for person in self.people:
            for session in self.held(person):
                present.setdefault((session.date, session.start, session.place), set()).add(person.ref)
        return {key: len(athletes) for key, athletes in present.items()}

    def held(self, person: Person) -> Iterator[Session]:
        """Give an athlete's sessions without those that are over and were lost."""
        for week in person.programme.weeks:
            for session in week.sessions:
                if not (self.is_over(session.date) and person.is_away(session.date)):
                    yield session

    def number(self, rule: str, number: str) -> float:
        """Give a number of the rulebook."""
        return self.book.number(rule, number)

    def breach(
        self,
        rule: str,
        number: str = "",
        *,
        value: float | str | None = None,
        limit: float | str | None = None,
        visit: Visit | None = None,
        line: Prescription | None = None,
        unit: str = "",
        **detail: str,
    ) -> Finding:
        """Make a finding; weight, limit and unit come from the rulebook unless the limit is given."""
        entry = self.book.rule(rule)
        known = entry.numbers.get(number)
        bare = Finding(
            rule=rule,
            weight=(known.weight if known else None) or entry.weight,
            number=number,
            line=line.ref if line else None,
            value=round(value, 6) if isinstance(value, float) else value,
            limit=self.number(rule, number) if limit is None and known else limit,
            unit=unit or (known.unit if known else ""),
            detail=tuple(detail.items()),
        )
        return bare if visit is None else at(bare, visit.person, visit.week, visit.session)


def at(finding: Finding, person: Person, week: Week | None = None, session: Session | None = None) -> Finding:
    """Say where a finding is."""
    return replace(
        finding,
        athlete=person.ref,
        week=None if week is None else week.number,
        session=None if session is None else session.ref,
    )
