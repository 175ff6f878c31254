"""Speed traces (radar, laser, encoder) to profiles: top speed and time constant, the model in speed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.air import dry_air_density
from speedloom.science.mechanics.traces import TraceFit, fit_speed_trace
from speedloom.training.measurement import Trace
from speedloom.training.profile import Air, Estimate, Profile, ProfileWarning, RefusedTrial, TrialsUsed
from speedloom.training.rule import Rulebook
from speedloom.workflows.sprint_runs import TrialRule

# A device hears the start late and noisily: the run counts from its first sample above a slow walk.
_MOVING_MPS = 0.5
_FEWEST_POINTS = 6
_FASTEST_MPS = 13.0
_NO_FORCE = "A speed trace gives top speed and time constant; force needs split times."


class Body(Protocol):
    """What a trace's profile repeats of a person."""

    @property
    def mass_kg(self) -> float | None:
        """Body mass [kg]."""

    @property
    def height_m(self) -> float | None:
        """Body height [m]."""


@dataclass(frozen=True)
class _Estimate:
    value: float
    se: float


def trace_profiles(
    traces: Iterable[Trace], *, trial_rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Body]
) -> tuple[Profile, ...]:
    """Make a profile of every athlete, date and device that left a speed trace."""
    days: dict[tuple[object, ...], list[Trace]] = {}
    for trace in sorted(traces, key=lambda one: (one.athlete, one.date, one.timing, one.trial)):
        days.setdefault((trace.athlete, trace.date, trace.timing), []).append(trace)
    return tuple(_profile(those, trial_rule, rulebook, people) for those in days.values())


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


def _fit(trace: Trace) -> TraceFit:
    times, speeds = _moving(trace)
    early = times[0]
    return fit_speed_trace([time - early for time in times], speeds, offset="fit")


def _usable(fit: TraceFit) -> bool:
    numbers = (fit.vmax_mps, fit.tau_s, fit.vmax_se_mps, fit.tau_se_s)
    return bool(fit.converged.all()) and all(math.isfinite(float(one[0])) for one in numbers)


def _profile(
    traces: Sequence[Trace], rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Body]
) -> Profile:
    why = {trace.trial: _why_refused(trace) for trace in traces}
    fits = {trace.trial: _fit(trace) for trace in traces if why[trace.trial] is None}
    why |= {number: "no_fit" for number, fit in fits.items() if not _usable(fit)}
    fits = {number: fit for number, fit in fits.items() if _usable(fit)}
    if rule == "best" and fits:
        best = max(fits, key=lambda number: float(fits[number].vmax_mps[0]))
        fits = {best: fits[best]}
    first, person = traces[0], people.get(traces[0].athlete)
    refused = tuple(RefusedTrial(trial=number, why=reason) for number, reason in why.items() if reason)
    warm, high = (rulebook.number("assumed_body", name) for name in ("temperature_c", "altitude_m"))
    return Profile(
        ref=f"{first.athlete}/{first.date.isoformat()}/{first.timing}",
        athlete=first.athlete,
        date=first.date,
        timing=first.timing,
        clock="unknown",
        behind_m=None,
        surface=None,
        trials=TrialsUsed(used=tuple(fits), rule=rule, refused=refused),
        mass_kg=person.mass_kg if person else None,
        height_m=person.height_m if person else None,
        air=Air(density_kgpm3=float(dry_air_density(warm, high)), assumed=True),
        timing_sd_s=rulebook.number("expected_time", f"timing_{first.timing}_s"),
        vmax_mps=_mean(
            [_Estimate(float(fit.vmax_mps[0]), float(fit.vmax_se_mps[0])) for fit in fits.values()]
        ),
        tau_s=_mean([_Estimate(float(fit.tau_s[0]), float(fit.tau_se_s[0])) for fit in fits.values()]),
        f0_npkg=None,
        v0_mps=None,
        pmax_wpkg=None,
        offset_s=None,
        splits=(),
        warnings=(ProfileWarning(id="no_force_from_trace", message=_NO_FORCE, field="f0_npkg"),),
    )


def _mean(estimates: Sequence[_Estimate]) -> Estimate | None:
    if not estimates:
        return None
    value = sum(one.value for one in estimates) / len(estimates)
    se = math.sqrt(sum(one.se**2 for one in estimates)) / len(estimates)
    return Estimate(value=value, low=value - BAND_90_SD * se, high=value + BAND_90_SD * se)
