"""What an earlier revision leaves for a later one: the days that are over, and how the rest stood."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Literal, get_args

from speedloom.planning.calendar_week import Day
from speedloom.planning.ledger import Ledger, Tag
from speedloom.training.athlete import Athlete
from speedloom.training.calendar import Away, Slot
from speedloom.training.kit import Place
from speedloom.training.programme import AthleteProgramme, Prescription, Session, Unmet, Week
from speedloom.training.words import IN_SETS, LIFTS, SPRINTS, WEEKDAYS, Run, WeekKind

OUT = "removed."
"""What names of nodes begin with that say what the coach has taken out: `removed.back_squat`."""


@dataclass(frozen=True)
class Past:
    """One athlete's earlier revision, seen from the day on which the rest is planned again.

    Args:
        since: first day that may change.
        programme: the athlete's weeks of the earlier revision; None for somebody who joins now.
        was: what the earlier revision's brief and rulebook said.
        unmet: what the earlier revision could not fulfil for this athlete.
        through_locks: whether sessions that are locked as a whole are drafted too, to see what lies behind.
    """

    since: date
    programme: AthleteProgramme | None
    was: Ledger
    unmet: tuple[Unmet, ...] = ()
    through_locks: bool = False

    @cached_property
    def weeks(self) -> Mapping[int, Week]:
        """The earlier weeks by number."""
        return {week.number: week for week in (self.programme.weeks if self.programme else ())}

    @cached_property
    def over(self) -> frozenset[str]:
        """Refs of the lines of sessions that are over."""
        return frozenset(
            line.ref
            for number in self.weeks
            for session in self.frozen(number)
            for line in session.prescriptions
        )

    @property
    def kinds(self) -> dict[int, WeekKind]:
        """Kinds of the weeks that are over."""
        return {number: week.kind for number, week in self.weeks.items() if self.is_over(week.monday)}

    def is_over(self, monday: date) -> bool:
        """Say whether all days of a week lie before the day from which things may change."""
        return monday + timedelta(days=6) < self.since

    def frozen(self, number: int) -> tuple[Session, ...]:
        """Give a week's sessions that are over."""
        return tuple(session for session in self.sessions(number) if session.date < self.since)

    def ahead(self, number: int) -> tuple[Session, ...]:
        """Give a week's sessions that may still change."""
        return tuple(session for session in self.sessions(number) if session.date >= self.since)

    def taken_out(self, number: int) -> frozenset[str]:
        """Give the slots whose session of a week the coach has taken out."""
        week = self.weeks.get(number)
        names = week.basis if week else ()
        return frozenset(name.removeprefix(OUT) for name in names if name.startswith(OUT))

    def sessions(self, number: int) -> tuple[Session, ...]:
        """Give a week's sessions of the earlier revision."""
        week = self.weeks.get(number)
        return week.sessions if week else ()

    def trained(self, number: int, *, athlete: Athlete) -> tuple[Session, ...]:
        """Give a week's sessions that are over and were not lost to an absence."""
        return tuple(
            session
            for session in self.frozen(number)
            if not any(away.covers(session.date) for away in athlete.away)
        )

    def as_planned(self, athlete: Athlete) -> Athlete:
        """Give the athlete without absences on days that are over and had a session.

        A day that was lost keeps the roles of the days around it: nothing moves because of it.
        """
        held = {session.date for week in self.weeks for session in self.frozen(week)}
        return athlete.model_copy(update={"away": tuple(_without(athlete.away, held))})


def _without(spans: tuple[Away, ...], held: set[date]) -> Iterator[Away]:
    for span in spans:
        last = span.until or span.date
        days = (span.date + timedelta(days=more) for more in range((last - span.date).days + 1))
        yield from (Away(date=day) for day in days if day not in held)


