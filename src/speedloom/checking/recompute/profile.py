"""The profile of a day's trials, fitted again from the trials inside the document."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import exp, sqrt

from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number
from speedloom.checking.traces import band, chosen_traces
from speedloom.checking.trials import Runs, TrialRule, chosen_runs, motion_of, population_prior
from speedloom.errors import SpeedloomError
from speedloom.science.mechanics.prior import Prior
from speedloom.science.mechanics.profile import (
    ExponentialFit,
    ForceSpeedFit,
    fit_force_speed,
)
from speedloom.training.kept import of_people
from speedloom.training.measurement import Trace
from speedloom.training.rule import Rulebook

_NORMAL_90 = 1.644854
Band = tuple[float, float | None, float | None]


@dataclass(frozen=True)
class Body:
    """What a fit needs beside the times."""

    mass_kg: float
    drag_kgpm: float
    timing_sd_s: float


@of_people
@lru_cache(maxsize=512)
def _force(runs: Runs, body: Body, prior: Prior | None) -> ForceSpeedFit:
    return fit_force_speed(
        runs.distances_m,
        runs.times_s,
        timing_sd_s=body.timing_sd_s,
        start=runs.start,
        behind_m=runs.behind_m,
        mass_kg=body.mass_kg,
        drag_kgpm=body.drag_kgpm,
        wind_mps=runs.wind_mps,
        prior=prior,
    )


@dataclass(frozen=True)
class Refit:
    """One day's trials fitted by both models, each only when it is asked for."""

    runs: Runs
    arguments: Arguments
    prior: Prior | None

    @cached_property
    def motion(self) -> ExponentialFit:
        """Top speed and time constant."""
        return motion_of(self.runs, number(self.arguments, "timing_sd_s"), self.prior)

    @cached_property
    def force(self) -> ForceSpeedFit:
        """Force and speed with air drag."""
        names = ("mass_kg", "drag_kgpm", "timing_sd_s")
        return _force(self.runs, Body(*(number(self.arguments, name) for name in names)), self.prior)

    def band(self, quantity: str) -> Band:
        """Give value, low and high of one quantity.

        Raises:
            NotComputableError: the fit has no such quantity.
        """
        if quantity in _MOTION:
            return _from(self.motion, _MOTION[quantity])
        if quantity in _FORCE:
            return _from(self.force, _FORCE[quantity])
        if quantity == "length":
            value, sd = float(self.motion.length_m[0]), float(self.motion.length_sd_m[0])
            return value, value * exp(-_NORMAL_90 * sd / value), value * exp(_NORMAL_90 * sd / value)
        if quantity == "correlation":
            block = self.force.working_covariance[0]
            return float(block[0, 1] / sqrt(block[0, 0] * block[1, 1])), None, None
        if quantity == "offset":
            return self._offset()
        msg = f"a profile holds no {quantity}"
        raise NotComputableError(msg)

    def _offset(self) -> Band:
        if self.runs.start == "unknown":
            return _from(self.force, "offset_s")
        value = self.runs.reaction_s or 0.0
        return value, value, value


_MOTION: Mapping[str, str] = {"vmax": "vmax_mps", "tau": "tau_s"}
_FORCE: Mapping[str, str] = {"f0": "f0_npkg", "v0": "v0_mps"}


def _from(fit: ExponentialFit | ForceSpeedFit, name: str) -> Band:
    at = fit.names.index(name)
    low, high = fit.band()
    return float(fit.estimates[0, at]), float(low[0, at]), float(high[0, at])


def fitted(quantity: str, arguments: Arguments, *, rule: TrialRule, book: Rulebook) -> Band:
    """Give value, low and high of one quantity of a profile.

    Raises:
        NotComputableError: there are no such trials, or they cannot be fitted.
    """
    runs = chosen_runs(arguments.get("trials", ()), rule=rule)
    if runs is None:
        msg = "no usable trials"
        raise NotComputableError(msg)
    prior = population_prior(book) if arguments.get("prior") == "population" else None
    try:
        return Refit(runs, arguments, prior).band(quantity)
    except SpeedloomError as error:
        raise NotComputableError(str(error)) from error


def fitted_trace(quantity: str, arguments: Arguments, *, rule: TrialRule) -> Band:
    """Give value, low and high of one quantity of a profile from speed traces.

    Raises:
        NotComputableError: there are no such traces, they cannot be fitted, or they hold no such quantity.
    """
    traces = arguments.get("trials", ())
    if not isinstance(traces, tuple) or not all(isinstance(one, Trace) for one in traces):
        msg = "no speed traces"
        raise NotComputableError(msg)
    body = {name: number(arguments, name) for name in ("mass_kg", "drag_kgpm")}
    fits = chosen_traces(traces, rule=rule, **body)
    found = band(quantity, fits) if fits else None
    if found is None:
        msg = f"no usable speed trace, or no {quantity} in one"
        raise NotComputableError(msg)
    return found
