"""Speed traces (radar, laser, encoder) to profiles: the motion fitted in speed, its start in the trace."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from speedloom.planning.measured import FEWEST_GATES, Estimated
from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.trace_profile import TraceProfile, fit_trace_profile
from speedloom.training.measurement import Trace
from speedloom.training.profile import Air, Estimate, Profile, ProfileWarning, RefusedTrial, TrialsUsed
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_fit import FittedProfile, Surroundings, population_prior
from speedloom.workflows.profile_surroundings import Person, surroundings
from speedloom.workflows.sprint_runs import TrialRule

# A device hears the start late and noisily: the run counts from its first sample above a slow walk.
_MOVING_MPS = 0.5
_FEWEST_POINTS = 6
_FASTEST_MPS = 13.0
_NO_FORCE = "The speed trace leaves the start too open: force is not shown."
_MASS = "The body mass is assumed; it changes the air drag a little."
_HEIGHT = "The height is assumed; it changes the air drag a little."


@dataclass(frozen=True)
class TraceDay:
    """One athlete's speed traces of one date and device, fitted; `fitted` is None where none can be used."""

    first: Trace
    used: tuple[int, ...]
    refused: tuple[RefusedTrial, ...]
    around: Surroundings
    fitted: FittedProfile | None


def trace_days(
    traces: Iterable[Trace], *, trial_rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Person]
) -> tuple[TraceDay, ...]:
    """Fit every athlete's, date's and device's speed traces, in that order."""
    days: dict[str, list[Trace]] = {}
    for trace in sorted(traces, key=lambda one: (one.athlete, one.date, one.timing, one.trial)):
        days.setdefault(trace.session, []).append(trace)
    return tuple(_day(those, trial_rule, rulebook, people) for those in days.values())


def trace_profiles(
    traces: Iterable[Trace], *, trial_rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Person]
) -> tuple[Profile, ...]:
    """Make a profile of every athlete, date and device that left a speed trace."""
    days = trace_days(traces, trial_rule=trial_rule, rulebook=rulebook, people=people)
    return tuple(_profile(day, trial_rule, rulebook) for day in days)


def fitted_traces(
    traces: Iterable[Trace], *, trial_rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Person]
) -> tuple[FittedProfile, ...]:
    """Give the fits of speed traces that planning can use."""
    days = trace_days(traces, trial_rule=trial_rule, rulebook=rulebook, people=people)
    return tuple(day.fitted for day in days if day.fitted is not None)


def _moving(trace: Trace) -> tuple[list[float], list[float]]:
    """Cut a trace to the run: from the first movement to the fastest sample."""
    fastest = max(range(len(trace.points)), key=lambda at: trace.points[at].speed_mps)
    before = [at for at in range(fastest) if trace.points[at].speed_mps < _MOVING_MPS]
    run = trace.points[(before[-1] + 1 if before else 0) : fastest + 1]
    return [point.time_s for point in run], [point.speed_mps for point in run]


def _why_refused(trace: Trace) -> str | None:
    times, speeds = _moving(trace)
    if len(times) < _FEWEST_POINTS or times[-1] <= times[0]:
        return "too_few_points"
    return "faster_than_anyone" if max(speeds) > _FASTEST_MPS else None


def _fit(trace: Trace, around: Surroundings) -> TraceProfile:
    times, speeds = _moving(trace)
    early = times[0]
    return fit_trace_profile(
        [time - early for time in times], speeds, mass_kg=around.mass_kg, drag_kgpm=around.drag_kgpm
    )


def _day(
    traces: Sequence[Trace], rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Person]
) -> TraceDay:
    first = traces[0]
    around = surroundings(first.timing, person=people.get(first.athlete), rulebook=rulebook)
    why = {trace.trial: _why_refused(trace) for trace in traces}
    fits = {trace.trial: _fit(trace, around) for trace in traces if why[trace.trial] is None}
    why |= {number: "no_fit" for number, fit in fits.items() if not fit.converged}
    fits = {number: fit for number, fit in fits.items() if fit.converged}
    if rule == "best" and fits:
        best = max(fits, key=lambda number: (fits[number].vmax_mps, -number))
        fits = {best: fits[best]}
    return TraceDay(
        first=first,
        used=tuple(fits),
        refused=tuple(RefusedTrial(trial=number, why=reason) for number, reason in why.items() if reason),
        around=around,
        fitted=_together(first, tuple(fits.values()), around, rulebook) if fits else None,
    )


