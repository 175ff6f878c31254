"""How fast a run gets: shares of top speed by distance in acceleration lengths, by own code.

v/vmax = 1 − e^(−g), x/L = g + e^(−g) − 1 with L = vmax·tau (Furusawa, Hill & Parkinson 1927; read).
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, inf, log, sqrt

_STEPS = 60
_ENOUGH = 1e-13


@lru_cache(maxsize=8192)
def share_at(distance_m: float, length_m: float) -> float:
    """Give the share of top speed reached at a distance (m), for an acceleration length (m).

    >>> round(share_at(16.0, 7.82), 3)
    0.95
    """
    wanted = distance_m / length_m
    if wanted <= 0.0:
        return 0.0
    time = sqrt(2.0 * wanted) + wanted / 2.0
    for _ in range(_STEPS):
        miss = time + exp(-time) - 1.0 - wanted
        step = miss / (1.0 - exp(-time))
        time -= step
        if abs(step) < _ENOUGH:
            break
    return 1.0 - exp(-time)


def distance_at(share: float, length_m: float) -> float:
    """Give the distance (m) at which a share of top speed is reached; infinite from 1 on.

    >>> round(distance_at(0.9, 10.0), 1)
    14.0
    """
    return inf if share >= 1.0 else length_m * (-log(1.0 - share) - share)
