"""Load over time: session load, the week's sum, monotony and strain, and exponentially weighted averages."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.signal import lfilter

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import Range

FloatArray = NDArray[np.float64]

EXERTION = Range("session RPE", 0.0, 10.0, "")
MINUTES = Range("session minutes", 0.0, 720.0, "min")
FEWEST_DAYS = 2


def session_load(rpe: ArrayLike, minutes: ArrayLike) -> FloatArray:
    """Return the session load [arbitrary units]: rating of perceived exertion [0-10] × minutes, broadcast.

    Minutes include warm-up and rests, so sprint sessions with long rests read high: show the metres at 90 %
    of top speed beside it.

    Raises OutOfRangeError. Source: `foster_2001` (read).

    >>> float(session_load(7, 60))
    420.0
    """
    return np.asarray(
        EXERTION.check(rpe, "ask on the 0-10 scale") * MINUTES.check(minutes, "was it in seconds?")
    )


def daily_loads(days: ArrayLike, loads: ArrayLike, *, length: int = 7) -> FloatArray:
    """Return the load of each day [arbitrary units], shape (length,), from sessions with a day index from 0.

    Two sessions of one day are summed and a day without one is 0, as monotony needs it.

    Raises OutOfRangeError when a day is outside 0 to length - 1, or days and loads do not pair.
    Source: `foster_1998` (read).

    >>> daily_loads([0, 2, 2], [300, 200, 100], length=4).tolist()
    [300.0, 0.0, 300.0, 0.0]
    """
    index = np.asarray(days, dtype=np.int64)
    load = np.asarray(loads, dtype=np.float64)
    if index.shape != load.shape or not np.all((index >= 0) & (index < length)):
        raise OutOfRangeError(
            f"Expected one day index in [0, {length - 1}] for each load, got {index} for {load.size} loads; "
            "does a session lie in another week?"
        )
    return np.asarray(np.bincount(index.ravel(), weights=load.ravel(), minlength=length), dtype=np.float64)


def _days(daily: ArrayLike) -> FloatArray:
    loads = np.asarray(daily, dtype=np.float64)
    if loads.ndim == 0 or loads.shape[-1] < FEWEST_DAYS or not np.all(loads >= 0.0):
        raise OutOfRangeError(
            f"Expected loads not below 0 of {FEWEST_DAYS} days or more, got {loads}; write 0 for a rest day"
        )
    return loads


def weekly_load(daily: ArrayLike) -> FloatArray:
    """Return the week's load [arbitrary units]: the sum of the daily loads on the last axis.

    Raises OutOfRangeError with fewer than two days or a load below 0. Source: `foster_1998` (read).

    >>> float(weekly_load([0, 480, 300, 540, 0, 420, 630]))
    2370.0
    """
    return np.asarray(_days(daily).sum(axis=-1))


def monotony(daily: ArrayLike) -> FloatArray:
    """Return the monotony [1] of daily loads on the last axis: mean over sample SD (n - 1), rest days as 0.

    Days without any difference have no monotony: nan. Sources leave open which SD is meant; the sample one
    is used.

    Raises OutOfRangeError with fewer than two days or a load below 0. Source: `foster_1998` (read).

    >>> float(monotony([0, 480, 300, 540, 0, 420, 630]))
    1.3403
    """
    loads = _days(daily)
    # Equal loads can have a rounding-size SD, which would read as enormous monotony.
    varies = np.ptp(loads, axis=-1) > 0.0
    sd = np.where(varies, loads.std(axis=-1, ddof=1), 1.0)
    return np.asarray(np.where(varies, loads.mean(axis=-1) / sd, np.nan))


def strain(daily: ArrayLike) -> FloatArray:
    """Return the strain [arbitrary units] of daily loads on the last axis: week's load × monotony.

    Undefined (nan) where monotony is.

    Raises OutOfRangeError with fewer than two days or a load below 0. Source: `foster_1998` (read).

    >>> float(strain([0, 480, 300, 540, 0, 420, 630]))
    3176.43
    """
    return np.asarray(weekly_load(daily) * monotony(daily))


def smoothing_share(days: float) -> float:
    """Return the weight [1] of today in an average of N days: 2/(N + 1).

    Raises OutOfRangeError unless N is 1 or more. Source: `williams_2017` (read).

    >>> smoothing_share(7)
    0.25
    """
    if not days >= 1.0:
        raise OutOfRangeError(f"Expected an average over 1 day or more, got {days:g}")
    return 2.0 / (days + 1.0)


def weighted_average(daily: ArrayLike, *, days: float) -> FloatArray:
    """Return the exponentially weighted average [unit of the loads] after each day, days on the last axis.

    E(t) = λ L(t) + (1 - λ) E(t-1) with λ = 2/(N + 1), seeded by the first day, so the first N days lean on
    it. The 7-day and 28-day lines are shown as two lines; their ratio is no risk and is not computed.

    Raises OutOfRangeError with fewer than two days, a load below 0, or N below 1. Source: `williams_2017`
    (read).

    >>> weighted_average([400, 0, 600], days=7).tolist()
    [400.0, 300.0, 375.0]
    """
    loads = _days(daily)
    share = smoothing_share(days)
    seed = (1.0 - share) * loads[..., :1]
    line, _ = lfilter([share], [1.0, share - 1.0], loads, axis=-1, zi=seed)
    return np.asarray(line)
