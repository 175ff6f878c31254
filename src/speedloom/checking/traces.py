"""Which of a day's speed traces a profile rests on, fitted again (formula `profile.fit_trace`)."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, fsum, log, sqrt

from speedloom.checking.trials import TrialRule
from speedloom.errors import SpeedloomError
from speedloom.science.mechanics.trace_profile import TraceProfile, fit_trace_profile
from speedloom.training.measurement import Trace

_SLOW_MPS = 0.5
_FEWEST = 6
_WILD_MPS = 13.0
_NORMAL_90 = 1.644854
Band = tuple[float, float | None, float | None]


def chosen_traces(
    traces: Sequence[Trace], *, rule: TrialRule, mass_kg: float, drag_kgpm: float
) -> tuple[TraceProfile, ...]:
    """Give the fits a profile rests on: the best one, or all that can be used; none where there is none."""
    fits = [
        fit
        for trace in sorted(traces, key=lambda one: one.trial)
        if (fit := _fit(trace, mass_kg, drag_kgpm)) is not None
    ]
    if rule == "best":
        # The first of equals: `max` keeps the lowest number.
        fits = [max(fits, key=lambda fit: fit.vmax_mps)] if fits else []
    return tuple(fits)


def band(quantity: str, fits: Sequence[TraceProfile]) -> Band | None:
    """Give value, low and high of one quantity of the fits together, or None for one they do not hold."""
    if quantity == "correlation":
        both = _sum(fits, "force", 0, 1) / sqrt(_sum(fits, "force", 0, 0) * _sum(fits, "force", 1, 1))
        return both, None, None
    force = {"f0": ("f0_npkg", 0), "v0": ("v0_mps", 1)}
    motion = {"vmax": ("vmax_mps", 0), "tau": ("tau_s", 1)}
    if quantity in force:
        name, at = force[quantity]
        return _around(_middle(fits, name), _sum(fits, "force", at, at))
    if quantity in motion:
        name, at = motion[quantity]
        return _around(_middle(fits, name), _sum(fits, "motion", at, at))
    if quantity == "length":
        parts = [_sum(fits, "motion", one, other) for one in (0, 1) for other in (0, 1)]
        return _around(_middle(fits, "vmax_mps") * _middle(fits, "tau_s"), fsum(parts))
    return None


def _fit(trace: Trace, mass_kg: float, drag_kgpm: float) -> TraceProfile | None:
    points = trace.points
    top = max(point.speed_mps for point in points)
    peak = [point.speed_mps for point in points].index(top)
    slow = [at for at, point in enumerate(points[:peak]) if point.speed_mps < _SLOW_MPS]
    run = points[slow[-1] + 1 if slow else 0 : peak + 1]
    if len(run) < _FEWEST or top > _WILD_MPS:
        return None
    times = [point.time_s - run[0].time_s for point in run]
    try:
        fit = fit_trace_profile(
            times, [point.speed_mps for point in run], mass_kg=mass_kg, drag_kgpm=drag_kgpm
        )
    except SpeedloomError:
        return None
    return fit if fit.converged else None


def _middle(fits: Sequence[TraceProfile], name: str) -> float:
    return exp(fsum(log(getattr(fit, name)) for fit in fits) / len(fits))


def _sum(fits: Sequence[TraceProfile], which: str, one: int, other: int) -> float:
    entries = [float(getattr(fit, f"{which}_covariance")[one, other]) for fit in fits]
    return fsum(entries) / len(fits) ** 2


def _around(value: float, variance: float) -> Band:
    ratio = exp(_NORMAL_90 * sqrt(variance))
    return value, value / ratio, value * ratio
