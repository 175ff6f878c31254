"""Variable projection: least squares of y ≈ [offset +] c·φ(x; scale), one dimension left.

The linear unknowns are solved exactly, so a coarse grid over the logarithm of the scale and a safeguarded
Newton iteration need no start value (Golub & Pereyra 1973, memory). Arrays are (k, n), samples first: sums
over the few samples of many rows are then sums of long vectors.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import reduce
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from speedloom.science.ranges import FloatArray

_MOST_STEPS = 60
# Newton doubles the digits: a step this small (of ln scale) leaves nothing to the next.
_LAST_STEP = 1e-9
# A φ whose spread is this small against itself, squared, is as good as constant.
_CONSTANT = 1e-12
_FEW = 32


class Basis(NamedTuple):
    """φ and its first and second derivative by the logarithm of the scale, each (k, n) or (k, 1)."""

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
    gradient: FloatArray
    hessian: FloatArray
    factor: FloatArray
    offset: FloatArray


def _total(values: FloatArray) -> FloatArray:
    """Add up the samples, few of them in an order that does not depend on the number of rows."""
    if len(values) > _FEW:
        return np.asarray(values.sum(axis=0))
    return np.asarray(reduce(np.add, values))


@dataclass(frozen=True)
class Separable:
    """One separable problem for n rows of k samples.

    Attributes:
        basis: gives φ for log scales of shape (n,) or (1,).
        y: data (k, n).
        weight: weights (k, n), 0 where missing.
        has_offset: whether an offset is fitted.
    """

    basis: Callable[[FloatArray], Basis]
    y: FloatArray
    weight: FloatArray
    has_offset: bool

    def _mean(self, values: FloatArray) -> FloatArray:
        return np.asarray(_total(self.weight * values) / _total(self.weight))

    def _project(self, log_scale: FloatArray) -> _Projected:
        phi, slope, bend = self.basis(log_scale)
        y, mean_y, mean_phi = self.y, np.zeros_like(log_scale), np.zeros_like(log_scale)
        if self.has_offset:
            mean_y, mean_phi = self._mean(y), self._mean(phi)
            y, phi, slope = y - mean_y, phi - mean_phi, slope - self._mean(slope)
        weighted_phi, weighted_slope = self.weight * phi, self.weight * slope
        norm = np.maximum(_total(weighted_phi * phi), 1e-300)
        factor = _total(weighted_phi * y) / norm
        residual = y - factor * phi
        along, turn = _total(weighted_slope * residual), _total(weighted_phi * slope)
        d_factor = (_total(weighted_slope * y) - 2.0 * factor * turn) / norm
        hessian = factor * (d_factor * turn + factor * _total(weighted_slope * slope)) - d_factor * along
        hessian = hessian - factor * _total(self.weight * residual * bend)
        return _Projected(-factor * along, hessian, factor, mean_y - factor * mean_phi)

    def _grid_gains(self, grid: FloatArray) -> FloatArray:
        """Return what each grid point explains of the squares of y, (grid, n)."""
        centred = self.y - self._mean(self.y) if self.has_offset else self.y
        weighted_y, weights = self.weight * centred, _total(self.weight)
        gains = []
        for point in grid:
            phi = self.basis(np.full(1, point)).value
            weighted_phi = self.weight * phi
            whole = _total(weighted_phi * phi)
            norm = whole - _total(weighted_phi) ** 2 / weights if self.has_offset else whole
            explains = norm > _CONSTANT * whole
            cross = np.maximum(_total(weighted_y * phi), 0.0)
            gains.append(np.where(explains, cross**2 / np.where(explains, norm, 1.0), 0.0))
        return np.stack(gains)

    def minimise(self, grid: FloatArray) -> ScaleFit:
        """Return the least-squares fit with the log scale between the ends of an ascending grid."""
        best = np.argmax(self._grid_gains(grid), axis=0)
        point = grid[best]
        low, high = grid[np.maximum(best - 1, 0)], grid[np.minimum(best + 1, grid.size - 1)]
        moving = np.ones(point.shape, dtype=np.bool_)
        for _ in range(_MOST_STEPS):
            at = self._project(point)
            # Not strict: at the minimum the gradient may be exactly 0, and the bracket must hold it.
            low, high = np.where(at.gradient <= 0.0, point, low), np.where(at.gradient >= 0.0, point, high)
            curved = at.hessian > 0.0
            step = -at.gradient / np.where(curved, at.hessian, 1.0)
            good = curved & (point + step >= low) & (point + step <= high)
            new = np.where(good, point + step, 0.5 * (low + high))
            point, moving = np.where(moving, new, point), moving & ~(np.abs(new - point) < _LAST_STEP)
            if not moving.any():
                break
        at = self._project(point)
        inside = (point > grid[0] + 1e-6) & (point < grid[-1] - 1e-6) & (at.factor > 0.0)
        return ScaleFit(point, at.factor, at.offset, inside)
