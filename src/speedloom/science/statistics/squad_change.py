"""A squad's changes together: each drawn to the squad's by how noisy the test is, with chances that hold."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr
from scipy.stats import chi2

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.change import ChangeChances

FloatArray = NDArray[np.float64]

FEWEST_ATHLETES = 2
_SPREADS = 60
_FARTHEST_SPREAD = 4.0
"""Largest spread looked at, in scales of the prior."""
_ERRORS = 15


@dataclass(frozen=True)
class SquadChange:
    """Each athlete's change drawn to the squad's, its error, and the chances; the squad's mean and spread.

    `gain`, `sd`, `squad_mean`, `squad_sd` (error of that mean) and `spread` (true SD between athletes) are
    in the unit of the data, better positive.
    """

    gain: FloatArray
    sd: FloatArray
    chances: ChangeChances
    squad_mean: float
    squad_sd: float
    spread: float


@dataclass(frozen=True)
class _Given:
    """Means and variances of all changes and of the squad's, for each pair of spread and error."""

    weight: FloatArray
    gain: FloatArray
    variance: FloatArray
    mean: FloatArray
    mean_variance: FloatArray
    spread: FloatArray


def error_factors(freedom: float) -> FloatArray:
    """Return equally likely factors [1] by which a typical error of some degrees of freedom may be off.

    √(freedom/χ²) at fifteen middles of equal shares; 1 alone where the error is known (infinite freedom).

    Raises OutOfRangeError unless the freedom is above 0. Source: normal theory (common practice).

    >>> [round(float(one), 2) for one in error_factors(20.0)[[0, 7, 14]]]
    [0.78, 1.02, 1.41]
    """
    if not freedom > 0.0:
        raise OutOfRangeError(f"Expected degrees of freedom above 0, got {freedom:g}; count the repeats")
    if np.isinf(freedom):
        return np.ones(1)
    middles = (np.arange(_ERRORS) + 0.5) / _ERRORS
    return np.asarray(np.sqrt(freedom / chi2.isf(middles, freedom)))


def lone_chances(
    gain: ArrayLike, *, error_sd: ArrayLike, smallest_worthwhile: float, freedom: float = np.inf
) -> ChangeChances:
    """Return the chances [1] of a gain read by itself: flat prior, error as unsure as its repeats leave it.

    Gain (better positive) and the error of the difference are in one unit and broadcast.

    Raises OutOfRangeError unless errors and freedom are above 0. Source: `hopkins_2004`, prescription §9
    (read); the unsure error by normal theory.

    >>> c = lone_chances(0.06, error_sd=0.02 * 2**0.5, smallest_worthwhile=0.018)
    >>> float(c.better), float(c.trivial), float(c.worse)
    (0.9312, 0.0659, 0.0029)
    """
    sd = _errors(error_sd)[..., None] * error_factors(freedom)
    gains = np.asarray(gain, dtype=np.float64)[..., None]
    better = ndtr((gains - smallest_worthwhile) / sd).mean(axis=-1)
    worse = ndtr((-gains - smallest_worthwhile) / sd).mean(axis=-1)
    return ChangeChances(better, np.maximum(1.0 - better - worse, 0.0), worse)


def squad_change(
    gains: ArrayLike,
    *,
    error_sds: ArrayLike,
    smallest_worthwhile: float,
    scale: float,
    freedom: float = np.inf,
) -> SquadChange:
    """Draw a squad's gains [unit of the data], better positive, together; return each one's chances [1].

    The model: gain = the squad's mean + the athlete's own part + error. The mean is normal about 0 with SD
    `scale`, the own parts are normal with a spread that is half-normal with the same scale, the error is
    normal with `error_sds` (one an athlete), known up to its degrees of freedom. Everything in one unit.
    Spread and error are summed over a grid, the rest is exact.

    Raises OutOfRangeError with fewer than two athletes, or an error, scale or freedom not above 0.
    Source: normal hierarchical model, `gelman_2006` (memory).

    >>> s = squad_change([0.10, 0.02, 0.0, 0.04], error_sds=0.028, smallest_worthwhile=0.02, scale=0.06)
    >>> [round(float(gain), 3) for gain in s.gain]
    [0.071, 0.027, 0.017, 0.038]
    """
    seen = np.asarray(gains, dtype=np.float64)
    if seen.ndim != 1 or seen.size < FEWEST_ATHLETES:
        raise OutOfRangeError(
            f"Expected {FEWEST_ATHLETES} or more athletes on one axis, got shape {seen.shape}; test more"
        )
    if not scale > 0.0:
        raise OutOfRangeError(f"Expected a scale above 0, got {scale:g}; give the size of a usual change")
    given = _given(seen, np.broadcast_to(_errors(error_sds), seen.shape), scale, error_factors(freedom))
    gain = _mixed(given, given.gain)
    # About the mean, not as a difference of squares: that rounds below 0 where a change is large.
    sd = np.sqrt(_mixed(given, given.variance + (given.gain - gain) ** 2))
    own_sd = np.sqrt(given.variance)
    better = _mixed(given, ndtr((given.gain - smallest_worthwhile) / own_sd))
    worse = _mixed(given, ndtr((-given.gain - smallest_worthwhile) / own_sd))
    mean = float(_mixed(given, given.mean))
    return SquadChange(
        gain=gain,
        sd=sd,
        chances=ChangeChances(better, np.maximum(1.0 - better - worse, 0.0), worse),
        squad_mean=mean,
        squad_sd=float(np.sqrt(_mixed(given, given.mean_variance + (given.mean - mean) ** 2))),
        spread=float(_mixed(given, given.spread)),
    )


def _errors(error_sds: ArrayLike) -> FloatArray:
    errors = np.asarray(error_sds, dtype=np.float64)
    if not np.all((errors > 0.0) & np.isfinite(errors)):
        raise OutOfRangeError(f"Expected errors above 0, got {errors}; were the repeats all equal?")
    return errors


def _mixed(given: _Given, values: FloatArray) -> FloatArray:
    return np.asarray(np.tensordot(given.weight, values, axes=(0, 0)))


def _given(seen: FloatArray, errors: FloatArray, scale: float, factors: FloatArray) -> _Given:
    middles = scale * _FARTHEST_SPREAD * (np.arange(_SPREADS) + 0.5) / _SPREADS
    spread, factor = (one.ravel()[:, None] for one in np.meshgrid(middles, factors, indexing="ij"))
    noise = (factor * errors) ** 2
    total = noise + spread**2
    precision = 1.0 / scale**2 + (1.0 / total).sum(axis=1)
    mean = (seen / total).sum(axis=1) / precision
    # The squad's mean is summed over exactly, so only spread and error are left to weigh.
    fit = -0.5 * (np.log(total) + seen**2 / total).sum(axis=1)
    fit += 0.5 * (precision * mean**2 - np.log(precision)) - 0.5 * (spread[:, 0] / scale) ** 2
    weight = np.exp(fit - fit.max())
    drawn = noise / total
    return _Given(
        weight=weight / weight.sum(),
        gain=drawn * mean[:, None] + (1.0 - drawn) * seen,
        variance=(1.0 - drawn) * noise + drawn**2 / precision[:, None],
        mean=mean,
        mean_variance=1.0 / precision,
        spread=spread[:, 0],
    )
