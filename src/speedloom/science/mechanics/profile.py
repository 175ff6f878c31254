"""Sprint profiles from split times: mono-exponential and force–speed, batched over athletes.

The noise is in time, so both models are written in time, t = offset + T(x). Three ways to
start the clock are three models, chosen by how the test was run and never guessed:

- ``movement``: the clock starts with the athlete, the offset is 0;
- ``unknown``: the clock's offset is fitted;
- ``behind``: the athlete stands a measured distance d0 behind the beam, t = T(x + d0) − T(d0).

Uncertainty comes from the known timing noise of the device, never from two or three residuals.
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science import ranges
from speedloom.science.mechanics import sprint
from speedloom.science.mechanics._damped import DampedFit, NormalPrior, fit_damped
from speedloom.science.mechanics._gates import Gates, Start, read_gates
from speedloom.science.mechanics._separable import Separable
from speedloom.science.mechanics._split_models import ExponentialTimes, ForceSpeedTimes
from speedloom.science.mechanics.fits import ExponentialFit, ForceSpeedFit
from speedloom.science.mechanics.prior import POPULATION_PRIOR, Prior
from speedloom.science.ranges import FloatArray

__all__ = [
    "POPULATION_PRIOR",
    "ExponentialFit",
    "ForceSpeedFit",
    "Prior",
    "Start",
    "fit_exponential",
    "fit_force_speed",
]

# Acceleration lengths vmax·τ from 0.3 m to 120 m, in steps of 22 %: no sprinter lies outside (mean 8 m).
_LENGTH_GRID = np.log(np.geomspace(0.3, 120.0, 31))
# Bounds of (ln vmax, ln tau, offset) that only keep a step from overflowing.
_LOWEST, _HIGHEST = np.array([-3.0, -6.0, -1e6]), np.array([5.0, 5.0, 1e6])


def fit_exponential(
    distances_m: ArrayLike,
    times_s: ArrayLike,
    *,
    timing_sd_s: ArrayLike,
    start: Start,
    behind_m: ArrayLike | None = None,
    prior: Prior | None = None,
) -> ExponentialFit:
    """Fit vmax and tau (and the clock's offset) to split times.

    Least squares by variable projection without a prior, the posterior mode with one.

    Args:
        distances_m: distances from the clock's start line (m), (k,) or (n, k).
        times_s: split times (s), (k,) or (n, k), NaN = missing gate.
        timing_sd_s: known noise of one split (SD, s), a number, (n,) or (n, k).
        start: how the clock started, see the module.
        behind_m: metres behind the first beam for start ``behind``, a number or (n,).
        prior: a population prior for few gates.

    Raises:
        TooFewGatesError: an athlete has fewer times than unknowns and no prior was given.
        OutOfRangeError: a number makes no sense.

    >>> times = [1.291, 1.967, 3.110, 4.163]
    >>> fit = fit_exponential([5, 10, 20, 30], times, timing_sd_s=0.01, start="movement")
    >>> round(float(fit.vmax_mps[0]), 1), round(float(fit.tau_s[0]), 1)
    (10.0, 1.2)
    """
    fewest = None if prior is None else 1
    gates = read_gates(
        distances_m, times_s, timing_sd_s=timing_sd_s, start=start, behind_m=behind_m, fewest=fewest
    )
    stated = (prior or POPULATION_PRIOR).for_exponential(fits_offset=gates.fits_offset)
    model = ExponentialTimes(gates)
    if prior is None:
        fit = _project(model)
    else:
        fit = fit_damped(
            model.predict,
            gates.time,
            gates.weight,
            prior=stated,
            limits=(_LOWEST[: stated.mean.size], _HIGHEST[: stated.mean.size]),
            start=np.tile(stated.mean, (gates.time.shape[0], 1)),
        )
    names = ("vmax_mps", "tau_s", "offset_s")
    return ExponentialFit(**_results(names, fit, gates, stated, prior_driven=prior is not None))


def fit_force_speed(
    distances_m: ArrayLike,
    times_s: ArrayLike,
    *,
    timing_sd_s: ArrayLike,
    start: Start,
    behind_m: ArrayLike | None = None,
    mass_kg: ArrayLike,
    drag_kgpm: ArrayLike,
    wind_mps: ArrayLike = 0.0,
    prior: Prior | None = None,
) -> ForceSpeedFit:
    """Fit f0 and v0 (and the clock's offset) to split times with air drag, by batch Gauss–Newton.

    Args:
        distances_m: as in `fit_exponential`.
        times_s: as in `fit_exponential`.
        timing_sd_s: as in `fit_exponential`.
        start: as in `fit_exponential`.
        behind_m: as in `fit_exponential`.
        mass_kg: body mass (kg), a number or (n,).
        drag_kgpm: drag constant (kg/m), a number or (n,).
        wind_mps: tail wind of the run (m/s), a number or (n,).
        prior: a population prior for few gates.

    Raises:
        TooFewGatesError: an athlete has fewer times than unknowns and no prior was given.
        OutOfRangeError: a number makes no sense.

    >>> times = [1.31, 2.01, 3.20, 4.32, 5.42]
    >>> fit = fit_force_speed(
    ...     [5, 10, 20, 30, 40], times, timing_sd_s=0.01, start="movement", mass_kg=75.0, drag_kgpm=0.28
    ... )
    >>> float(fit.f0_npkg[0]), float(fit.v0_mps[0])
    (8.26, 9.62)
    """
    rough = fit_exponential(
        distances_m, times_s, timing_sd_s=timing_sd_s, start=start, behind_m=behind_m, prior=prior
    )
    fewest = None if prior is None else 1
    gates = read_gates(
        distances_m, times_s, timing_sd_s=timing_sd_s, start=start, behind_m=behind_m, fewest=fewest
    )
    athletes = rough.vmax_mps.shape
    mass = np.broadcast_to(ranges.BODY_MASS.check(mass_kg), athletes)
    drag = np.broadcast_to(ranges.DRAG.check(drag_kgpm), athletes)
    wind = np.broadcast_to(ranges.WIND.check(wind_mps), athletes)
    stated = (prior or POPULATION_PRIOR).for_force_speed(fits_offset=gates.fits_offset)
    model = ForceSpeedTimes(gates, drag / mass, wind)
    first = [np.log(rough.vmax_mps / rough.tau_s), np.log(1.03 * rough.vmax_mps), rough.offset_s]
    fit = fit_damped(
        model.predict,
        gates.time,
        gates.weight,
        prior=stated if prior is not None else stated.silent(),
        limits=model.limits(),
        start=np.stack(first, axis=1)[:, : stated.mean.size],
    )
    names = ("f0_npkg", "v0_mps", "offset_s")
    results = _results(names, fit, gates, stated, prior_driven=prior is not None)
    runner = sprint.Runner(np.exp(fit.theta[:, 0]), np.exp(fit.theta[:, 1]), mass, drag)
    last = np.where(gates.used, gates.distance, 0.0).max(axis=1)
    return ForceSpeedFit(**results, runner=runner, last_time_s=sprint.time_to_distance(runner, last))


def _project(model: ExponentialTimes) -> DampedFit:
    """Least squares without a prior, by variable projection."""
    gates = model.gates
    time, weight = np.ascontiguousarray(gates.time.T), np.ascontiguousarray(gates.weight.T)
    scale = Separable(model.basis, time, weight, gates.fits_offset).minimise(_LENGTH_GRID)
    log_tau = np.log(np.maximum(scale.factor, 1e-3))
    theta = np.stack([scale.log_scale - log_tau, log_tau, scale.offset], axis=1)[:, : 2 + gates.fits_offset]
    prediction, jacobian = model.predict(theta, np.arange(theta.shape[0]))
    return DampedFit(
        theta=theta,
        information=((gates.weight[:, :, None] * jacobian)[:, :, :, None] * jacobian[:, :, None, :]).sum(
            axis=1
        ),
        residual=gates.time - prediction,
        converged=scale.inside,
    )


def _results(
    names: tuple[str, ...], fit: DampedFit, gates: Gates, stated: NormalPrior, *, prior_driven: bool
) -> dict[str, Any]:
    size = fit.theta.shape[1]
    posterior = _inverse(fit.information + stated.precision)
    prior_sd = np.sqrt(np.diag(np.linalg.inv(stated.precision)))
    estimates = fit.theta.copy()
    estimates[:, :2] = np.exp(fit.theta[:, :2])
    return {
        "names": names[:size],
        "estimates": estimates,
        "working_covariance": posterior if prior_driven else _inverse(fit.information),
        "residual_s": np.where(gates.used, fit.residual, np.nan),
        "prior_sd_shrinkage": np.sqrt(np.einsum("npp->np", posterior)) / prior_sd,
        "chi_square": (gates.weight * fit.residual**2).sum(axis=1),
        "freedom": gates.used.sum(axis=1) - size,
        "converged": fit.converged,
        "prior_driven": prior_driven,
    }


def _inverse(information: FloatArray) -> FloatArray:
    """Return covariances, after scaling to a unit diagonal; the tiny ridge keeps a blind direction finite."""
    scale = 1.0 / np.sqrt(np.maximum(np.einsum("npp->np", information), 1e-300))
    unit = scale[:, :, None] * information * scale[:, None, :]
    inverse = np.linalg.inv(unit + 1e-14 * np.eye(information.shape[-1]))
    return np.asarray(scale[:, :, None] * inverse * scale[:, None, :])
