"""An athlete's weeks before any count is chosen: which sessions there are, and the lines they could hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from speedloom.planning.calendar_week import Day, days_of_week
from speedloom.planning.clash import overfull
from speedloom.planning.holding import set_by_hand
from speedloom.planning.keeping import matched
from speedloom.planning.ledger import Tag
from speedloom.planning.past import Past, past_day, stays_locked
from speedloom.planning.problem import Filled
from speedloom.planning.returning import just_back, limits_on, returning_week
from speedloom.planning.sessions import fill
from speedloom.planning.setting import Plan, Setting
from speedloom.planning.week_numbers import week_factor, week_point, week_specificity
from speedloom.planning.weeks import WeekPlan, lay_out
from speedloom.training.calendar import Slot
from speedloom.training.programme import Session


@dataclass(frozen=True)
class DraftedWeek:
    """A week with its sessions' lines before any count is chosen, and the slots it lost.

    `trained` are days that need no drafting: they are over, or their session is locked as a whole. A week
    that is over altogether has nothing else.
    """

    week: WeekPlan
    specificity: Tag
    sessions: tuple[Filled, ...]
    lost: tuple[Slot, ...]
    gym: bool
    trained: tuple[Day, ...] = ()
    over: bool = False
    returning: int | None = None
    locked: tuple[Session, ...] = ()

    @property
    def days(self) -> tuple[Day, ...]:
        """The week's days of training, in order."""
        days = (*self.trained, *(session.setting.day for session in self.sessions))
        return tuple(sorted(days, key=lambda day: day.at))


@dataclass(frozen=True)
class _SoFar:
    """What a week is drafted after."""

    days: tuple[Day, ...] = ()
    returning: int | None = None
    last_loading: Tag | None = None


def draft_weeks(plan: Plan) -> Iterator[DraftedWeek]:
    """Draft an athlete's weeks one by one; nothing is solved, so what does not fit is seen at once."""
    so_far = _SoFar()
    kinds = plan.past.kinds if plan.past else None
    for week in lay_out(plan.brief, in_training=plan.athlete.in_training, past=kinds):
        drafted = _week(plan, week, so_far)
        yield drafted
        if drafted.days:
            # A week whose every session a restriction took away is no week of training.
            so_far = replace(so_far, returning=drafted.returning, days=(*so_far.days, *drafted.days))
        if week.kind in {"loading", "break"}:
            # What a lighter week is measured against: the loading weeks since the last break.
            loading = drafted.specificity if week.kind == "loading" else None
            so_far = replace(so_far, last_loading=loading)


def _week(plan: Plan, week: WeekPlan, so_far: _SoFar) -> DraftedWeek:
    past = plan.past
    if past is None:
        days, lost = days_of_week(plan.brief, plan.athlete, week, rulebook=plan.rulebook, before=so_far.days)
        so_far = _returning(plan, week, days, so_far)
        drafted = _fill_week(plan, week, days, so_far, gym=any(day.gym for day in days))
        return replace(drafted, lost=(*lost, *drafted.lost))
    as_planned = past.as_planned(plan.athlete)
    days, lost = days_of_week(
        plan.brief,
        as_planned,
        week,
        rulebook=plan.rulebook,
        before=so_far.days,
        by_hand=set_by_hand(past.sessions(week.number)),
    )
    trained = _trained(plan, past, week, days)
    gym = any(day.gym for day in days)
    out = past.taken_out(week.number)
    ahead = tuple(day for day in days if day.date >= past.since and day.slot.ref not in out)
    so_far = _returning(plan, week, (*trained, *ahead), so_far)
    if past.is_over(week.monday):
        specificity = week_specificity(plan, week)
        return DraftedWeek(
            week, specificity, (), (), gym, trained=trained, over=True, returning=so_far.returning
        )
    locked = _locked(plan, past, week, ahead)
    so_far = replace(so_far, days=(*so_far.days, *trained))
    drafted = _fill_week(plan, week, tuple(day for day in ahead if day not in locked), so_far, gym=gym)
    left = tuple(slot for slot in lost if slot.on(week.monday) >= past.since)
    return replace(
        drafted,
        lost=(*left, *drafted.lost),
        trained=(*trained, *locked),
        locked=tuple(locked.values()),
    )


def _locked(plan: Plan, past: Past, week: WeekPlan, ahead: tuple[Day, ...]) -> dict[Day, Session]:
    """Give the days whose session is locked as a whole and stays; any other lock is held line by line."""
    if past.through_locks:
        return {}
    sessions = matched(ahead, past.ahead(week.number))
    return {
        day: session
        for day, session in zip(ahead, sessions, strict=True)
        if session is not None
        and (day.date, day.slot.start) == (session.date, session.start)
        and stays_locked(session, ledger=plan.ledger, was=past.was)
    }


def _returning(plan: Plan, week: WeekPlan, days: tuple[Day, ...], so_far: _SoFar) -> _SoFar:
    last = so_far.days[-1] if so_far.days else None
    first = days[0].date if days else week.monday
    back = returning_week(plan, week, first=first, last=last, before=so_far.returning)
    return replace(so_far, returning=back)


def _trained(plan: Plan, past: Past, week: WeekPlan, days: tuple[Day, ...]) -> tuple[Day, ...]:
    """Give the days of a week that are over and were trained, as they were planned where that still holds."""
    known = {(day.date, day.slot.ref): day for day in days}
    places = {place.ref: place for place in plan.brief.places}
    fast = plan.number("sprint_gap", "fast_share")

    def day_of(session: Session) -> Day | None:
        return known.get((session.date, session.slot or "")) or past_day(session, places=places, fast=fast)

    done = (day_of(session) for session in past.trained(week.number, athlete=plan.athlete))
    return tuple(sorted((day for day in done if day is not None), key=lambda day: day.at))


def _fill_week(
    plan: Plan, week: WeekPlan, days: tuple[Day, ...], so_far: _SoFar, *, gym: bool
) -> DraftedWeek:
    specificity, point = week_specificity(plan, week), week_point(plan, week)
    kept: list[Filled] = []
    shut: list[Slot] = []
    for day in days:
        done = (*so_far.days, *(session.setting.day for session in kept))
        setting = Setting(
            plan,
            week,
            day,
            specificity,
            point,
            week_factor(
                plan,
                week,
                day,
                returning=so_far.returning,
                just_back=just_back(plan, day.date, done=done),
            ),
            limits=limits_on(plan, day.date, field_days=_field_days(done)),
            returning=so_far.returning,
            last_loading=so_far.last_loading,
        )
        filled = fill(setting, gym_in_week=gym)
        if _shut(filled):
            shut.append(day.slot)
        else:
            kept.append(filled)
    return DraftedWeek(week, specificity, tuple(kept), tuple(shut), gym, returning=so_far.returning)


def _field_days(days: tuple[Day, ...]) -> tuple[date, ...]:
    return tuple(day.date for day in days if not day.gym)


def _shut(session: Filled) -> bool:
    """Say whether nothing but a warm-up is left, or a restriction leaves too few minutes for any training."""
    if not any(draft.purpose == "work" for draft in session.drafts):
        return True
    restricted = session.available_min < session.setting.day.slot.minutes
    return restricted and overfull(session) is not None
