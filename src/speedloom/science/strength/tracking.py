"""A maximum followed through training: what the errors of tested and logged sets have in common."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.strength.one_rep_max import REPETITIONS_TO_FAILURE, estimate_one_rep_max

FloatArray = NDArray[np.float64]
DAYS_A_WEEK = 7.0
_ROWS = np.linspace(REPETITIONS_TO_FAILURE.low, REPETITIONS_TO_FAILURE.high, 901)


@dataclass(frozen=True)
class LiftSpreads:
    """How far sets of one athlete may lie from a maximum; spreads (SD).

    Attributes:
        day: from day to day [share of the maximum].
        relation_per_rep: between persons, for each repetition to failure beyond the first [share].
        reserve_reps: error of judging few repetitions in reserve [repetitions].
        reserve_far_reps: error of judging more of them [repetitions].
        near_reps: up to how many in reserve are few [repetitions].
        change_week: what the maximum may change in a week of training [share].
    """

    day: float
    relation_per_rep: float
    reserve_reps: float
    reserve_far_reps: float
    near_reps: float
    change_week: float


def repetitions_to_failure(load_kg: ArrayLike, one_rep_max_kg: ArrayLike) -> FloatArray:
    """Return the repetitions to failure [1] that a load allows: `estimate_one_rep_max` inverted, in [1, 10].

    The load and the maximum are in kg and broadcast; a heavier load than the maximum gives 1.

    Source: inversion on a grid of a hundredth of a repetition (computed).

    >>> round(float(repetitions_to_failure(140.0, 163.2)), 1)
    5.0
    """
    grown = estimate_one_rep_max(1.0, _ROWS).value
    ratio = np.asarray(one_rep_max_kg, dtype=np.float64) / np.asarray(load_kg, dtype=np.float64)
    return np.asarray(np.interp(ratio, grown, _ROWS))


def set_spread(repetitions: ArrayLike, reps_in_reserve: ArrayLike, *, spreads: LiftSpreads) -> FloatArray:
    """Return what the judging of reps in reserve adds to the estimate of a set, as a share of it (SD).

    Repetitions plus reps in reserve lie in [1, 10]. A lifted single with none in reserve is a measurement.

    Raises OutOfRangeError. Source: the slope of `estimate_one_rep_max` by one repetition (computed).

    >>> spreads = LiftSpreads(0.042, 0.007, 1.0, 2.0, 3.0, 0.012)
    >>> round(float(set_spread(5, 2, spreads=spreads)), 3), float(set_spread(1, 0, spreads=spreads))
    (0.02, 0.0)
    """
    reserve = np.asarray(reps_in_reserve, dtype=np.float64)
    to_failure = np.minimum(np.asarray(repetitions, float) + reserve, REPETITIONS_TO_FAILURE.high)
    low, high = REPETITIONS_TO_FAILURE.low, REPETITIONS_TO_FAILURE.high
    ends = [np.clip(to_failure + step, low + 0.5, high) for step in (-0.5, 0.5)]
    below, above = (np.log(estimate_one_rep_max(1.0, end).value) for end in ends)
    slope = (above - below) / np.maximum(ends[1] - ends[0], 0.5)
    judged = np.where(reserve <= spreads.near_reps, spreads.reserve_reps, spreads.reserve_far_reps)
    return np.asarray(np.where(to_failure == low, 0.0, slope * judged))


def tracking_covariance(
    set_spreads: ArrayLike, repetitions_to_failure: ArrayLike, ages_days: ArrayLike, *, spreads: LiftSpreads
) -> FloatArray:
    """Return the covariance (k, k) of k estimates of ln 1RM [1], seen from today.

    Sets of one day share the day's form; all sets share the athlete's own relation of repetitions to load,
    the more so the more repetitions they have; and the maximum may have wandered since (a random walk, so
    that two old sets are old together).

    Args:
        set_spreads: what judging adds to each (SD, share), (k,).
        repetitions_to_failure: repetitions and reserve of each, (k,).
        ages_days: days since each, not below 0, (k,).
        spreads: the spreads.

    Raises:
        OutOfRangeError: an age is below 0.

    Source: sum of independent errors (computed); the spreads' own sources stand in rule one_rep_max_update.

    >>> spreads = LiftSpreads(0.042, 0.007, 1.0, 2.0, 3.0, 0.012)
    >>> together = tracking_covariance([0.0, 0.02], [1, 7], [14, 0], spreads=spreads)
    >>> print(f"{together[0, 0] ** 0.5:.4f} {together[1, 1] ** 0.5:.4f}")
    0.0453 0.0627
    """
    own, reps, ages = np.broadcast_arrays(
        np.asarray(set_spreads, float),
        np.asarray(repetitions_to_failure, float),
        np.asarray(ages_days, float),
    )
    if not np.all(ages >= 0.0):
        message = f"Expected ages not below 0 days, got {ages}; is a set dated after the day of the estimate?"
        raise OutOfRangeError(message)
    form = spreads.day**2 * (ages[:, None] == ages)
    relation = spreads.relation_per_rep * (reps - 1.0)
    walk = spreads.change_week**2 * np.minimum(ages[:, None], ages) / DAYS_A_WEEK
    return np.asarray(np.diag(own**2) + form + relation[:, None] * relation + walk)
