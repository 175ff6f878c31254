"""The numbers of a week: how specific it is, and its share of a full week."""

from __future__ import annotations

from datetime import timedelta

from speedloom.planning.calendar_week import Day
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.setting import Plan
from speedloom.planning.weeks import SEASON_CYCLE, WeekPlan, main_peaks


def week_specificity(plan: Plan, week: WeekPlan) -> Tag:
    """Enter how specific a week is."""
    if week.season_place is not None:
        return plan.ledger.compute(
            "specificity",
            "share",
            "weeks.in_season",
            low="rule:in_season.specificity_low",
            high="rule:in_season.specificity_high",
            place=literal(week.season_place),
        )
    if week.kind == "break":
        return plan.ledger.rule("specificity", "weeks_ramp", "restart_specificity")
    return plan.ledger.compute(
        "specificity",
        "share",
        "weeks.specificity",
        first=week.first_specificity,
        last="brief:phases.specificity.1",
        mesocycle=literal(week.of_mesocycle),
        mesocycles=literal(week.mesocycles),
        before=literal(week.loading_before),
        loading=literal(week.loading),
    )


def week_point(plan: Plan, week: WeekPlan) -> Tag:
    """Enter where a week's repetitions and sets are read: the same all through a mesocycle."""
    if week.season_place is not None:
        return plan.ledger.rule("mesocycle point", "in_season", "point")
    if week.kind == "break":
        return plan.ledger.rule("mesocycle point", "weeks_ramp", "restart_specificity")
    return plan.ledger.compute(
        "mesocycle point",
        "share",
        "weeks.mesocycle_point",
        first=week.first_specificity,
        last="brief:phases.specificity.1",
        mesocycle=literal(week.of_mesocycle),
        mesocycles=literal(week.mesocycles),
    )


def week_factor(
    plan: Plan, week: WeekPlan, day: Day, *, returning: int | None, just_back: bool = False
) -> Tag:
    """Enter a session's share of a full week: ramp, deload, taper, season, exams, return after a break."""
    ledger = plan.ledger
    taper_days = plan.brief.phases.taper_days
    if taper_days and day.days_to_peak is not None and day.days_to_peak <= taper_days:
        return ledger.compute(
            "taper",
            "1",
            "taper.factor",
            days_to_peak=literal(day.days_to_peak),
            taper_days="brief:phases.taper_days",
            far="rule:weeks_ramp.taper_far",
            near="rule:weeks_ramp.taper_near",
            short="rule:weeks_ramp.taper_short",
        )
    factor = _ramp(plan, week)
    if any(timedelta(0) < day.date - peak < timedelta(weeks=1) for peak in main_peaks(plan.brief)):
        factor = ledger.rule("week's factor", "weeks_ramp", "after_peak")
    near = day.days_to_minor
    if near is not None and near <= plan.number("weeks_ramp", "minor_peak_days"):
        factor = _less(plan, factor, "rule:weeks_ramp.minor_peak")
    if any(event.kind == "exam" and event.covers(day.date) for event in plan.brief.events):
        factor = _less(plan, factor, "rule:weeks_ramp.exam")
    if returning is not None:
        return _after_break(plan, f"cut_{returning}", factor)
    return _after_break(plan, "short_cut", factor) if just_back else factor


def _ramp(plan: Plan, week: WeekPlan) -> Tag:
    if week.season_place is None:
        return plan.ledger.rule("week's factor", "weeks_ramp", week.factor_number or "last_week_4")
    volume = plan.ledger.rule("week's factor", "in_season", "volume")
    easy = week.season_place == SEASON_CYCLE - 1
    return _less(plan, volume, "rule:in_season.easy_volume") if easy else volume


def _less(plan: Plan, factor: Tag, share: Input) -> Tag:
    return plan.ledger.compute("week's factor", "1", "product", week=factor, share=share)


def _after_break(plan: Plan, number: str, factor: Tag) -> Tag:
    cut: Input = f"rule:return_after_break.{number}"
    less = plan.ledger.compute("cut", "1", "product", cut=cut, sign=literal(-1))
    left = plan.ledger.compute("share left", "1", "total", whole=literal(1), less=less)
    return plan.ledger.compute("week's factor", "1", "least", week=factor, after_break=left)
