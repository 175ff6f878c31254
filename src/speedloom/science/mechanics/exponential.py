"""Mono-exponential sprint: v = vmax·(1 − e^(−t/τ)), the motion without air drag.

`furusawa_1927` (read); formulas as in `samozino_2016` (read). Everything broadcasts.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.science import ranges

FloatArray = NDArray[np.float64]

# Below this scaled time g + expm1(−g) loses digits and its series (10 terms, error below 1e-17) is used.
_SERIES_BELOW = 0.5
_SERIES = tuple(
    float((-1) ** n / f)
    for n, f in enumerate((2, 6, 24, 120, 720, 5040, 40320, 362880, 3628800, 39916800, 479001600, 6227020800))
)


def scaled_distance(scaled_time: ArrayLike) -> FloatArray:
    """Return s = g + expm1(−g), distance over vmax·τ, of the scaled time g = t/τ (1).

    >>> float(scaled_distance(1.0))
    0.3679
    """
    g = np.asarray(scaled_time, dtype=np.float64)
    distance = np.asarray(g + np.expm1(-g))
    small = g < _SERIES_BELOW
    if small.any():
        near = g[small]
        series = np.zeros_like(near)
        for coefficient in reversed(_SERIES):
            series = series * near + coefficient
        distance[small] = series * near * near
    return distance


def _rough_scaled_time(scaled: FloatArray) -> FloatArray:
    """Return a first guess of `scaled_time`, within 0.6 %: the series at the start, else the far line."""
    p = np.sqrt(2.0 * scaled)
    near = p * (1.0 + p * (1.0 / 6.0 + p * (1.0 / 36.0 + p / 540.0)))
    line = scaled + 1.0
    far = line - np.exp(-line) * (1.0 + np.exp(-line))
    return np.where(scaled < 1.0, near, far)


def scaled_time(s: ArrayLike) -> FloatArray:
    """Return g that solves g + expm1(−g) = s (1), by Halley's iteration.

    >>> round(float(scaled_time(10.0 / 12.0)) * 1.2, 4)
    1.967
    """
    scaled = ranges.DISTANCE.check(s)
    g = _rough_scaled_time(scaled)
    for _ in range(2):
        rise = -np.expm1(-g)
        miss = scaled_distance(g) - scaled
        steepness = 2.0 * rise * rise - miss * (1.0 - rise)
        g = g - 2.0 * miss * rise / np.where(steepness > 0.0, steepness, 1.0)
    return g


def time_to_distance(vmax_mps: ArrayLike, tau_s: ArrayLike, distance_m: ArrayLike) -> FloatArray:
    """Return the time (s) to a distance (m).

    >>> [round(float(t), 4) for t in time_to_distance(10.0, 1.2, [10.0, 20.0, 30.0, 40.0])]
    [1.967, 3.1101, 4.1626, 5.184]
    """
    length = np.asarray(vmax_mps) * np.asarray(tau_s)
    return np.asarray(np.asarray(tau_s) * scaled_time(np.asarray(distance_m) / length))


def distance_at_time(vmax_mps: ArrayLike, tau_s: ArrayLike, time_s: ArrayLike) -> FloatArray:
    """Return the distance (m) covered at a time (s).

    >>> float(distance_at_time(10.0, 1.2, 1.967))
    10.00
    """
    length = np.asarray(vmax_mps) * np.asarray(tau_s)
    return np.asarray(length * scaled_distance(np.asarray(time_s) / np.asarray(tau_s)))


def speed_at_time(vmax_mps: ArrayLike, tau_s: ArrayLike, time_s: ArrayLike) -> FloatArray:
    """Return the speed (m/s) at a time (s).

    >>> float(speed_at_time(10.0, 1.2, 1.2))
    6.321
    """
    return np.asarray(np.asarray(vmax_mps) * -np.expm1(-np.asarray(time_s) / np.asarray(tau_s)))


def speed_at_distance(vmax_mps: ArrayLike, tau_s: ArrayLike, distance_m: ArrayLike) -> FloatArray:
    """Return the speed (m/s) at a distance (m).

    >>> float(speed_at_distance(10.0, 1.2, 10.0))
    8.059
    """
    length = np.asarray(vmax_mps) * np.asarray(tau_s)
    return np.asarray(np.asarray(vmax_mps) * -np.expm1(-scaled_time(np.asarray(distance_m) / length)))


def distance_at_share(vmax_mps: ArrayLike, tau_s: ArrayLike, share: ArrayLike) -> FloatArray:
    """Return the distance (m) at which a share of vmax is reached: vmax·τ·(−ln(1 − p) − p).

    >>> round(float(distance_at_share(1.0, 1.0, 0.95)), 4)
    2.0457
    """
    p = ranges.SHARE.check(share)
    with np.errstate(divide="ignore"):
        g = -np.log1p(-p)
    return np.asarray(np.asarray(vmax_mps) * np.asarray(tau_s) * np.where(g < np.inf, g - p, np.inf))
