"""Fitted values of a test day: top speed and start force, and the curve of all its trials together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from speedloom.planning.measured import FEWEST_GATES
from speedloom.training.measurement import Measurements, Trial
from speedloom.training.profile import Estimate, Profile
from speedloom.training.rule import Rulebook
from speedloom.training.typical_error import MeasureKind
from speedloom.workflows.profile_athlete import fitted_profiles, profile_measurements
from speedloom.workflows.profile_surroundings import Person
from speedloom.workflows.retest_values import DayValue, Measure, Setting, sprint_setting, usable_runs

_FITTED: tuple[tuple[MeasureKind, str], ...] = (("vmax", "vmax_mps"), ("f0", "f0_npkg"))


@dataclass(frozen=True)
class DayCurve:
    """The profile of all alike trials of an athlete's day, by the mean of their times."""

    athlete: str
    date: date
    setting: Setting
    profile: Profile


def fitted_values(
    trials: Iterable[Trial], *, rulebook: Rulebook, people: Mapping[str, Person]
) -> tuple[tuple[DayValue, ...], tuple[DayCurve, ...]]:
    """Fit every athlete's day with three gates or more.

    Values that lean on what is usual are left out, for they hide a change.
    """
    days: dict[tuple[str, date, Setting], list[Trial]] = {}
    for trial in usable_runs(trials):
        if trial.start != "flying" and len(trial.splits) >= FEWEST_GATES:
            days.setdefault((trial.athlete, trial.date, sprint_setting(trial)), []).append(trial)
    curves = []
    values: list[DayValue] = []
    for (athlete, day, setting), alike in days.items():
        made = profile_measurements(
            Measurements(trials=tuple(alike)), trial_rule="mean", rulebook=rulebook, people=people
        )
        for profile in made:
            curves.append(DayCurve(athlete, day, setting, profile))
            singles = [one for one in alike if one.trial in profile.trials.used]
            values += _of_profile(profile, setting, singles, rulebook=rulebook, people=people)
    return tuple(values), tuple(curves)


def _of_profile(
    profile: Profile,
    setting: Setting,
    singles: list[Trial],
    *,
    rulebook: Rulebook,
    people: Mapping[str, Person],
) -> Iterator[DayValue]:
    wanted = [(kind, field) for kind, field in _FITTED if _rests_on_the_test(getattr(profile, field))]
    if not wanted:
        return
    fits = [
        fit
        for trial in singles
        for fit in fitted_profiles(
            Measurements(trials=(trial,)), trial_rule="best", rulebook=rulebook, people=people
        )
    ]
    for kind, field in wanted:
        yield DayValue(
            athlete=profile.athlete, date=profile.date, measure=Measure(kind), setting=setting, rule="mean",
            trials=tuple(getattr(fit, field).value for fit in fits),
            fitted=getattr(profile, field).value,
        )  # fmt: skip


def _rests_on_the_test(estimate: Estimate | None) -> bool:
    return estimate is not None and not estimate.prior_driven
