"""Tests to profiles: what each day's trials say about each athlete, with bands and warnings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from speedloom.planning.measured import FEWEST_GATES, Estimated
from speedloom.science.mechanics.air import dry_air_density
from speedloom.training.measurement import Measurements, Trial
from speedloom.training.profile import Air, Estimate, FittedSplit, Profile, TrialsUsed
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_fit import FittedProfile, fit_runs
from speedloom.workflows.profile_surroundings import Person, surroundings
from speedloom.workflows.profile_traces import trace_profiles
from speedloom.workflows.profile_warnings import beyond_sprinters, day_warnings, fit_warnings
from speedloom.workflows.sprint_runs import Runs, SprintDay, TrialRule, sprint_days


@dataclass(frozen=True)
class RefusedRun:
    """A trial that cannot be true, where it stood, and why."""

    profile: str
    athlete: str
    date: date
    trial: int
    why: str


def fitted_profiles(
    measurements: Measurements,
    *,
    trial_rule: TrialRule,
    rulebook: Rulebook,
    people: Mapping[str, Person],
) -> tuple[FittedProfile, ...]:
    """Fit every day's sprint trials, in order of athlete, date and timing method."""
    days = sprint_days(measurements.trials, trial_rule=trial_rule)
    found = (_fit(day, rulebook=rulebook, people=people) for day in days)
    return tuple(fitted for fitted in found if fitted is not None)


def newest_by_athlete(fitted: tuple[FittedProfile, ...], *, until: date) -> dict[str, FittedProfile]:
    """Give each athlete's newest fit on or before a date.

    On one day a stopwatch counts only where nothing better tells an acceleration length; else the one with
    most gates, gates first.
    """
    order = sorted(fitted, key=_rank)
    return {one.athlete: one for one in order if one.date <= until}


def _rank(one: FittedProfile) -> tuple[object, ...]:
    enough = min(one.gates, FEWEST_GATES)
    return (one.date, enough, one.timing != "hand", one.gates, one.timing == "gates", one.ref)


def profile_measurements(
    measurements: Measurements,
    *,
    trial_rule: TrialRule,
    rulebook: Rulebook,
    people: Mapping[str, Person],
) -> tuple[Profile, ...]:
    """Make a profile of every athlete, date and timing method, in that order."""
    days = sprint_days(measurements.trials, trial_rule=trial_rule)
    profiles = {day.ref: _profile(day, trial_rule, rulebook=rulebook, people=people) for day in days}
    for profile in trace_profiles(
        measurements.traces, trial_rule=trial_rule, rulebook=rulebook, people=people
    ):
        profiles.setdefault(profile.ref, profile)
    return tuple(sorted(profiles.values(), key=lambda one: (one.athlete, one.date, one.timing)))


def refused_runs(profiles: tuple[Profile, ...]) -> tuple[RefusedRun, ...]:
    """List all trials that were refused."""
    return tuple(
        RefusedRun(profile.ref, profile.athlete, profile.date, refused.trial, refused.why)
        for profile in profiles
        for refused in profile.trials.refused
    )


def _fit(day: SprintDay, *, rulebook: Rulebook, people: Mapping[str, Person]) -> FittedProfile | None:
    if day.runs is None:
        return None
    first = day.runs.first
    around = surroundings(first.timing, person=people.get(first.athlete), rulebook=rulebook, trial=first)
    return fit_runs(day.ref, day.runs, around=around, rulebook=rulebook)


def _profile(day: SprintDay, rule: TrialRule, *, rulebook: Rulebook, people: Mapping[str, Person]) -> Profile:
    fitted = _fit(day, rulebook=rulebook, people=people)
    trial = day.runs.first if day.runs else day.trials[0]
    content: dict[str, object] = {
        "ref": day.ref,
        "athlete": trial.athlete,
        "date": trial.date,
        "timing": trial.timing,
        "clock": trial.clock,
        "behind_m": trial.behind_m,
        "surface": trial.surface,
        "trials": TrialsUsed(used=day.runs.used if day.runs else (), rule=rule, refused=day.refused),
    }
    if fitted is None or day.runs is None:
        return Profile.model_validate({**content, **_nothing(trial, rulebook), "warnings": day_warnings(day)})
    shown = fitted.shrinkage_f0 <= rulebook.number("population_prior", "shown_below")
    beyond = beyond_sprinters(fitted, rulebook=rulebook, force_shown=shown)
    warnings = (*beyond, *day_warnings(day), *fit_warnings(fitted, day.runs, force_shown=shown))
    around = fitted.around
    return Profile.model_validate(
        {
            **content,
            "mass_kg": None if around.mass_assumed else around.mass_kg,
            "height_m": None if around.height_assumed else around.height_m,
            "air": Air(density_kgpm3=around.density_kgpm3, assumed=around.air_assumed),
            "timing_sd_s": around.timing_sd_s,
            **_estimates(fitted, rulebook.number("population_prior", "shown_below"), force_shown=shown),
            "splits": _splits(day.runs, fitted),
            "warnings": warnings,
        }
    )


def _nothing(trial: Trial, rulebook: Rulebook) -> dict[str, object]:
    warm, high = (rulebook.number("assumed_body", name) for name in ("temperature_c", "altitude_m"))
    return {
        "mass_kg": trial.mass_kg,
        "height_m": trial.height_m,
        "air": Air(density_kgpm3=float(dry_air_density(warm, high)), assumed=True),
        "timing_sd_s": rulebook.number("expected_time", f"timing_{trial.timing}_s"),
        **dict.fromkeys(("vmax_mps", "tau_s", "f0_npkg", "v0_mps", "pmax_wpkg", "offset_s")),
        "splits": (),
    }


def _estimates(fitted: FittedProfile, limit: float, *, force_shown: bool) -> dict[str, Estimate | None]:
    def of(estimate: Estimated | None, shrinkage: float | None) -> Estimate | None:
        return None if estimate is None else _shown(estimate, fitted, shrinkage or 0.0, limit)

    force = fitted.shrinkage_f0
    return {
        "vmax_mps": of(fitted.vmax_mps, fitted.shrinkage_vmax),
        "tau_s": of(fitted.tau_s, fitted.shrinkage_tau),
        "f0_npkg": of(fitted.f0_npkg, force) if force_shown else None,
        "v0_mps": of(fitted.v0_mps, force) if force_shown else None,
        "pmax_wpkg": of(fitted.pmax_wpkg, force) if force_shown else None,
        "offset_s": of(fitted.offset_s, fitted.shrinkage_offset),
    }


def _shown(estimate: Estimated, fitted: FittedProfile, shrinkage: float, limit: float) -> Estimate:
    driven = fitted.prior != "none" and shrinkage > limit
    return Estimate(value=estimate.value, low=estimate.low, high=estimate.high, prior_driven=driven)


def _splits(runs: Runs, fitted: FittedProfile) -> tuple[FittedSplit, ...]:
    return tuple(
        FittedSplit(distance_m=at, time_s=time + runs.early_s, fitted_s=fit)
        for at, time, fit in zip(runs.distances_m, runs.times_s, fitted.fitted_s, strict=True)
    )
