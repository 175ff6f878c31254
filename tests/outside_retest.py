"""Did they change? The typical error, what is worth having and the chances, by brute force on a grid.

Prescription reference, section 9 (Hopkins 2000 and 2004, read): typical error, 0.2 of the spread between
athletes freed of the noise, normal chances. The squad's model as the manual tells it: gain = the squad's
mean + the athlete's own part + error; the mean normal about 0 with the scale, the own parts normal with a
half-normal spread of that scale, the error known up to its degrees of freedom. Nothing of the product is
imported.
"""

from __future__ import annotations

import math

import numpy as np
from scipy.stats import chi2, norm

BEST_SD = {1: 1.0, 2: 0.8257, 3: 0.7480}  # order statistics, memory: SD of the best of so many
BEST_SHIFT = {1: 0.0, 2: 0.5642, 3: 0.8463}  # the same: how far it lies from one trial


def typical_error(days: list[np.ndarray]) -> tuple[float, int]:
    """Pool the residual mean squares of days, athletes by trials; a trend common to all does not enter."""
    squares, freedom = 0.0, 0
    for table in days:
        centred = table - table.mean(axis=1, keepdims=True) - table.mean(axis=0) + table.mean()
        squares += float((centred**2).sum())
        freedom += (table.shape[0] - 1) * (table.shape[1] - 1)
    return math.sqrt(squares / freedom), freedom


def worthwhile(values: np.ndarray, noise: float) -> float:
    """0.2 of the spread between athletes, freed of the noise of one value (Hopkins 2004, read)."""
    return 0.2 * math.sqrt(float(values.var(ddof=1)) - noise**2)


def chances(gain: float, error: float, worth: float) -> tuple[float, float, float]:
    """Give the chances of better, trivial and worse of one gain, flat prior (section 9, read)."""
    better, worse = norm.sf((worth - gain) / error), norm.cdf((-worth - gain) / error)
    return float(better), float(1.0 - better - worse), float(worse)


def lone(gain: float, error: float, worth: float, freedom: float) -> tuple[float, float, float]:
    """The same where the error itself is known up to its degrees of freedom."""
    middles = (np.arange(400) + 0.5) / 400
    found = [chances(gain, error * factor, worth) for factor in np.sqrt(freedom / chi2.ppf(middles, freedom))]
    better, trivial, worse = np.mean(found, axis=0).tolist()
    return better, trivial, worse


def squad(
    gains: np.ndarray, error: float, worth: float, scale: float, freedom: float
) -> tuple[np.ndarray, np.ndarray]:
    """Draw a squad's gains together: each one's mean [same unit] and chances of better, trivial and worse."""
    count, total = len(gains), 0.0
    means, found = np.zeros(count), np.zeros((count, 3))
    middles = (np.arange(15) + 0.5) / 15
    factors = np.sqrt(freedom / chi2.ppf(middles, freedom))
    for spread in np.linspace(0.01, 4.0, 200) * scale:
        prior = spread**2 * np.eye(count) + scale**2
        for factor in factors:
            seen = prior + (error * factor) ** 2 * np.eye(count)
            solved = np.linalg.solve(seen, np.column_stack([gains, prior]))
            logged = -0.5 * (gains @ solved[:, 0] + np.linalg.slogdet(seen)[1] + (spread / scale) ** 2)
            weight = math.exp(logged)
            drawn = prior @ solved[:, 0]
            deviations = np.sqrt(np.diag(prior - prior @ solved[:, 1:]))
            better = norm.sf((worth - drawn) / deviations)
            worse = norm.cdf((-worth - drawn) / deviations)
            total += weight
            means += weight * drawn
            found += weight * np.column_stack([better, 1.0 - better - worse, worse])
    return means / total, found / total


def verdict(said: tuple[float, float, float], gain: float, worth: float) -> str:
    """Rule T1 (common practice): 75 % and more for it, 5 % and less against it, an own gain of that size."""
    better, trivial, worse = said
    if better >= 0.75 and worse <= 0.05 and gain >= worth:
        return "better"
    if worse >= 0.75 and better <= 0.05 and -gain >= worth:
        return "worse"
    return "trivial" if trivial >= 0.75 else "unclear"
