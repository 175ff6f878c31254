"""Reliability of a test: typical error, variation, intraclass correlation, limits of agreement."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError

FloatArray = NDArray[np.float64]

FEWEST = 2


@dataclass(frozen=True)
class IntraclassCorrelations:
    """The six forms of Shrout and Fleiss [1]: one rating (`one_…`) or the mean of all (`mean_…`).

    `…_random`: each target has other judges, form 1. `…_agreement`: the judges are a random sample, form 2.
    `…_consistency`: these judges only, form 3.
    """

    one_random: FloatArray
    one_agreement: FloatArray
    one_consistency: FloatArray
    mean_random: FloatArray
    mean_agreement: FloatArray
    mean_consistency: FloatArray


@dataclass(frozen=True)
class MeanSquares:
    """Two-way analysis of variance: between targets, within targets, between judges, and residual [unit²]."""

    targets: FloatArray
    within: FloatArray
    judges: FloatArray
    residual: FloatArray


@dataclass(frozen=True)
class LimitsOfAgreement:
    """Differences first minus second [unit of the data]: mean, sample SD, and the limits `low` and `high`."""

    mean: FloatArray
    sd: FloatArray
    low: FloatArray
    high: FloatArray


def _table(values: ArrayLike) -> FloatArray:
    table = np.asarray(values, dtype=np.float64)
    shape = table.shape[-2:]
    if len(shape) < FEWEST or min(shape) < FEWEST or not np.all(np.isfinite(table)):
        raise OutOfRangeError(
            f"Expected {FEWEST} or more athletes by {FEWEST} or more trials without gaps, got shape "
            f"{table.shape}; leave out athletes with a missing trial"
        )
    return table


def mean_squares(ratings: ArrayLike) -> MeanSquares:
    """Return the mean squares [unit²] of a table of targets (athletes) by judges (trials), the last two axes.

    Raises OutOfRangeError with fewer than two of either, or a gap. Source: `shrout_1979` Table 1 (memory).

    >>> float(mean_squares([[9, 2], [6, 1], [8, 4], [7, 1]]).judges)
    60.5
    """
    table = _table(ratings)
    n, k = table.shape[-2:]
    centred = table - table.mean(axis=(-2, -1), keepdims=True)
    row = centred.mean(axis=-1, keepdims=True)
    column = centred.mean(axis=-2, keepdims=True)
    within = ((centred - row) ** 2).sum(axis=(-2, -1))
    residual = ((centred - row - column) ** 2).sum(axis=(-2, -1))
    return MeanSquares(
        targets=np.asarray(k * (row**2).sum(axis=(-2, -1)) / (n - 1)),
        within=np.asarray(within / (n * (k - 1))),
        judges=np.asarray(n * (column**2).sum(axis=(-2, -1)) / (k - 1)),
        residual=np.asarray(residual / ((n - 1) * (k - 1))),
    )


def intraclass_correlations(ratings: ArrayLike) -> IntraclassCorrelations:
    """Return the six intraclass correlations [1] of a table of targets (athletes) by judges (trials).

    Targets and judges are the last two axes. Undefined (nan) where all ratings are equal.

    Raises OutOfRangeError with fewer than two of either or a gap. Source: `shrout_1979` (memory, reproduced).

    >>> r = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
    >>> float(intraclass_correlations(r).one_consistency)
    0.7148
    """
    ms = mean_squares(ratings)
    n, k = np.shape(ratings)[-2:]
    b, w, j, e = ms.targets, ms.within, ms.judges, ms.residual
    with np.errstate(divide="ignore", invalid="ignore"):
        return IntraclassCorrelations(
            one_random=np.asarray((b - w) / (b + (k - 1) * w)),
            one_agreement=np.asarray((b - e) / (b + (k - 1) * e + k * (j - e) / n)),
            one_consistency=np.asarray((b - e) / (b + (k - 1) * e)),
            mean_random=np.asarray((b - w) / b),
            mean_agreement=np.asarray((b - e) / (b + (j - e) / n)),
            mean_consistency=np.asarray((b - e) / b),
        )


def typical_error(first: ArrayLike, second: ArrayLike) -> FloatArray:
    """Return the typical error [unit of the data] of one trial from two trials of some athletes, last axis.

    Sample SD of the differences over √2; a change common to all athletes does not enter.

    Raises OutOfRangeError with fewer than two athletes. Source: `hopkins_2000` (read).

    >>> first, second = [3.10, 3.05, 3.20, 3.15, 3.00, 3.25], [3.12, 3.03, 3.18, 3.19, 3.02, 3.22]
    >>> float(typical_error(first, second))
    0.02021
    """
    return typical_error_of_trials(np.stack(np.broadcast_arrays(first, second), axis=-1))


def typical_error_of_trials(trials: ArrayLike) -> FloatArray:
    """Return the typical error [unit of the data] of one trial from athletes by trials, the last two axes.

    Square root of the residual mean square, so a common trend from trial to trial does not enter.

    Raises OutOfRangeError with fewer than two of either, or a gap. Source: `hopkins_2000` (read).

    >>> float(typical_error_of_trials([[3.10, 3.12], [3.05, 3.03], [3.20, 3.18]]))
    0.01633
    """
    return np.asarray(np.sqrt(mean_squares(trials).residual))


def typical_error_share(trials: ArrayLike) -> FloatArray:
    """Return the typical error as a coefficient of variation [share] from athletes by trials, last two axes.

    exp(typical error of the logarithms) - 1, right where the error grows with the value.

    Raises OutOfRangeError when a value is not above 0, or as `typical_error_of_trials`. Source:
    `hopkins_2000` (read).

    >>> float(typical_error_share([[3.10, 3.12], [3.05, 3.03], [3.20, 3.18]]))
    0.00526
    """
    table = np.asarray(trials, dtype=np.float64)
    if not np.all(table > 0.0):
        raise OutOfRangeError(
            f"Expected values above 0, got {table.min()}; a typical error in % needs a ratio scale"
        )
    return np.asarray(np.expm1(typical_error_of_trials(np.log(table))))


def coefficient_of_variation(values: ArrayLike) -> FloatArray:
    """Return the coefficient of variation [share] of repeats on the last axis: sample SD over mean.

    Raises OutOfRangeError with fewer than two repeats or a mean that is not above 0. Source: common practice.

    >>> float(coefficient_of_variation([4.0, 5.0, 6.0]))
    0.2
    """
    repeats = np.asarray(values, dtype=np.float64)
    if repeats.ndim == 0 or repeats.shape[-1] < FEWEST or not np.all(repeats.mean(axis=-1) > 0.0):
        raise OutOfRangeError(f"Expected {FEWEST} or more repeats with a mean above 0, got {repeats}")
    return np.asarray(repeats.std(axis=-1, ddof=1) / repeats.mean(axis=-1))


def limits_of_agreement(
    first: ArrayLike, second: ArrayLike, *, multiplier: float = 1.96
) -> LimitsOfAgreement:
    """Return bias and limits of agreement [unit of the data] of two methods or days, pairs on the last axis.

    Limits are mean ± multiplier × sample SD of first minus second (1.96 for 95 %; the paper rounds it to 2).

    Raises OutOfRangeError with fewer than two pairs. Source: `bland_1986` (read).

    >>> a = limits_of_agreement([494, 395, 516, 434], [512, 430, 520, 428])
    >>> float(a.mean), float(a.sd)
    (-12.75, 17.80)
    """
    difference = np.asarray(first, dtype=np.float64) - np.asarray(second, dtype=np.float64)
    if difference.ndim == 0 or difference.shape[-1] < FEWEST:
        raise OutOfRangeError(
            f"Expected {FEWEST} or more pairs, got shape {difference.shape}; measure more athletes"
        )
    mean, sd = difference.mean(axis=-1), difference.std(axis=-1, ddof=1)
    return LimitsOfAgreement(
        np.asarray(mean),
        np.asarray(sd),
        np.asarray(mean - multiplier * sd),
        np.asarray(mean + multiplier * sd),
    )


def repeatability_coefficient(first: ArrayLike, second: ArrayLike) -> FloatArray:
    """Return the coefficient of repeatability [unit of the data]: 2 √(mean squared difference), last axis.

    Two trials by the same method are expected to differ by less in 95 of 100; a mean difference of 0 is
    assumed.

    Source: `bland_1986` (read).

    >>> float(repeatability_coefficient([494, 395, 516, 434], [490, 397, 512, 401]))
    33.54
    """
    difference = np.asarray(first, dtype=np.float64) - np.asarray(second, dtype=np.float64)
    return np.asarray(2.0 * np.sqrt((difference**2).mean(axis=-1)))
