"""Repetitions, reps in reserve and share of 1RM: the load chart, effort, velocity loss and progression."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import Range

if TYPE_CHECKING:
    from collections.abc import Mapping

FloatArray = NDArray[np.float64]

SHARE_BY_REPETITIONS: Mapping[int, float] = MappingProxyType(
    {
        1: 1.00,
        2: 0.95,
        3: 0.93,
        4: 0.90,
        5: 0.87,
        6: 0.85,
        7: 0.83,
        8: 0.80,
        9: 0.77,
        10: 0.75,
        # Copies of the chart disagree on these two rows (70/67, 73/70, 12 -> 70).
        11: 0.70,
        12: 0.67,
    }
)
"""Share of 1RM by repetitions to failure (`nsca_load_chart`; rows 1-10 second-hand, rows 11-12 memory)."""

REPETITIONS = Range("repetitions", 1.0, 12.0, "")
CHART_ROW = Range("repetitions + reps in reserve", 1.0, 12.0, "")
CHART_SHARE = Range("share of 1RM", 0.67, 1.0, "")
RESERVE = Range("reps in reserve", 0.0, 5.0, "")
RPE = Range("RPE", 5.0, 10.0, "")
"""The effort scale ends at RPE 5-6, which stands for 4-6 in reserve (`zourdos_2016`; memory)."""

EXTRA_REPETITIONS = 2
"""Repetitions over the target that call for more load (two-for-two rule, `baechle_earle`; second-hand)."""

_ROWS = np.array(list(SHARE_BY_REPETITIONS.keys()), dtype=np.float64)
_SHARES = np.array(list(SHARE_BY_REPETITIONS.values()), dtype=np.float64)


def share_of_one_rep_max(repetitions: ArrayLike, *, reps_in_reserve: ArrayLike = 0.0) -> FloatArray:
    """Return the share of 1RM [1] of a set that leaves some repetitions in reserve: the chart row reps + RIR.

    Repetitions and reps in reserve broadcast; their sum must lie in [1, 12]; between rows it is interpolated.
    People differ widely from the chart (`nuzzo_2024`; read), so it is a start, not a prescription for life.

    Raises OutOfRangeError. Source: `nsca_load_chart` (rows 1-10 second-hand, 11-12 memory).

    >>> float(share_of_one_rep_max(5, reps_in_reserve=2))
    0.83
    """
    reserve = np.asarray(reps_in_reserve, dtype=np.float64)
    if not np.all(reserve >= 0.0):
        raise OutOfRangeError(
            f"Expected reps in reserve not below 0, got {reserve}; a failed set has 0 in reserve"
        )
    done = REPETITIONS.check(repetitions, "the load chart has no such row")
    row = CHART_ROW.check(
        done + reserve, "the load chart ends there: prescribe lighter sets by reps in reserve"
    )
    return np.asarray(np.interp(row, _ROWS, _SHARES))


def repetitions_at_share(share: ArrayLike) -> FloatArray:
    """Return the chart's repetitions to failure [1] for a share of 1RM in [0.67, 1], interpolated.

    Raises OutOfRangeError. Source: `nsca_load_chart` (rows 1-10 second-hand, 11-12 memory), inverted.

    >>> float(repetitions_at_share(0.8))
    8.0
    """
    shares = CHART_SHARE.check(share, "the load chart covers no other; was it given in per cent?")
    return np.asarray(np.interp(-shares, -_SHARES, _ROWS))


def rpe_from_rir(reps_in_reserve: ArrayLike) -> FloatArray:
    """Return the rating of perceived exertion [0-10] of a set that left 0 to 5 reps in reserve: 10 - RIR.

    Raises OutOfRangeError. Source: `zourdos_2016` (RPE 7-10 second-hand, below memory).

    >>> float(rpe_from_rir(2))
    8.0
    """
    return np.asarray(10.0 - RESERVE.check(reps_in_reserve, "beyond that nobody judges reps in reserve well"))


def rir_from_rpe(rpe: ArrayLike) -> FloatArray:
    """Return the reps in reserve [1] of a set rated 5 to 10: 10 - RPE; a half means "this or one more".

    RPE 9.5 reads 0.5 here: no repetition left, but the load could have been a little higher.

    Raises OutOfRangeError. Source: `zourdos_2016` (RPE 7-10 second-hand, below memory).

    >>> float(rir_from_rpe(8.5))
    1.5
    """
    return np.asarray(10.0 - RPE.check(rpe, "a lighter set has no countable repetitions in reserve"))


def velocity_loss(best_mps: ArrayLike, current_mps: ArrayLike) -> FloatArray:
    """Return the velocity loss [share], (best - current)/best, of a repetition in its set [both m/s].

    Negative when the repetition is the faster one. The repetition that crosses the limit counts, then the
    set stops.

    Raises OutOfRangeError unless the best is above 0 and the current not below 0. Source: prescription §4
    (read).

    >>> round(float(velocity_loss(0.75, 0.62)), 4)
    0.1733
    """
    best = np.asarray(best_mps, dtype=np.float64)
    current = np.asarray(current_mps, dtype=np.float64)
    if not (np.all(best > 0.0) and np.all(current >= 0.0)):
        message = (
            f"Expected a best above 0 m/s and others not below, got {best} and {current}; check the device."
        )
        raise OutOfRangeError(message)
    return np.asarray((best - current) / best)


def two_for_two(
    target_high: ArrayLike, last_set_reps: ArrayLike, previous_last_set_reps: ArrayLike
) -> NDArray[np.bool_]:
    """Say whether load goes up: two repetitions over target in the last sets of two sessions in a row.

    `target_high` is the upper end of the target range; the two counts are of the last sets of this session
    and the one before; all broadcast.

    Source: `baechle_earle` (second-hand), rule M2.

    >>> bool(two_for_two(8, 10, 10))
    True
    """
    needed = np.asarray(target_high) + EXTRA_REPETITIONS
    return np.asarray((np.asarray(last_set_reps) >= needed) & (np.asarray(previous_last_set_reps) >= needed))
