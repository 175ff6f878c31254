"""Ratio of force and the published profile method (`samozino_2016`, read; RFmax and DRF: memory)."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science import ranges
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics import exponential, sprint
from speedloom.science.ranges import FloatArray

RF_FROM_S = 0.3
"""RFmax and DRF look at the run from this time after the first movement on (s).

The values published with the data of `haugen_2019_splits` are those at 0.5 s (found by recomputing them).
"""

_SAMPLES = 101


class SamozinoProfile(NamedTuple):
    """F0 (N/kg), V0 (m/s), Pmax (W/kg), RFmax (share), DRF (1/(m/s)), arrays of one shape."""

    f0_npkg: FloatArray
    v0_mps: FloatArray
    pmax_wpkg: FloatArray
    rf_max: FloatArray
    drf: FloatArray


def ratio_of_force(force_npkg: ArrayLike, *, gravity_mps2: float = STANDARD_GRAVITY_MPS2) -> FloatArray:
    """Return the horizontal share of the step-averaged ground force (share) for a horizontal force (N/kg).

    >>> float(ratio_of_force(9.80665))
    0.7071
    """
    force = np.asarray(force_npkg, dtype=np.float64)
    return np.asarray(force / np.hypot(force, gravity_mps2))


def rf_max(
    runner: sprint.Runner, *, from_s: float = RF_FROM_S, gravity_mps2: float = STANDARD_GRAVITY_MPS2
) -> FloatArray:
    """Return the ratio of force (share) a time (s) after the first movement in still air.

    >>> float(rf_max(sprint.Runner(8.0, 9.5, 75.0, 0.28)))
    0.5353
    """
    speed = sprint.speed_at_time(runner, from_s)
    return ratio_of_force(_push(runner, speed), gravity_mps2=gravity_mps2)


def drf(
    runner: sprint.Runner,
    until_s: ArrayLike,
    *,
    from_s: float = RF_FROM_S,
    gravity_mps2: float = STANDARD_GRAVITY_MPS2,
) -> FloatArray:
    """Return the slope of the ratio of force by speed (1/(m/s)) between two times (s), by least squares.

    >>> float(drf(sprint.Runner(8.0, 9.5, 75.0, 0.28), 5.0))
    -0.0756
    """
    share = np.linspace(0.0, 1.0, _SAMPLES).reshape(-1, *(1,) * np.ndim(until_s))
    speed = sprint.speed_at_time(runner, from_s + share * (np.asarray(until_s) - from_s))
    return _slope(speed, ratio_of_force(_push(runner, speed), gravity_mps2=gravity_mps2))


def _push(runner: sprint.Runner, speed: FloatArray) -> FloatArray:
    return np.asarray(np.asarray(runner.f0_npkg) * (1.0 - speed / np.asarray(runner.v0_mps)))


def _slope(x: FloatArray, y: FloatArray) -> FloatArray:
    """Return the least-squares slope of y by x along the first axis."""
    dx = x - x.mean(axis=0)
    return np.asarray((dx * y).sum(axis=0) / (dx * dx).sum(axis=0))


def samozino_profile(
    vmax_mps: ArrayLike,
    tau_s: ArrayLike,
    *,
    drag_per_mass_pm: ArrayLike,
    duration_s: float,
    step_s: float = 0.01,
    gravity_mps2: float = STANDARD_GRAVITY_MPS2,
) -> SamozinoProfile:
    """Return the profile by the published method: a straight line through F(v) sampled along the run.

    Args:
        vmax_mps: top speed of the mono-exponential (m/s).
        tau_s: time constant (s).
        drag_per_mass_pm: drag constant over body mass (1/m).
        duration_s: length of the sampled run (s).
        step_s: sampling interval (s).
        gravity_mps2: acceleration of free fall (m/s²).

    >>> float(samozino_profile(9.0, 1.15, drag_per_mass_pm=0.28 / 75, duration_s=6.0).f0_npkg)
    7.741
    """
    vmax, tau, drag = np.broadcast_arrays(ranges.SPEED.check(vmax_mps), tau_s, drag_per_mass_pm)
    time = (np.arange(round(duration_s / step_s) + 1) * step_s).reshape(-1, *(1,) * vmax.ndim)
    speed = exponential.speed_at_time(vmax, tau, time)
    force = (vmax - speed) / tau + drag * speed**2
    slope = _slope(speed, force)
    f0 = force.mean(axis=0) - slope * speed.mean(axis=0)
    late = time.ravel() >= RF_FROM_S - 0.5 * step_s
    ratio = ratio_of_force(force, gravity_mps2=gravity_mps2)[late]
    return SamozinoProfile(f0, -f0 / slope, -(f0**2) / (4.0 * slope), ratio[0], _slope(speed[late], ratio))