def past_day(session: Session, *, places: Mapping[str, Place], fast: float) -> Day | None:
    """Give a session that is over as a day, from what it held; None where its place is not known any more.

    Args:
        session: the session.
        places: the brief's places by ref.
        fast: the share of an athlete's best from which a run makes a day a fast one (rule S8).
    """
    place = places.get(session.place)
    if place is None:
        return None
    slot = Slot(
        ref=session.slot or session.ref,
        day=WEEKDAYS[session.date.weekday()],
        start=session.start,
        minutes=round(session.minutes_available),
        place=session.place,
    )
    work = [line for line in session.prescriptions if line.purpose == "work"]
    hard = any(line.method in SPRINTS and (line.effort or 1.0) >= fast for line in work)
    jumps = any(line.method == "plyometric" for line in work)
    return Day(session.date, slot, place, role=session.role, easy=not hard, jumps=jumps)


def refs_of(weeks: tuple[Week, ...]) -> list[str]:
    """List the refs of sessions and lines, in order."""
    return [
        ref
        for week in weeks
        for session in week.sessions
        for ref in (session.ref, *(line.ref for line in session.prescriptions))
    ]


def stays_locked(session: Session, *, ledger: Ledger, was: Ledger) -> bool:
    """Say whether a session locked as a whole can stay as it is: all its numbers still rest on the same."""
    return session.locked and all(
        stands(ledger, ledger.named(node), was=was)
        for line in session.prescriptions
        for node in line.basis.values()
    )


def volume_of(line: Prescription) -> str | None:
    """Name the method whose week a line counts in, or None."""
    if line.purpose != "work":
        return None
    if line.method == "unloaded_sprint":
        return line.run
    counted = {"resisted_sprint", "plyometric", *IN_SETS}
    return line.method if line.method in counted else None


def unit_of(volume: str) -> Literal["m", "sets", "contacts"]:
    """Name the unit that a method's week is counted in; `volume` as `volume_of` gives it."""
    if volume in {*get_args(Run), "resisted_sprint"}:
        return "m"
    return "contacts" if volume == "plyometric" else "sets"


def amounts(sessions: Iterable[Session]) -> dict[str, float]:
    """Give the metres run (run-ins too) and the sets lifted in sessions as they stood."""
    found: dict[str, float] = {}
    for session in sessions:
        for line in session.prescriptions:
            if volume_of(line) is None:
                continue
            if line.method in SPRINTS:
                metres = (line.distance_m or 0.0) + (line.run_in_m or 0.0)
                found["m"] = found.get("m", 0.0) + line.sets * line.reps * metres
            elif line.method in LIFTS:
                found["sets"] = found.get("sets", 0.0) + line.sets
    return found


def load_of(session: Session, line: Prescription, *, past: Past, ledger: Ledger) -> Tag | None:
    """Give the load of an earlier sled line: its own node, or the line itself where the brief has changed.

    What an earlier revision took the load from is taken again: without news nothing changes.
    """
    node = line.basis.get("load_kg")
    if volume_of(line) != "resisted_sprint" or line.kit is None or line.load_kg is None or node is None:
        return None
    tag = ledger.named(node)
    if session.date >= past.since:
        return tag
    as_it_stood = ledger.given("load", line.load_kg, "kg", f"past:{line.ref}.load_kg")
    known = ledger.name_of(as_it_stood) is not None
    return as_it_stood if known or not stands(ledger, tag, was=past.was) else tag


def stands(ledger: Ledger, tag: Tag, *, was: Ledger) -> bool:
    """Say whether all that a node rests on reads the same in the brief now as in the brief then."""
    for link in ledger.links_of(tag).values():
        if isinstance(link, Tag):
            if not stands(ledger, link, was=was):
                return False
        elif not _reads_the_same(ledger, link, was):
            return False
    return True


def _reads_the_same(ledger: Ledger, link: str, was: Ledger) -> bool:
    kind, _, rest = link.partition(":")
    if kind == "past":
        return True  # What is over never changes.
    if kind == "test":
        now, then = (
            [trial for trial in one.brief.measurements.trials if trial.session == rest]
            for one in (ledger, was)
        )
        return now == then
    try:
        return bool(ledger.value_of(link) == was.value_of(link))
    except (LookupError, AttributeError, ValueError):
        return False
