"""Exponential taper: the volume left on each day, and the decay that cuts a wanted share on average."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import Range

FloatArray = NDArray[np.float64]

DAY = Range("day of the taper", 0.0, 60.0, "d")
TIME_CONSTANT = Range("decay time of the taper", 0.1, 1e6, "d")
MEAN_SHARE = Range("mean share of volume left", 0.02, 0.999, "")


def exponential_taper_volume(volume: ArrayLike, day: ArrayLike, *, decay_days: ArrayLike) -> FloatArray:
    """Return the volume [unit given] left on a day of a taper: V0 exp(-d/τ), broadcast.

    Day 1 is the first of the taper, day 0 the last before it; `decay_days` is τ [d].

    Raises OutOfRangeError. Source: prescription §7.2 (computed), shape `bosquet_2007` (read).

    >>> float(exponential_taper_volume(100, 7, decay_days=9.623))
    48.3
    """
    tau = TIME_CONSTANT.check(decay_days)
    start = np.asarray(volume, dtype=np.float64)
    return np.asarray(start * np.exp(-DAY.check(day, "count from the day before the taper") / tau))


def taper_mean_share(days: int, *, decay_days: float) -> float:
    """Return the mean share [1] of volume left over days 1 to `days` of an exponential taper.

    Raises OutOfRangeError. Source: prescription §7.2 (computed).

    >>> taper_mean_share(14, decay_days=9.623)
    0.500
    """
    if days < 1:
        raise OutOfRangeError(f"Expected a taper of 1 day or more, got {days} d")
    return float(exponential_taper_volume(1.0, np.arange(1, days + 1), decay_days=decay_days).mean())


def taper_decay_days(mean_share: float, days: int) -> float:
    """Return the decay time τ [d] that leaves a mean share [1] of volume over days 1 to `days`.

    The published cut of 41-60 % is read as the mean over the taper, which the papers leave open.

    Raises OutOfRangeError. Source: `bosquet_2007` (read), inversion computed.

    >>> taper_decay_days(0.5, 14)
    9.623
    """
    share = float(MEAN_SHARE.check(mean_share, "was it in per cent?"))
    low, high = TIME_CONSTANT.low, TIME_CONSTANT.high

    def excess(tau: float) -> float:
        return taper_mean_share(days, decay_days=tau) - share

    if excess(low) > 0.0:
        raise OutOfRangeError(
            f"Expected a mean share that {days} d can reach, got {share:g}; lengthen the taper"
        )
    return float(brentq(excess, low, high, xtol=1e-12, rtol=1e-14))
