"""Sprint profiles fitted again by scipy from the embedded trials, as the formula list words `profile.fit`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from scipy.optimize import brentq, least_squares

from reference.derivation_oracle_motion import Z90

Vector = np.ndarray[Any, np.dtype[np.float64]]
# Time from rest [s] to a distance [m].
Times = Callable[[float], float]


def exponential_time(vmax: float, tau: float, distance_m: float) -> float:
    """Time to a distance by v' = (vmax - v)/tau from rest."""
    if distance_m <= 0:
        return 0.0

    def short(t: float) -> float:
        return vmax * (t + tau * np.expm1(-t / tau)) - distance_m

    return float(brentq(short, 0.0, distance_m / vmax + tau + 1.0, xtol=1e-13))


@dataclass(frozen=True)
class Trial:
    """Distances and times as one trial (or the mean of a day's) shows them."""

    distances: tuple[float, ...]
    times: tuple[float, ...]
    clock: str
    behind_m: float
    reaction_s: float | None
    wind_mps: float

    @property
    def offset_fitted(self) -> bool:
        """Whether the clock's offset is one of the unknowns."""
        return self.clock == "unknown" or (self.clock == "gun" and self.reaction_s is None)

    @property
    def offset_known(self) -> float:
        """The offset where it is not fitted [s]."""
        return self.reaction_s if self.clock == "gun" and self.reaction_s is not None else 0.0

    def shown(self, times_to: Times) -> Vector:
        """The gate times without offset, `times_to` being the time from rest to a distance."""
        if self.clock != "behind":
            return np.array([times_to(x) for x in self.distances])
        before = times_to(self.behind_m)
        return np.array([times_to(x + self.behind_m) - before for x in self.distances])


def impossible(trial: Trial) -> bool:
    """Whether the trial is impossible: the equations of `profile.fit`."""
    x, t = np.array(trial.distances), np.array(trial.times)
    if len(t) == 0 or np.any(np.diff(t) <= 0) or t[0] <= 0:
        return True
    between = np.diff(x) / np.diff(t)
    if np.any(between > 13) or np.any(between < 1):
        return True
    if trial.offset_fitted:
        return False
    own = t - trial.offset_known
    least = trial.shown(lambda d: exponential_time(13.0, 13.0 / 20.0, d))
    return bool(np.any(own < least) or x[0] / own[0] < 1)


@dataclass(frozen=True)
class Prior:
    """Mean and covariance of the two logarithms, and of the offset [s]."""

    mean: tuple[float, float]
    spread: tuple[float, float]
    correlation: float
    offset_mean_s: float
    offset_sd_s: float


@dataclass(frozen=True)
class Fit:
    """Two parameters, the offset, and the covariance of (ln first, ln second, offset)."""

    first: float
    second: float
    offset: float
    covariance: Any = field(repr=False)

    def band(self, quantity: str) -> tuple[float, float, float]:
        """Value, low and high of a quantity."""
        sd = np.sqrt(np.diag(self.covariance))
        if quantity == "offset":
            return self.offset, self.offset - Z90 * sd[2], self.offset + Z90 * sd[2]
        if quantity == "length":
            value = self.first * self.second
            s = float(np.sqrt(self.covariance[:2, :2].sum()))
        else:
            value, s = (self.second, sd[1]) if quantity in {"v0", "tau"} else (self.first, sd[0])
        return value, value * np.exp(-Z90 * s), value * np.exp(Z90 * s)

    @property
    def correlation(self) -> float:
        """Of the two logarithms."""
        c = self.covariance
        return float(c[0, 1] / np.sqrt(c[0, 0] * c[1, 1]))


def refit(
    trial: Trial,
    *,
    times_to: Callable[[float, float], Times],
    start: tuple[float, float],
    timing_sd_s: float,
    prior: Prior | None,
) -> Fit:
    """Least squares in the two logarithms and, where it is unknown, the offset."""
    fitted = trial.offset_fitted

    def offset_of(p: Vector) -> float:
        return p[2] if fitted else trial.offset_known

    def misfit(p: Vector) -> Vector:
        model = trial.shown(times_to(float(np.exp(p[0])), float(np.exp(p[1]))))
        return (np.array(trial.times) - offset_of(p) - model) / timing_sd_s

    def residuals(p: Vector) -> Vector:
        parts = [misfit(p)]
        if prior is not None:
            parts.append(_prior_residuals(prior, p, fitted=fitted))
        return np.concatenate(parts)

    guess = [np.log(start[0]), np.log(start[1])] + ([0.0] if fitted else [])
    found = least_squares(residuals, guess, method="lm", diff_step=1e-6, xtol=1e-13, ftol=1e-13, gtol=1e-13)
    jacobian = np.column_stack([_slope(residuals, found.x, k) for k in range(len(found.x))])
    covariance = np.zeros((3, 3))
    size = len(found.x)
    covariance[:size, :size] = np.linalg.inv(jacobian.T @ jacobian)
    return Fit(float(np.exp(found.x[0])), float(np.exp(found.x[1])), offset_of(found.x), covariance)


def _slope(function: Callable[[Vector], Vector], at: Vector, k: int) -> Vector:
    step = np.zeros(len(at))
    step[k] = 1e-5
    return (function(at + step) - function(at - step)) / 2e-5


def _prior_residuals(prior: Prior, p: Vector, *, fitted: bool) -> Vector:
    a, b = prior.spread
    c = prior.correlation * a * b
    root = np.linalg.cholesky(np.linalg.inv(np.array([[a * a, c], [c, b * b]]))).T
    away = root @ (np.array(p[:2]) - np.array(prior.mean))
    return np.append(away, (p[2] - prior.offset_mean_s) / prior.offset_sd_s) if fitted else away
