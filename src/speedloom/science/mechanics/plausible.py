"""Split times that cannot be true: what a typing error, a wrong unit or a broken beam leaves behind."""

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science.mechanics import exponential
from speedloom.science.ranges import START_FORCE, VMAX

SLOWEST_MPS = 1.0
"""Nobody tests a sprint slower than a walk (own bound of sense, common practice)."""

WORLD_RECORD_VMAX_MPS, WORLD_RECORD_TAU_S = 12.22, 1.241
"""The fastest 100 m: fit of position to the splits of Berlin 2009 (`graubner_2011`; second-hand)."""


def fastest_known_time(distance_m: ArrayLike, *, behind_m: ArrayLike = 0.0) -> np.ndarray:
    """Return the time [s] of the fastest known runner over a distance [m] in [0, 100], reaction left out.

    Args:
        distance_m: distance from the first beam or the start line [m].
        behind_m: metres from the standing athlete to the beam that starts the clock [m].

    Source: the 100 m world record as an exponential (`graubner_2011`; second-hand, splits ± 0.02 s).

    >>> round(float(fastest_known_time(30.0)), 2)
    3.63
    """
    behind = np.asarray(behind_m, dtype=np.float64)
    ends = np.asarray(distance_m, dtype=np.float64) + behind
    late = exponential.time_to_distance(WORLD_RECORD_VMAX_MPS, WORLD_RECORD_TAU_S, behind)
    return np.asarray(exponential.time_to_distance(WORLD_RECORD_VMAX_MPS, WORLD_RECORD_TAU_S, ends) - late)


def why_impossible(
    distances_m: ArrayLike, times_s: ArrayLike, *, moves_at_zero: bool, behind_m: float = 0.0
) -> str | None:
    """Return the id of what is wrong with one run's splits [m], [s], or None.

    The ids are `no_times`, `splits_not_increasing`, `faster_than_anyone` (above 13 m/s between two gates, or
    with clock `movement` sooner at a gate than a runner of 20 N/kg and 13 m/s) and `slower_than_a_walk`.

    Args:
        distances_m: distances of the gates [m], (k,), rising.
        times_s: split times [s], (k,).
        moves_at_zero: whether the clock starts at the first movement or, with `behind_m`, at the first beam.
        behind_m: metres from the standing athlete to the first beam [m].

    >>> why_impossible([10, 20, 40], [1.9, 3.2, 0.5], moves_at_zero=False)
    'splits_not_increasing'
    >>> why_impossible([40], [0.5], moves_at_zero=True)
    'faster_than_anyone'
    """
    distance = np.asarray(distances_m, dtype=np.float64)
    time = np.asarray(times_s, dtype=np.float64)
    if time.size == 0:
        return "no_times"
    if time[0] <= 0.0 or np.any(np.diff(time) <= 0.0):
        return "splits_not_increasing"
    speed = np.diff(distance) / np.diff(time)
    if np.any(speed > VMAX.high) or (moves_at_zero and np.any(time < _soonest(distance, behind_m))):
        return "faster_than_anyone"
    if np.any(speed < SLOWEST_MPS) or (moves_at_zero and distance[0] / time[0] < SLOWEST_MPS):
        return "slower_than_a_walk"
    return None


def _soonest(distance: ArrayLike, behind_m: float) -> np.ndarray:
    tau = VMAX.high / START_FORCE.high
    late = exponential.time_to_distance(VMAX.high, tau, behind_m)
    return np.asarray(exponential.time_to_distance(VMAX.high, tau, np.asarray(distance) + behind_m) - late)
