"""Coming back: after two weeks or more off, and after a restriction has ended."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from speedloom.planning.calendar_week import Day
from speedloom.planning.setting import Plan
from speedloom.planning.weeks import WeekPlan
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.calendar import monday_of

LADDER = tuple(f"step_{step}" for step in range(1, 7))


def returning_week(
    plan: Plan, week: WeekPlan, *, first: date, last: Day | None, before: int | None
) -> int | None:
    """Give the week's number after a break or a long restriction (from 1 on), or None (rule D3).

    Args:
        plan: the athlete's plan.
        week: the week.
        first: the week's first day of training, or its Monday.
        last: the session before this week, None at the start.
        before: what the week before was given.
    """
    off = plan.number("return_after_break", "weeks_off")
    if last is None:
        # Who begins later than the programme was not in training, whatever the first week was called.
        gap = plan.athlete.weeks_off >= off or week.number > 1
    else:
        gap = first - last.date > timedelta(weeks=off)
    if gap or _freed(plan, week, weeks=off):
        return 1
    if before is None or before >= plan.rulebook.steps("return_after_break", "cut"):
        return None
    return before + 1


def just_back(plan: Plan, day: date, *, done: tuple[Day, ...]) -> bool:
    """Say whether a day lies in the first week after a short time off (rule D3's shorter sibling)."""
    days = [one.date for one in done if one.date < day]
    off = timedelta(days=plan.number("return_after_break", "short_days"))
    for earlier, later in pairwise([*days, day]):
        if later - earlier > off and day - later < timedelta(weeks=1):
            return True
    return False


def _freed(plan: Plan, week: WeekPlan, *, weeks: float) -> bool:
    """Say whether a restriction that held for weeks has ended just before this week."""
    return any(
        restriction.until is not None
        and monday_of(restriction.until + timedelta(days=1)) == week.monday
        and restriction.until - restriction.from_ >= timedelta(weeks=weeks)
        for restriction in plan.athlete.restrictions
    )


def limits_on(plan: Plan, day: date, *, field_days: tuple[date, ...]) -> tuple[Limit, ...]:
    """Give the limits of a date: what holds, and the next step of speed after what has ended.

    Args:
        plan: the athlete's plan.
        day: the session's date.
        field_days: dates of the athlete's field sessions so far.
    """
    held = [
        limit
        for restriction in plan.athlete.restrictions
        if restriction.holds(day)
        for limit in restriction.limits
    ]
    ended = [one for one in plan.athlete.restrictions if one.until is not None and one.until < day]
    return (*held, *(step for one in ended for step in _steps(plan, one, day, field_days)))


def _steps(plan: Plan, ended: Restriction, day: date, field_days: tuple[date, ...]) -> list[Limit]:
    since = sum(1 for done in field_days if ended.until is not None and ended.until < done < day)
    steps = []
    for limit in ended.limits:
        if limit.what != "share_vmax":
            continue
        ladder = [plan.number("return_ladder", step) for step in LADDER]
        higher = [share for share in ladder if share > limit.at_most]
        if since < len(higher) - 1:
            steps.append(limit.model_copy(update={"at_most": higher[since]}))
    return steps
