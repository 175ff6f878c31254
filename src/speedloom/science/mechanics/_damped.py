"""Damped Gauss–Newton (Levenberg–Marquardt) for many small fits at once, with an optional normal prior.

Every row is iterated on its own and frozen when it has converged, so its result does not depend on the batch.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from speedloom.science.ranges import FloatArray

_MOST_STEPS = 80
_FIRST_DAMPING = 1e-4
# A predicted gain this small against the cost means a step of 1e-6 standard errors: the next is exact.
_SMALL_GAIN = 1e-12

Predict = Callable[[FloatArray, NDArray[np.intp]], tuple[FloatArray, FloatArray]]


class NormalPrior(NamedTuple):
    """Mean (p,) and precision (p, p) in working coordinates; precision 0 is no prior."""

    mean: FloatArray
    precision: FloatArray

    def silent(self) -> "NormalPrior":
        """Return the same coordinates without any knowledge."""
        return NormalPrior(self.mean, np.zeros_like(self.precision))


class DampedFit(NamedTuple):
    """Estimates (n, p), information of the data (n, p, p), residuals (n, k), converged (n,)."""

    theta: FloatArray
    information: FloatArray
    residual: FloatArray
    converged: NDArray[np.bool_]


def fit_damped(
    predict: Predict,
    y: FloatArray,
    weight: FloatArray,
    *,
    prior: NormalPrior,
    limits: tuple[FloatArray, FloatArray],
    start: FloatArray,
) -> DampedFit:
    """Fit y (n, k) with weights (n, k) from start values (n, p).

    Args:
        predict: takes theta (m, p) and the m rows it belongs to, gives predictions (m, k) and Jacobian
            (m, k, p).
        y: data.
        weight: 1/variance, 0 where missing.
        prior: normal prior in working coordinates, `silent()` for none.
        limits: lowest and highest theta, arrays that broadcast with (n, p).
        start: where to begin.
    """
    low, high = (np.broadcast_to(side, start.shape) for side in limits)
    everyone = np.arange(start.shape[0])
    problem = _Problem(predict, y, weight, prior)
    state = _Iterate(np.clip(start, low, high), everyone, np.full(everyone.size, _FIRST_DAMPING))
    looked = problem.look(state.theta, everyone)
    for _ in range(_MOST_STEPS):
        rows = state.rows
        step, gain = problem.step(state.theta[rows], rows, looked, state.damping[rows])
        tried = np.clip(state.theta[rows] + step, low[rows], high[rows])
        new = problem.look(tried, rows)
        done = gain <= _SMALL_GAIN * (1.0 + looked.cost)
        better = done | (new.cost < looked.cost)
        state.accept(tried, better, done)
        looked = new.where(better, looked).keep(~done)
        if state.rows.size == 0:
            break
    final = problem.look(state.theta, everyone)
    converged = ~np.isin(everyone, state.rows)
    return DampedFit(state.theta, problem.information(final.jacobian, everyone), final.residual, converged)


class _Look(NamedTuple):
    residual: FloatArray
    jacobian: FloatArray
    cost: FloatArray

    def where(self, better: NDArray[np.bool_], other: "_Look") -> "_Look":
        return _Look(
            np.where(better[:, None], self.residual, other.residual),
            np.where(better[:, None, None], self.jacobian, other.jacobian),
            np.where(better, self.cost, other.cost),
        )

    def keep(self, rows: NDArray[np.bool_]) -> "_Look":
        return _Look(self.residual[rows], self.jacobian[rows], self.cost[rows])


@dataclass
class _Iterate:
    """All estimates so far, the rows still moving, and everybody's damping."""

    theta: FloatArray
    rows: NDArray[np.intp]
    damping: FloatArray

    def accept(self, tried: FloatArray, better: NDArray[np.bool_], done: NDArray[np.bool_]) -> None:
        self.theta[self.rows[better]] = tried[better]
        scaled = self.damping[self.rows] * np.where(better, 0.1, 10.0)
        self.damping[self.rows] = np.clip(scaled, 1e-14, 1e14)
        self.rows = self.rows[~done]


@dataclass(frozen=True)
class _Problem:
    predict: Predict
    y: FloatArray
    weight: FloatArray
    prior: NormalPrior

    def look(self, theta: FloatArray, rows: NDArray[np.intp]) -> _Look:
        prediction, jacobian = self.predict(theta, rows)
        residual = np.where(self.weight[rows] > 0.0, self.y[rows] - prediction, 0.0)
        away = theta - self.prior.mean
        penalty = (away[:, :, None] * self.prior.precision * away[:, None, :]).sum(axis=(1, 2))
        return _Look(residual, jacobian, (self.weight[rows] * residual**2).sum(axis=1) + penalty)

    def information(self, jacobian: FloatArray, rows: NDArray[np.intp]) -> FloatArray:
        scaled = self.weight[rows][:, :, None] * jacobian
        return np.asarray((scaled[:, :, :, None] * jacobian[:, :, None, :]).sum(axis=1))

    def step(
        self, theta: FloatArray, rows: NDArray[np.intp], looked: _Look, damping: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Return the step (m, p) and the cost it promises to save (m,)."""
        pull = ((self.weight[rows] * looked.residual)[:, :, None] * looked.jacobian).sum(axis=1)
        pull = pull - ((theta - self.prior.mean)[:, None, :] * self.prior.precision).sum(axis=2)
        matrix = self.information(looked.jacobian, rows) + self.prior.precision
        size = np.einsum("npp->np", matrix)
        # The tiny share of the mean keeps a direction without any information solvable.
        ridge = damping[:, None] * size + 1e-13 * size.mean(axis=1, keepdims=True)
        damped = matrix + ridge[:, :, None] * np.eye(theta.shape[1])
        step = np.linalg.solve(damped, pull[:, :, None])[:, :, 0]
        return step, np.asarray((pull * step).sum(axis=1))
