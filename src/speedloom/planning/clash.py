"""Why an athlete cannot be planned, and the cheapest repair."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import ceil

from speedloom.planning.problem import Filled

REPAIR_STEP_MIN = 5


@dataclass(frozen=True)
class Repair:
    """The cheapest change that would make the programme possible."""

    kind: str
    facts: tuple[tuple[str, float | str], ...] = ()


@dataclass(frozen=True)
class Clash:
    """What cannot be kept together: a value with a reason, not an exception."""

    athletes: tuple[str, ...]
    weeks: tuple[int, ...]
    dates: tuple[date, ...]
    slot: str | None
    place: str | None
    tags: tuple[str, ...]
    facts: tuple[tuple[str, float | str], ...]
    repair: Repair


def overfull(session: Filled) -> Clash | None:
    """Explain a session whose smallest possible content is longer than its slot, or None.

    The conflicting set is made as small as it can be: parts are left out, shortest first, while the rest
    still does not fit.
    """
    room = session.available_min - session.down_min
    parts = {
        draft.key: draft.minutes_for(min(draft.counts())) for draft in session.drafts if not draft.optional
    }
    if sum(parts.values()) <= room:
        return None
    kept = dict(parts)
    for key, _ in sorted(parts.items(), key=lambda item: (item[1], item[0])):
        rest = {name: minutes for name, minutes in kept.items() if name != key}
        if sum(rest.values()) > room:
            kept = rest
    needed = sum(parts.values()) + session.down_min
    longer = ceil((needed - session.available_min) / REPAIR_STEP_MIN) * REPAIR_STEP_MIN
    day = session.setting.day
    return Clash(
        athletes=(session.setting.plan.athlete.ref,),
        weeks=(session.setting.week.number,),
        dates=(day.date,),
        slot=day.slot.ref,
        place=day.place.ref,
        tags=("slot_minutes", *sorted(kept)),
        facts=(("minutes_needed", needed), ("minutes_available", session.available_min)),
        repair=Repair("lengthen_slot", (("slot", day.slot.ref), ("minutes", longer))),
    )


def merged(clashes: list[Clash]) -> Clash:
    """Merge the clashes of several weeks and athletes into the one that asks most."""

    def needed(clash: Clash) -> tuple[float, int]:
        longest = dict(clash.facts).get("minutes_needed", 0.0)
        return (float(longest), -clash.weeks[0] if clash.weeks else 0)

    worst = max(clashes, key=needed)
    same = [clash for clash in clashes if clash.slot == worst.slot and clash.tags[:1] == worst.tags[:1]]
    days = sorted({day for clash in same for day in clash.dates})
    return Clash(
        athletes=tuple(sorted({ref for clash in same for ref in clash.athletes})),
        weeks=tuple(sorted({week for clash in same for week in clash.weeks})),
        dates=(days[0], days[-1]) if days else (),
        slot=worst.slot,
        place=worst.place,
        tags=worst.tags,
        facts=worst.facts,
        repair=worst.repair,
    )


def unscreened(athletes: tuple[str, ...]) -> Clash:
    """Explain athletes who are not cleared (rule H1): no vigorous plan."""
    return Clash(athletes, (), (), None, None, ("screening",), (), Repair("clear_athlete"))


def no_slot(athletes: tuple[str, ...], *, start: date, end: date) -> Clash:
    """Explain a brief whose slots never meet its dates."""
    return Clash(athletes, (), (start, end), None, None, ("no_slot",), (), Repair("add_slot"))
