"""Split times that no sprint can have made."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.science import ranges

FASTEST_MPS = ranges.VMAX.high
"""No mean speed between two gates is higher (m/s)."""


def impossible_splits(distances_m: ArrayLike, times_s: ArrayLike) -> NDArray[np.bool_]:
    """Tell for each gate whether its time (s) is impossible after the gate before it.

    Impossible is a time that is not later, or so little later that the speed between the two is above
    13 m/s. Gates (m) ascend, (k,) or (n, k); times (n, k), NaN = missing. The gate named is the later of the
    two, and the next gate is held against the last possible one.

    Raises:
        OutOfRangeError: gates do not ascend.

    >>> impossible_splits([10, 20, 30, 40], [2.11, 3.48, 4.74, 0.5]).tolist()
    [[False, False, False, True]]
    """
    times = np.atleast_2d(np.asarray(times_s, dtype=np.float64))
    distances = np.broadcast_to(np.asarray(distances_m, dtype=np.float64), times.shape)
    ranges.GATE_STEP.check(np.diff(distances, axis=1), "gates stand in the order of the run")
    found = np.zeros(times.shape, dtype=np.bool_)
    last_time = np.full(times.shape[0], -np.inf)
    last_distance = np.zeros(times.shape[0])
    for gate in range(times.shape[1]):
        there = np.isfinite(times[:, gate])
        fewest = (distances[:, gate] - last_distance) / FASTEST_MPS
        bad = there & (times[:, gate] - last_time < fewest)
        found[:, gate] = bad
        kept = there & ~bad
        last_time = np.where(kept, times[:, gate], last_time)
        last_distance = np.where(kept, distances[:, gate], last_distance)
    return found