def _together(
    first: Trace, fits: Sequence[TraceProfile], around: Surroundings, rulebook: Rulebook
) -> FittedProfile:
    """Give the mean of the logarithms of several fits, or the one there is."""
    force = np.sum([fit.force_covariance for fit in fits], axis=0) / len(fits) ** 2
    motion = np.sum([fit.motion_covariance for fit in fits], axis=0) / len(fits) ** 2
    f0, v0 = (_mean([getattr(fit, name) for fit in fits]) for name in ("f0_npkg", "v0_mps"))
    vmax, tau = (_mean([getattr(fit, name) for fit in fits]) for name in ("vmax_mps", "tau_s"))
    prior = population_prior(rulebook)
    power_sd = math.sqrt(force[0, 0] + force[1, 1] + 2 * force[0, 1])
    return FittedProfile(
        ref=first.session,
        athlete=first.athlete,
        date=first.date,
        timing=first.timing,
        clock="movement",
        behind_m=None,
        surface=None,
        gates=FEWEST_GATES,
        prior="none",
        around=around,
        f0_npkg=_estimated(f0, math.sqrt(force[0, 0])),
        v0_mps=_estimated(v0, math.sqrt(force[1, 1])),
        correlation=float(force[0, 1] / math.sqrt(force[0, 0] * force[1, 1])),
        pmax_wpkg=_estimated(f0 * v0 / 4, power_sd),
        vmax_mps=_estimated(vmax, math.sqrt(motion[0, 0])),
        tau_s=_estimated(tau, math.sqrt(motion[1, 1])),
        length_m=_estimated(vmax * tau, math.sqrt(motion[0, 0] + motion[1, 1] + 2 * motion[0, 1])),
        offset_s=None,
        shrinkage_f0=math.sqrt(force[0, 0]) / prior.log_f0_sd,
        shrinkage_vmax=math.sqrt(motion[0, 0]) / prior.log_vmax_sd,
        shrinkage_tau=math.sqrt(motion[1, 1]) / prior.log_tau_sd,
        shrinkage_offset=None,
        fitted_s=(),
        share_at_last_gate=1.0,
        by="profile.fit_trace",
    )


def _mean(values: Sequence[float]) -> float:
    return float(np.exp(np.mean(np.log(values))))


def _estimated(value: float, log_sd: float) -> Estimated:
    ratio = math.exp(BAND_90_SD * log_sd)
    return Estimated(value, value * float(log_sd), value / ratio, value * ratio)


def _profile(day: TraceDay, rule: TrialRule, rulebook: Rulebook) -> Profile:
    first, around, fitted = day.first, day.around, day.fitted
    shown = fitted is not None and fitted.shrinkage_f0 <= rulebook.number("population_prior", "shown_below")
    warnings = [ProfileWarning(id="mass_assumed", message=_MASS)] if around.mass_assumed else []
    warnings += [ProfileWarning(id="height_assumed", message=_HEIGHT)] if around.height_assumed else []
    if fitted is not None and not shown:
        warnings.append(ProfileWarning(id="no_force_from_trace", message=_NO_FORCE, field="f0_npkg"))
    names = ("vmax_mps", "tau_s", *(("f0_npkg", "v0_mps", "pmax_wpkg") if shown else ()))
    return Profile.model_validate(
        {
            **dict.fromkeys(("vmax_mps", "tau_s", "f0_npkg", "v0_mps", "pmax_wpkg", "offset_s")),
            "ref": first.session,
            "athlete": first.athlete,
            "date": first.date,
            "timing": first.timing,
            "clock": "movement",
            "behind_m": None,
            "surface": None,
            "trials": TrialsUsed(used=day.used, rule=rule, refused=day.refused),
            "mass_kg": None if around.mass_assumed else around.mass_kg,
            "height_m": None if around.height_assumed else around.height_m,
            "air": Air(density_kgpm3=around.density_kgpm3, assumed=around.air_assumed),
            "timing_sd_s": around.timing_sd_s,
            "splits": (),
            "warnings": tuple(warnings),
            **{name: _shown(getattr(fitted, name)) for name in names if fitted is not None},
        }
    )


def _shown(estimate: Estimated) -> Estimate:
    return Estimate(value=estimate.value, low=estimate.low, high=estimate.high)
