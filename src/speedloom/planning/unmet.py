"""What an athlete's week could not have, and why: news for the coach, not for the formulas."""

from __future__ import annotations

from speedloom.planning.ledger import Tag
from speedloom.planning.lines.opening import own_lines_here
from speedloom.planning.problem import Filled
from speedloom.planning.setting import Plan
from speedloom.planning.weeks import WeekPlan
from speedloom.training.calendar import Slot
from speedloom.training.programme import Unmet

METHOD_DAYS = {
    "unloaded_sprint": "field",
    "resisted_sprint": "field",
    "plyometric": "field",
    "power": "gym",
    "maximal_strength": "gym",
    "general_strength": "gym",
}
VOLUMES_OF = {method: {method} for method in METHOD_DAYS} | {"unloaded_sprint": {"acceleration", "top_speed"}}


def lost_slots(plan: Plan, week: WeekPlan, lost: tuple[Slot, ...]) -> list[Unmet]:
    """Say which slots events, matches or absences took away."""
    return [
        Unmet(athlete=plan.athlete.ref, week=week.number, wish="session", reason=slot.ref) for slot in lost
    ]


def short_of(
    plan: Plan,
    week: WeekPlan,
    filled: tuple[Filled, ...],
    *,
    wanted: dict[str, Tag],
    planned: dict[str, Tag],
) -> list[Unmet]:
    """Say which methods got clearly less than they should have; rounding and a lighter week are no news."""
    if week.kind == "deload":
        return []
    limited = any(session.setting.limits for session in filled)
    done = set(wanted)
    told_below = plan.number("weeks_ramp", "told_below")
    found = _own_left_out(plan, week, filled)
    found += _no_top_speed(plan, week, filled, limited=limited, done=done)
    found += _no_line(plan, week, filled, limited=limited, done=done)
    return found + [
        Unmet(
            athlete=plan.athlete.ref,
            week=week.number,
            wish="volume",
            method=volume,
            wanted=float(wanted[volume].value),
            got=float(planned[volume].value),
            reason="restriction" if limited else "slot_minutes",
        )
        for volume, units in sorted(_proposed(filled).items())
        if volume in wanted and float(planned[volume].value) < told_below * units
    ]


def _own_left_out(plan: Plan, week: WeekPlan, filled: tuple[Filled, ...]) -> list[Unmet]:
    """Say which of the coach's own lines a limit or a near match left out."""
    return [
        Unmet(
            athlete=plan.athlete.ref,
            week=week.number,
            wish="own_line",
            method=line.method,
            reason=line.ref,
        )
        for session in filled
        for line in own_lines_here(session.setting)
        if f"own_{line.ref}" not in {draft.key for draft in session.drafts}
    ]


def _no_line(
    plan: Plan, week: WeekPlan, filled: tuple[Filled, ...], *, limited: bool, done: set[str]
) -> list[Unmet]:
    """Say which of the coach's methods has no line in a full week, and why."""
    if week.kind not in {"loading", "in_season"} or len(filled) < _slots_in(plan, week):
        return []
    days = {"gym" if session.setting.day.gym else "field" for session in filled}
    gyms = {place.ref for place in plan.brief.places if place.kind == "gym"}
    ever = {"gym" if slot.place in gyms else "field" for slot in plan.brief.slots}
    return [
        Unmet(
            athlete=plan.athlete.ref,
            week=week.number,
            wish="frequency",
            method=method,
            wanted=1,
            got=0,
            reason="restriction" if limited else "kit_or_tests" if where in days else f"no_{where}_day",
        )
        for method, where in METHOD_DAYS.items()
        if method in plan.brief.phases.methods
        and not VOLUMES_OF[method].intersection(done)
        and (where in days or where not in ever)
        and (method != "resisted_sprint" or where not in days or _sled_day(filled))
    ]


def _sled_day(filled: tuple[Filled, ...]) -> bool:
    """Say whether a day of the week could have held a sled."""
    days = [session.setting.day for session in filled]
    return any(day.nearness == "free" and (day.role == "heavier" or day.sole) and not day.gym for day in days)


def _slots_in(plan: Plan, week: WeekPlan) -> int:
    """Count the week's slots, taken away or not: a day that fell out is news enough."""
    return sum(1 for slot in plan.brief.slots if slot.holds(slot.on(week.monday)))


def _proposed(filled: tuple[Filled, ...]) -> dict[str, float]:
    """Give each method's volume as the formulas propose it, before the minutes are counted."""
    proposed: dict[str, float] = {}
    for session in filled:
        for draft in session.drafts:
            if draft.volume is not None:
                units = draft.units_for(int(draft.proposed.value))
                proposed[draft.volume] = proposed.get(draft.volume, 0.0) + units
    return proposed


def _no_top_speed(
    plan: Plan, week: WeekPlan, filled: tuple[Filled, ...], *, limited: bool, done: set[str]
) -> list[Unmet]:
    """Say that a loading week has field days and no top-speed runs: a limit, or a short straight."""
    field_days = [session.setting for session in filled if not session.setting.day.gym]
    wished = week.kind in {"loading", "in_season"} and "unloaded_sprint" in plan.brief.phases.methods
    free = [
        one for one in field_days if one.day.nearness != "primer" and not one.day.easy and not one.cautious
    ]
    if not wished or not free or "top_speed" in done:
        return []
    reason = "restriction" if limited else "straight"
    return [Unmet(athlete=plan.athlete.ref, week=week.number, wish="top_speed_runs", reason=reason)]
