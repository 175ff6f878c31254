"""Why an athlete cannot be planned, and what would make it possible, cheapest first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from speedloom.planning.problem import Filled

Facts = tuple[tuple[str, float | str], ...]


@dataclass(frozen=True)
class Repair:
    """A change to the brief that would make the programme possible; several steps are done together."""

    kind: str
    facts: Facts = ()
    also: tuple[Repair, ...] = ()

    @property
    def steps(self) -> tuple[Repair, ...]:
        """Every step by itself."""
        return (Repair(self.kind, self.facts), *self.also)


NO_REPAIR = Repair("")


@dataclass(frozen=True)
class Overfull:
    """A session whose smallest possible content is longer than its slot."""

    athlete: str
    week: int
    date: date
    slot: str
    place: str
    parts: tuple[tuple[str, float], ...]
    down_min: float
    available_min: float

    @property
    def needed_min(self) -> float:
        """The minutes of everything that may not be left out."""
        return sum(minutes for _, minutes in self.parts) + self.down_min

    def fits_without(self, start: tuple[str, ...]) -> bool:
        """Say whether the session fits when the parts whose key starts like this are gone."""
        gone = sum(minutes for key, minutes in self.parts if key.startswith(start))
        return self.needed_min - gone <= self.available_min

    def smallest_conflict(self) -> tuple[str, ...]:
        """Leave out parts, shortest first, while the rest still does not fit."""
        room = self.available_min - self.down_min
        kept = dict(self.parts)
        for key, _ in sorted(self.parts, key=lambda item: (item[1], item[0])):
            rest = {name: minutes for name, minutes in kept.items() if name != key}
            if sum(rest.values()) > room:
                kept = rest
        return tuple(sorted(kept))


@dataclass(frozen=True)
class Clash:
    """What cannot be kept together: a value with a reason, not an exception.

    The first fields speak of the slot that asks most; `also` holds the other slots' clashes. `repair` is the
    cheapest repair of everything, `more` what else a coach may try, cheapest first.
    """

    athletes: tuple[str, ...]
    weeks: tuple[int, ...]
    dates: tuple[date, ...]
    slot: str | None
    place: str | None
    tags: tuple[str, ...]
    facts: Facts
    repair: Repair
    more: tuple[Repair, ...] = ()
    also: tuple[Clash, ...] = ()
    sessions: tuple[Overfull, ...] = ()


def overfull(session: Filled) -> Overfull | None:
    """Give a session whose smallest possible content is longer than its slot, or None."""
    parts = tuple(
        (draft.key, draft.minutes_for(min(draft.counts()))) for draft in session.drafts if not draft.optional
    )
    day = session.setting.day
    found = Overfull(
        athlete=session.setting.plan.athlete.ref,
        week=session.setting.week.number,
        date=day.date,
        slot=day.slot.ref,
        place=day.place.ref,
        parts=parts,
        down_min=session.down_min,
        available_min=session.available_min,
    )
    return found if found.needed_min > found.available_min else None


def clash_of(sessions: Iterable[Overfull]) -> Clash:
    """Merge the sessions that do not fit: one clash a slot, the one that asks most first."""

    def slot(session: Overfull) -> str:
        return session.slot

    of_slots = [_of_slot(list(those)) for _, those in groupby(sorted(sessions, key=slot), key=slot)]
    worst = max(of_slots, key=lambda clash: (float(dict(clash.facts)["minutes_needed"]), -clash.weeks[0]))
    others = tuple(clash for clash in of_slots if clash is not worst)
    return Clash(**{**vars(worst), "also": others})


def _of_slot(sessions: list[Overfull]) -> Clash:
    worst = max(sessions, key=lambda session: (session.needed_min, -session.week, session.athlete))
    days = sorted({session.date for session in sessions})
    return Clash(
        athletes=tuple(sorted({session.athlete for session in sessions})),
        weeks=tuple(sorted({session.week for session in sessions})),
        dates=(days[0], days[-1]),
        slot=worst.slot,
        place=worst.place,
        tags=("slot_minutes", *worst.smallest_conflict()),
        facts=(("minutes_needed", worst.needed_min), ("minutes_available", worst.available_min)),
        repair=NO_REPAIR,
        sessions=tuple(sessions),
    )


def unscreened(athletes: tuple[str, ...]) -> Clash:
    """Explain athletes who are not cleared (rule H1): no vigorous plan."""
    return Clash(athletes, (), (), None, None, ("screening",), (), NO_REPAIR)


def no_slot(athletes: tuple[str, ...], *, start: date, end: date) -> Clash:
    """Explain a brief whose slots never meet its dates."""
    return Clash(athletes, (), (start, end), None, None, ("no_slot",), (), NO_REPAIR)


def no_athlete() -> Clash:
    """Explain a brief that names nobody and whose tests hold nobody."""
    return Clash((), (), (), None, None, ("no_athlete",), (), NO_REPAIR)
