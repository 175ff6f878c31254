"""The best or the mean of several trials: how far it lies from one trial, and how much less it scatters."""

from __future__ import annotations

from functools import cache

import numpy as np
from scipy.special import ndtr

from speedloom.errors import OutOfRangeError

MOST_TRIALS = 1000
_REACH_SD = 10.0
_STEPS = 8001


def best_shift(trials: int) -> float:
    """Return how far the best of some trials lies on the good side of one trial, in SD of one trial [1].

    The mean of the largest of `trials` independent normal values, by numerical integration.

    Raises OutOfRangeError unless 1 ≤ trials ≤ 1000. Source: `teichroew_1956` (memory), order statistics.

    >>> round(best_shift(1), 4), round(best_shift(2), 4), round(best_shift(3), 4)
    (0.0, 0.5642, 0.8463)
    """
    return _best_moments(_checked(trials))[0]


def best_spread(trials: int) -> float:
    """Return the SD of the best of some trials, in SD of one trial [1].

    Raises OutOfRangeError unless 1 ≤ trials ≤ 1000. Source: `teichroew_1956` (memory), order statistics.

    >>> round(best_spread(1), 4), round(best_spread(2), 4), round(best_spread(3), 4)
    (1.0, 0.8257, 0.748)
    """
    return _best_moments(_checked(trials))[1]


def mean_spread(trials: int) -> float:
    """Return the SD of the mean of some trials, in SD of one trial [1]: 1/√trials.

    Raises OutOfRangeError unless 1 ≤ trials ≤ 1000. Source: independence of the trials (common practice).

    >>> mean_spread(4)
    0.5
    """
    return float(_checked(trials) ** -0.5)


def _checked(trials: int) -> int:
    if not 1 <= trials <= MOST_TRIALS:
        raise OutOfRangeError(f"Expected 1 to {MOST_TRIALS} trials, got {trials}; count those of one day")
    return trials


@cache
def _best_moments(trials: int) -> tuple[float, float]:
    z = np.linspace(-_REACH_SD, _REACH_SD, _STEPS)
    weight = trials * np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi) * ndtr(z) ** (trials - 1) * (z[1] - z[0])
    mean = float((weight * z).sum())
    return mean, float(np.sqrt((weight * (z - mean) ** 2).sum()))
