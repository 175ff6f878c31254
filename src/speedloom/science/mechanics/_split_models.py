"""Times at gates and their Jacobians for the two motion models, in working coordinates."""

import numpy as np
from numpy.typing import NDArray

from speedloom.science import ranges
from speedloom.science.mechanics._gates import Gates
from speedloom.science.mechanics._motion import Forces, solve
from speedloom.science.mechanics._separable import Basis
from speedloom.science.mechanics.exponential import scaled_time
from speedloom.science.ranges import FloatArray


def _with_offset(jacobian: list[FloatArray], gates: Gates) -> FloatArray:
    columns = [*jacobian, np.ones_like(jacobian[0])] if gates.fits_offset else jacobian
    return np.stack(columns, axis=2)


class ExponentialTimes:
    """t = offset + τ·φ(x/L) with φ = g, or the difference of two g for a start behind the beam."""

    def __init__(self, gates: Gates) -> None:
        """Keep the gates, and their distances once more with the gates first."""
        self.gates = gates
        self._distance = np.ascontiguousarray(gates.distance.T)
        self._behind = None if gates.behind is None else gates.behind.T

    def basis(self, log_length: FloatArray) -> Basis:
        """Return φ and its derivatives by ln L, gates first (k, n), for log lengths (n,) or (1,)."""
        return _basis(self._distance, self._behind, log_length)

    def predict(self, theta: FloatArray, rows: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
        """Return times (m, k) and Jacobian (m, k, p) for (ln vmax, ln tau[, offset])."""
        gates = self.gates.rows(rows)
        phi, slope, _ = _basis(gates.distance, gates.behind, theta[:, :1] + theta[:, 1:2])
        tau = np.exp(theta[:, 1:2])
        times = tau * phi + (theta[:, 2:] if gates.fits_offset else 0.0)
        return times, _with_offset([tau * slope, tau * (phi + slope)], gates)


def _basis(distance: FloatArray, behind: FloatArray | None, log_length: FloatArray) -> Basis:
    ahead = _scaled_time_by_log(distance * np.exp(-log_length))
    if behind is None:
        return ahead
    before = _scaled_time_by_log(behind * np.exp(-log_length))
    return Basis(*(one - other for one, other in zip(ahead, before, strict=True)))


def _scaled_time_by_log(scaled: FloatArray) -> Basis:
    """Return g(s) and its first and second derivative by ln L, where ds/d ln L = −s."""
    g = scaled_time(scaled)
    rise = -np.expm1(-g)
    slope = scaled / np.where(rise > 0.0, rise, 1.0)
    return Basis(g, -slope, slope * (1.0 - slope * (1.0 - rise) / np.where(rise > 0.0, rise, 1.0)))


class ForceSpeedTimes:
    """Times of the motion with drag for (ln f0, ln v0[, offset]), nothing towed, level ground."""

    def __init__(self, gates: Gates, drag_per_mass: FloatArray, wind: FloatArray) -> None:
        """Keep gates, drag over mass (1/m) and wind (m/s), each (n,)."""
        self._gates, self._drag, self._wind = gates, drag_per_mass, wind

    def limits(self) -> tuple[FloatArray, FloatArray]:
        """Return the lowest and highest working coordinates: ranges, and a start against the wind."""
        force, speed = ranges.START_FORCE, ranges.TOP_SPEED_V0
        against = 1.05 * self._drag * np.minimum(self._wind, 0.0) ** 2
        lowest = np.log(np.maximum(1.001 * force.low, against))
        size = 2 + self._gates.fits_offset
        low = np.stack(
            [lowest, np.full_like(lowest, np.log(1.001 * speed.low)), np.full_like(lowest, -1e6)], axis=1
        )
        high = np.array([np.log(0.999 * force.high), np.log(0.999 * speed.high), 1e6])
        return low[:, :size], high[:size]

    def predict(self, theta: FloatArray, rows: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
        """Return times (m, k) and Jacobian (m, k, p)."""
        gates = self._gates.rows(rows)
        f0, slope = np.exp(theta[:, :1]), -np.exp(theta[:, :1] - theta[:, 1:2])
        run = solve(Forces(f0, slope, self._drag[rows, None], self._wind[rows, None]))
        times = run.time_to_distance(_timed_distances(gates, rows.size))
        speed = run.state(times).speed
        # A gate at the start line itself is passed at rest: its time is 0 whatever the athlete.
        moving = speed > 0.0
        by_force = run.sensitivity(times, slope, f0).distance
        by_speed = run.sensitivity(times, -slope, np.zeros_like(f0)).distance
        jacobian = [-np.where(moving, d / np.where(moving, speed, 1.0), 0.0) for d in (by_force, by_speed)]
        if gates.behind is not None:
            times = times[:, 1:] - times[:, :1]
            jacobian = [column[:, 1:] - column[:, :1] for column in jacobian]
        return times + (theta[:, 2:] if gates.fits_offset else 0.0), _with_offset(jacobian, gates)


def _timed_distances(gates: Gates, athletes: int) -> FloatArray:
    """Return the distances to be timed (m, k), with the beam that starts the clock first if there is one."""
    ahead = np.broadcast_to(gates.distance, (athletes, gates.distance.shape[1]))
    return ahead if gates.behind is None else np.concatenate([gates.behind, ahead], axis=1)
