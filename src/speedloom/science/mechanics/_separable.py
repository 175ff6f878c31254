"""Variable projection: least squares of y ≈ [offset +] c·φ(x; scale), one dimension left (ENGINE.md §2).

The linear unknowns are solved exactly, so a coarse grid over the logarithm of the scale and a safeguarded
Newton iteration need no start value (Golub & Pereyra 1973, memory).
"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from speedloom.science.ranges import FloatArray

_NEWTON_STEPS = 12
# A centred φ this small against φ itself, squared, is rounding.
_CONSTANT = 1e-24


class Basis(NamedTuple):
    """φ and its first and second derivative by the logarithm of the scale, each (n or 1, k)."""

    value: FloatArray
    slope: FloatArray
    bend: FloatArray


class ScaleFit(NamedTuple):
    """Best logarithm of the scale, factor c and offset, each (n,); `inside`: the minimum is no grid end."""

    log_scale: FloatArray
    factor: FloatArray
    offset: FloatArray
    inside: NDArray[np.bool_]


class _Projected(NamedTuple):
    cost: FloatArray
    gradient: FloatArray
    hessian: FloatArray
    factor: FloatArray


class Separable:
    """One separable problem for n rows of data."""

    def __init__(
        self,
        basis: Callable[[FloatArray], Basis],
        y: FloatArray,
        weight: FloatArray,
        *,
        offset: bool,
    ) -> None:
        """Keep data (n, k); `basis` takes log scales of shape (n, 1) or (1, 1)."""
        self._basis = basis
        self._weight = weight
        self._total = weight.sum(axis=1)
        self._offset = offset
        self._y = self._centre(y)
        self._mean_y = (weight * y).sum(axis=1) / self._total

    def _centre(self, values: FloatArray) -> FloatArray:
        if not self._offset:
            return values
        mean = (self._weight * values).sum(axis=1) / self._total
        return np.asarray(values - mean[:, None])

    def _dot(self, left: FloatArray, right: FloatArray) -> FloatArray:
        return np.asarray((self._weight * left * right).sum(axis=1))

    def _project(self, log_scale: FloatArray) -> _Projected:
        phi, slope, bend = (self._centre(part) for part in self._basis(log_scale[:, None]))
        norm = np.maximum(self._dot(phi, phi), 1e-300)
        factor = self._dot(self._y, phi) / norm
        residual = self._y - factor[:, None] * phi
        along = self._dot(residual, slope)
        turn = self._dot(phi, slope)
        d_factor = (self._dot(self._y, slope) - 2.0 * factor * turn) / norm
        hessian = factor * (d_factor * turn + factor * self._dot(slope, slope)) - d_factor * along
        hessian -= factor * self._dot(residual, bend)
        return _Projected(self._dot(residual, residual), -factor * along, hessian, factor)

    def _grid_costs(self, grid: FloatArray) -> FloatArray:
        total = self._dot(self._y, self._y)
        costs = []
        for point in grid:
            raw = self._basis(np.full((1, 1), point)).value
            phi = self._centre(raw)
            norm = self._dot(phi, phi)
            # At the ends of the grid φ may be as good as constant: nothing for a factor to explain.
            explains = norm > _CONSTANT * self._dot(raw, raw)
            cross = np.maximum(self._dot(self._y, phi), 0.0)
            costs.append(total - np.where(explains, cross**2 / np.where(explains, norm, 1.0), 0.0))
        return np.stack(costs)

    def minimise(self, grid: FloatArray) -> ScaleFit:
        """Return the least-squares fit with the log scale between the ends of an ascending grid."""
        best = np.argmin(self._grid_costs(grid), axis=0)
        point = grid[best]
        low, high = grid[np.maximum(best - 1, 0)], grid[np.minimum(best + 1, grid.size - 1)]
        for _ in range(_NEWTON_STEPS):
            at = self._project(point)
            # Not strict: at the minimum the gradient may be exactly 0, and the bracket must hold it.
            low, high = np.where(at.gradient <= 0.0, point, low), np.where(at.gradient >= 0.0, point, high)
            curved = at.hessian > 0.0
            step = point - at.gradient / np.where(curved, at.hessian, 1.0)
            good = curved & (step >= low) & (step <= high)
            point = np.where(good, step, 0.5 * (low + high))
        factor = self._project(point).factor
        mean = (self._weight * self._basis(point[:, None]).value).sum(axis=1) / self._total
        offset = np.where(self._offset, self._mean_y - factor * mean, 0.0)
        margin = 1e-6
        inside = (point > grid[0] + margin) & (point < grid[-1] - margin) & (factor > 0.0)
        return ScaleFit(point, factor, offset, inside)
