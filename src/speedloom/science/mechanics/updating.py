"""A profile weighed against later runs: the force–speed line moves as far as the runs are surer than it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science import ranges
from speedloom.science.mechanics.sprint import FLAT, Course, Runner, time_to_distance
from speedloom.science.ranges import FloatArray

_STEPS = 6
_STEP = 1e-4
STRETCH = np.array([-2.0, -1.0])
"""Change of (ln F0, ln v0) for times longer by a share: force with the square, speed with the share."""


class UpdatedProfile(NamedTuple):
    """Start force (N/kg), top speed v0 (m/s), and the covariance of their logarithms, (2, 2)."""

    f0_npkg: float
    v0_mps: float
    covariance: FloatArray


def stretched(runner: Runner, share: float) -> Runner:
    """Return the athlete whose times (s) at all distances are longer by a share [1], small and drag aside.

    >>> slower = stretched(Runner(8.0, 9.5, 75.0, 0.0), 0.01)
    >>> round(float(time_to_distance(slower, 30.0) / time_to_distance(Runner(8.0, 9.5, 75.0, 0.0), 30.0)), 4)
    1.01
    """
    factor = 1.0 + share
    f0, v0 = np.asarray(runner.f0_npkg) / factor**2, np.asarray(runner.v0_mps) / factor
    return Runner(f0, v0, runner.mass_kg, runner.drag_kgpm)


def clock_times(
    runner: Runner, distances_m: ArrayLike, *, behind_m: float, course: Course = FLAT
) -> FloatArray:
    """Return the times (s) a clock shows at distances (m) from the beam that starts it.

    The athlete stands `behind_m` behind the beam; 0: the clock starts with the first movement.

    >>> [round(float(t), 2) for t in clock_times(Runner(8.0, 9.5, 75.0, 0.28), [10.0, 30.0], behind_m=0.5)]
    [1.73, 4.07]
    """
    distances = ranges.DISTANCE.check(distances_m)
    late = time_to_distance(runner, ranges.BEHIND.check(behind_m), course=course) if behind_m else 0.0
    return np.asarray(time_to_distance(runner, distances + behind_m, course=course) - late)


def update_profile(
    runner: Runner,
    covariance: ArrayLike,
    *,
    distances_m: ArrayLike,
    times_s: ArrayLike,
    noise: ArrayLike,
    behind_m: float = 0.0,
) -> UpdatedProfile:
    """Move one athlete's profile towards k later times, by Gauss–Newton with the profile as prior.

    Args:
        runner: the profile of one athlete.
        covariance: covariance of (ln F0, ln v0) before, (2, 2), the spread between days in it.
        distances_m: distance of each time (m), (k,).
        times_s: times (s), (k,); the clock starts with the athlete or at a beam `behind_m` ahead.
        noise: covariance of the times (s²), (k, k), or their standard deviations (s), (k,).
        behind_m: distance from the standing athlete to the beam that starts the clock (m).

    Raises:
        OutOfRangeError: a number makes no sense.

    Source: normal prior and likelihood, linearised at the solution (computed).

    >>> athlete = Runner(8.0, 9.5, 75.0, 0.28)
    >>> new = update_profile(athlete, np.diag([4e-4, 1e-4]), distances_m=[30.0], times_s=[4.30], noise=[0.04])
    >>> round(new.f0_npkg, 2), round(new.v0_mps, 2)
    (8.12, 9.57)
    """
    times, spread = ranges.TIME.check(times_s), np.asarray(noise, dtype=np.float64)
    weight = np.linalg.inv(spread if spread.ndim == times.ndim + 1 else np.diag(spread**2))
    before = np.log([float(np.asarray(runner.f0_npkg)), float(np.asarray(runner.v0_mps))])
    precision = np.linalg.inv(np.asarray(covariance, dtype=np.float64))
    theta, information = before, precision
    for _ in range(_STEPS):
        shown, slopes = _linear(theta, runner, distances_m, behind_m)
        information = precision + slopes.T @ weight @ slopes
        pull = slopes.T @ weight @ (times - shown) - precision @ (theta - before)
        theta = theta + np.linalg.solve(information, pull)
    f0, v0 = np.exp(theta)
    return UpdatedProfile(float(f0), float(v0), np.asarray(np.linalg.inv(information)))


def _linear(
    theta: FloatArray, runner: Runner, distances: ArrayLike, behind_m: float
) -> tuple[FloatArray, FloatArray]:
    """Return the times (k,) and their slopes by (ln F0, ln v0), (k, 2), by central differences."""
    around = theta + _STEP * np.array([[0.0, 0.0], [1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
    f0, v0 = np.exp(around).T[:, :, None]
    times = clock_times(Runner(f0, v0, runner.mass_kg, runner.drag_kgpm), distances, behind_m=behind_m)
    return times[0], np.stack([times[1] - times[2], times[3] - times[4]], axis=1) / (2.0 * _STEP)
