"""One day's runs fitted: the numbers behind a profile, as planning needs them (formula `profile.fit`)."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from datetime import date

from speedloom.planning.measured import Estimated
from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.air import drag_constant
from speedloom.science.mechanics.profile import (
    ExponentialFit,
    ForceSpeedFit,
    Prior,
    fit_exponential,
    fit_force_speed,
)
from speedloom.science.ranges import TAU, VMAX
from speedloom.training.programme import node_precision
from speedloom.training.rule import Rulebook
from speedloom.training.words import Clock, Timing
from speedloom.workflows.sprint_runs import Runs


@dataclass(frozen=True)
class Surroundings:
    """The body and the air of one day's runs, as stored in the basis; air if measured."""

    mass_kg: float
    height_m: float
    density_kgpm3: float
    drag_kgpm: float
    timing_sd_s: float
    temperature_c: float | None
    altitude_m: float | None
    mass_assumed: bool
    height_assumed: bool

    @property
    def air_assumed(self) -> bool:
        """Whether temperature or altitude was not measured."""
        return self.temperature_c is None or self.altitude_m is None


@dataclass(frozen=True)
class FittedProfile:
    """A day's fit in full: what planning works with, shown to the coach or not.

    `offset_s` is what the clock adds to the motion's time: fitted (unknown clock, gun), the reaction time
    (gun with one), or None (movement, behind). `prior` is "population" or "none". `shrinkage_*` is the spread
    left of the prior's. `by` is the formula: of split times, or of a speed trace.
    """

    ref: str
    athlete: str
    date: date
    timing: Timing
    clock: Clock
    behind_m: float | None
    surface: str | None
    gates: int
    prior: str
    around: Surroundings
    f0_npkg: Estimated
    v0_mps: Estimated
    correlation: float
    pmax_wpkg: Estimated
    vmax_mps: Estimated
    tau_s: Estimated
    length_m: Estimated
    offset_s: Estimated | None
    shrinkage_f0: float
    shrinkage_vmax: float
    shrinkage_tau: float
    shrinkage_offset: float | None
    fitted_s: tuple[float, ...]
    share_at_last_gate: float
    by: str = "profile.fit"

    @property
    def mass_kg(self) -> float:
        """Body mass [kg]."""
        return self.around.mass_kg

    @property
    def drag_kgpm(self) -> float:
        """Drag constant [kg/m]."""
        return self.around.drag_kgpm


def population_prior(rulebook: Rulebook) -> Prior:
    """Read the population prior from the rulebook."""
    return Prior(**{one.name: rulebook.number("population_prior", one.name) for one in fields(Prior)})


def stored_drag(height_m: float, mass_kg: float, density_kgpm3: float) -> float:
    """Give the drag constant as a basis node stores it [kg/m] (formula `air.drag`)."""
    return node_precision(float(drag_constant(height_m, mass_kg, density_kgpm3)))


def fit_runs(ref: str, runs: Runs, *, around: Surroundings, rulebook: Rulebook) -> FittedProfile:
    """Fit one day's runs by both models, with the population prior where the gates are too few."""
    prior = population_prior(rulebook)
    spare = len(runs.times_s) - runs.unknowns
    needed = spare < rulebook.number("population_prior", "spare_gates")
    force, motion = _both(runs, around, prior if needed else None)
    if not needed and not (_sensible(motion, force) and _certain(motion, prior, rulebook)):
        force, motion = _both(runs, around, prior)
    return _profile(ref, runs, around, force, motion)


def _both(runs: Runs, around: Surroundings, prior: Prior | None) -> tuple[ForceSpeedFit, ExponentialFit]:
    motion = fit_exponential(
        runs.distances_m,
        runs.times_s,
        timing_sd_s=around.timing_sd_s,
        start=runs.model,
        behind_m=runs.behind_m,
        prior=prior,
    )
    force = fit_force_speed(
        runs.distances_m,
        runs.times_s,
        timing_sd_s=around.timing_sd_s,
        start=runs.model,
        behind_m=runs.behind_m,
        mass_kg=around.mass_kg,
        drag_kgpm=around.drag_kgpm,
        wind_mps=runs.wind_mps,
        prior=prior,
    )
    return force, motion


def _sensible(motion: ExponentialFit, force: ForceSpeedFit) -> bool:
    inside = VMAX.contains(motion.vmax_mps).all() and TAU.contains(motion.tau_s).all()
    return bool(inside and motion.converged.all() and force.converged.all())


def _certain(motion: ExponentialFit, prior: Prior, rulebook: Rulebook) -> bool:
    """Say whether the gates alone tell tau: many hand times say less than a few gates and what is usual."""
    spread = math.sqrt(float(motion.working_covariance[0, 1, 1])) / prior.log_tau_sd
    return spread <= rulebook.number("population_prior", "lean_above")


def _profile(
    ref: str, runs: Runs, around: Surroundings, force: ForceSpeedFit, motion: ExponentialFit
) -> FittedProfile:
    fits_offset = runs.model == "unknown"
    last = runs.distances_m[-1] + (runs.behind_m or 0.0)
    return FittedProfile(
        ref=ref,
        athlete=runs.first.athlete,
        date=runs.first.date,
        timing=runs.first.timing,
        clock=runs.clock,
        behind_m=runs.behind_m,
        surface=runs.first.surface,
        gates=len(runs.times_s),
        prior="population" if force.prior_driven else "none",
        around=around,
        f0_npkg=_estimated(force, "f0_npkg"),
        v0_mps=_estimated(force, "v0_mps"),
        correlation=_correlation(force),
        pmax_wpkg=_positive(float(force.pmax_wpkg[0]), float(force.pmax_sd_wpkg[0])),
        vmax_mps=_estimated(motion, "vmax_mps"),
        tau_s=_estimated(motion, "tau_s"),
        length_m=_positive(float(motion.length_m[0]), float(motion.length_sd_m[0])),
        offset_s=_offset(runs, force),
        shrinkage_f0=float(force.prior_sd_shrinkage[0, 0]),
        shrinkage_vmax=float(motion.prior_sd_shrinkage[0, 0]),
        shrinkage_tau=float(motion.prior_sd_shrinkage[0, 1]),
        shrinkage_offset=float(force.prior_sd_shrinkage[0, 2]) if fits_offset else None,
        fitted_s=tuple(
            float(time - miss) + runs.early_s
            for time, miss in zip(runs.times_s, force.residual_s[0], strict=True)
        ),
        share_at_last_gate=float(motion.share_of_vmax_at(last)[0]),
    )


def _estimated(fit: ForceSpeedFit | ExponentialFit, name: str) -> Estimated:
    at = fit.names.index(name)
    low, high = fit.band()
    value, sd = float(fit.estimates[0, at]), float(fit.sd(name)[0])
    return Estimated(value, sd, float(low[0, at]), float(high[0, at]))


def _positive(value: float, sd: float) -> Estimated:
    ratio = math.exp(BAND_90_SD * sd / value)
    return Estimated(value, sd, value / ratio, value * ratio)


def _offset(runs: Runs, force: ForceSpeedFit) -> Estimated | None:
    if runs.model == "unknown":
        return _estimated(force, "offset_s")
    if runs.clock == "gun":
        return Estimated(runs.early_s, 0.0, runs.early_s, runs.early_s)
    return None


def _correlation(force: ForceSpeedFit) -> float:
    block = force.working_covariance[0]
    return float(block[0, 1] / math.sqrt(block[0, 0] * block[1, 1]))
