"""Who trains together: sessions of equal date, start and place, and what each athlete does in them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time

from speedloom.training.athlete import Athlete
from speedloom.training.programme import Prescription, Programme, Session, Week


@dataclass(frozen=True)
class Attendance:
    """One athlete's session within a squad session; `person` is None where the brief is not carried."""

    athlete: str
    week: Week
    session: Session
    person: Athlete | None

    @property
    def name(self) -> str:
        """The athlete's name, or the reference."""
        return self.person.title if self.person else self.athlete

    @property
    def work(self) -> tuple[Prescription, ...]:
        """The working lines."""
        return tuple(line for line in self.session.prescriptions if line.purpose == "work")


@dataclass(frozen=True)
class SquadSession:
    """One training: all who come to it, by name."""

    date: date
    start: time
    place: str
    present: tuple[Attendance, ...]

    @property
    def lead(self) -> Attendance:
        """The one with the longest session, whose warm-up and headings stand for all."""
        return max(self.present, key=lambda one: (one.session.minutes, one.athlete))


def squad_sessions(
    programme: Programme, *, first: date, last: date, athletes: tuple[str, ...] | None = None
) -> tuple[SquadSession, ...]:
    """List the trainings between two dates (inclusive), for all athletes or for some."""
    groups: dict[tuple[date, time, str], list[Attendance]] = {}
    for one in _attendances(programme, athletes):
        session = one.session
        if first <= session.date <= last:
            groups.setdefault((session.date, session.start, session.place), []).append(one)
    return tuple(
        SquadSession(*key, tuple(sorted(groups[key], key=lambda one: (one.name, one.athlete))))
        for key in sorted(groups)
    )


def _attendances(programme: Programme, athletes: tuple[str, ...] | None) -> Iterator[Attendance]:
    content = programme.brief.content
    people = {person.ref: person for person in content.athletes} if content else {}
    for own in programme.programmes:
        if athletes is None or own.athlete in athletes:
            for week in own.weeks:
                for session in week.sessions:
                    yield Attendance(own.athlete, week, session, people.get(own.athlete))
