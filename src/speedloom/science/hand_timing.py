"""Hand times shown beside automatic ones: a conversion for display only."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import Range

FloatArray = NDArray[np.float64]

HAND_TIME = Range("hand time", 0.5, 10_000.0, "s")

SHORT_M, LONG_M = 200.0, 400.0
SHORT_ADD_S, LONG_ADD_S = 0.24, 0.14
"""Added up to 200 m and at 400 m; nothing beyond (`hand_timing_rule`; read). Sources differ in between."""


def rounded_hand_time(watch_s: ArrayLike) -> FloatArray:
    """Return the hand time [s] a watch reading [s] counts as: rounded up to the next 0.1 s, any shape.

    Raises OutOfRangeError. Source: `hand_timing_rule` (read).

    >>> float(rounded_hand_time(12.32))
    12.4
    """
    watch = HAND_TIME.check(watch_s, "was it in milliseconds?")
    # A millionth of a tenth, so that 10.2 in floating point does not become 10.3.
    return np.asarray(np.ceil(np.round(watch * 10.0, 6)) / 10.0)


def displayed_automatic_time(watch_s: ArrayLike, distance_m: ArrayLike) -> FloatArray:
    """Return the automatic time [s] that a watch reading [s] over a distance [m] is shown as, broadcast.

    Rounded up to 0.1 s, then 0.24 s added up to 200 m, 0.14 s at 400 m, nothing beyond. For a reader's eye
    only: it is never fitted, compared or stored. Measured differences spread from 0.22 to 0.31 s with an SD
    of 0.07 s (`mann_2015`, `mayhew_2010`; read), more than most training gains.

    Raises OutOfRangeError between 200 and 400 m, where sources differ. Source: `hand_timing_rule` (read).

    >>> float(displayed_automatic_time(12.32, 100))
    12.64
    """
    hand = rounded_hand_time(watch_s)
    distance = np.asarray(distance_m, dtype=np.float64)
    known = ((distance > 0.0) & (distance <= SHORT_M)) | (distance >= LONG_M)
    if not np.all(known):
        raise OutOfRangeError(
            f"Expected a distance up to {SHORT_M:g} m or from {LONG_M:g} m, got {distance}; sources differ "
            "in between, so show the hand time as it is"
        )
    add = np.where(distance <= SHORT_M, SHORT_ADD_S, np.where(distance <= LONG_M, LONG_ADD_S, 0.0))
    return np.asarray(np.round(hand + add, 2))
