"""One-repetition maximum from a set to failure: seven estimators, their spread, a rolling estimate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import Range

FloatArray = NDArray[np.float64]

LOAD = Range("load", 0.0, 1000.0, "kg")
REPETITIONS_TO_FAILURE = Range("repetitions to failure (repetitions + reps in reserve)", 1.0, 10.0, "")
"""What an estimate is made from (rule M3; read, practice)."""

RESERVE = Range("reps in reserve", 0.0, 9.0, "")

RETEST_CV = 0.042
"""Median test-retest coefficient of variation of a 1RM, as a share (`grgic_2020`; read)."""

HALF_LIFE_DAYS = 28.0
"""Days after which an older set counts half as much in a rolling estimate (common practice)."""


@dataclass(frozen=True)
class OneRepMaxEstimate:
    """An estimated 1RM [kg], the spread of the formulas `low` to `high` [kg] and its standard error [kg]."""

    value: FloatArray
    low: FloatArray
    high: FloatArray
    sd: FloatArray

    @property
    def formula_sd(self) -> FloatArray:
        """The part of `sd` [kg] that is the formulas', which more sets of the same kind do not remove."""
        return np.sqrt(np.maximum(self.sd**2 - (RETEST_CV * self.value) ** 2, 0.0))


@dataclass(frozen=True)
class CombinedOneRepMax:
    """A 1RM [kg] combined from several sets, its standard error [kg], and the share that is the prior."""

    value: FloatArray
    sd: FloatArray
    prior_share: FloatArray


def _checked(load_kg: ArrayLike, repetitions: ArrayLike) -> tuple[FloatArray, FloatArray]:
    load = LOAD.check(load_kg, "write the total on the bar in kg")
    return load, REPETITIONS_TO_FAILURE.check(repetitions, "a 1RM needs a heavier set, of ten at most")


def epley(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by W(1 + r/30) from load W [kg] and repetitions to failure r in [1, 10].

    Raises OutOfRangeError. Source: `epley_1985` (formula read, prescription table 5.2). Gives more than W at
    r = 1.

    >>> round(float(epley(140, 5)), 3)
    163.333
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(load * (1.0 + reps / 30.0))


def brzycki(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by 36W/(37 - r) from load W [kg] and repetitions to failure r in [1, 10].

    Raises OutOfRangeError. Source: `brzycki_1993` (formula read). Exact at r = 1.

    >>> float(brzycki(140, 5))
    157.5
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(36.0 * load / (37.0 - reps))


def lander(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by 100W/(101.3 - 2.67123r) from load W [kg], repetitions to failure r in [1, 10].

    Raises OutOfRangeError. Source: `lander_1985` (formula read).

    >>> round(float(lander(140, 5)), 3)
    159.192
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(100.0 * load / (101.3 - 2.67123 * reps))


def oconner(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by W(1 + 0.025r) from load W [kg] and repetitions to failure r in [1, 10].

    Raises OutOfRangeError. Source: `oconner_1989` (formula read).

    >>> round(float(oconner(140, 5)), 3)
    157.5
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(load * (1.0 + 0.025 * reps))


def wathan(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by 100W/(48.8 + 53.8 exp(-0.075r)) from load W [kg], repetitions r in [1, 10].

    Raises OutOfRangeError. Source: `wathan_1994` (formula read).

    >>> round(float(wathan(140, 5)), 3)
    163.216
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(100.0 * load / (48.8 + 53.8 * np.exp(-0.075 * reps)))


def mayhew(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by 100W/(52.2 + 41.9 exp(-0.055r)) from load W [kg], repetitions r in [1, 10].

    Raises OutOfRangeError. Source: `mayhew_1992` (formula read). Gives 9 % more than W at r = 1.

    >>> round(float(mayhew(140, 5)), 3)
    166.615
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(100.0 * load / (52.2 + 41.9 * np.exp(-0.055 * reps)))


def lombardi(load_kg: ArrayLike, repetitions: ArrayLike) -> FloatArray:
    """Return the 1RM [kg] by W r^0.10 from load W [kg] and repetitions to failure r in [1, 10].

    Raises OutOfRangeError. Source: `lombardi_1989` (formula read). Exact at r = 1.

    >>> round(float(lombardi(100, 10)), 2)
    125.89
    """
    load, reps = _checked(load_kg, repetitions)
    return np.asarray(load * reps**0.10)


ESTIMATORS = (epley, brzycki, lander, oconner, wathan, mayhew, lombardi)


def estimate_one_rep_max(
    load_kg: ArrayLike, repetitions: ArrayLike, *, reps_in_reserve: ArrayLike = 0.0
) -> OneRepMaxEstimate:
    """Estimate a 1RM [kg] from a set of one exercise on one bar, as a range over seven formulas.

    The load is in kg; repetitions done plus reps in reserve must lie in [1, 10]; all three broadcast.
    `value` is the median of the seven, `low` and `high` their ends, and `sd` joins their sample SD with the
    retest error of a 1RM (CV 4.2 %). One repetition with none in reserve returns the load itself, since
    most formulas exceed it there. The coach's or athlete's error in judging reps in reserve is not in `sd`.
    Formulas under-read deadlifts (second-hand); a 1RM is never carried to another bar or handle (rule M4).

    Raises OutOfRangeError. Sources: prescription table 5.2 (read), `grgic_2020` (read), rule M3.

    >>> e = estimate_one_rep_max(140, 5)
    >>> print(f"{e.value:.1f} kg, {e.low:.1f} to {e.high:.1f}")
    163.2 kg, 157.5 to 166.6
    """
    reserve = RESERVE.check(reps_in_reserve, "a failed set has 0 in reserve")
    load, to_failure = np.broadcast_arrays(
        *_checked(load_kg, np.asarray(repetitions, dtype=np.float64) + reserve)
    )
    each = np.stack([estimator(load, to_failure) for estimator in ESTIMATORS])
    # A lifted single is a measurement, not an estimate: every formula gives way to the load.
    each = np.where(to_failure == REPETITIONS_TO_FAILURE.low, load, each)
    value = np.median(each, axis=0)
    sd = np.hypot(np.std(each, axis=0, ddof=1), RETEST_CV * value)
    return OneRepMaxEstimate(
        value=np.asarray(value),
        low=np.asarray(each.min(axis=0)),
        high=np.asarray(each.max(axis=0)),
        sd=np.asarray(sd),
    )


def combine_one_rep_max(
    values_kg: ArrayLike,
    sds_kg: ArrayLike,
    ages_days: ArrayLike,
    *,
    half_life_days: float = HALF_LIFE_DAYS,
    shared_sd_kg: ArrayLike = 0.0,
    prior_kg: ArrayLike | None = None,
    prior_sd_kg: ArrayLike | None = None,
) -> CombinedOneRepMax:
    """Combine logged 1RM estimates [kg] of one exercise into a rolling one, shrunk towards a prior.

    Estimates, their standard errors [kg] and ages [days] have the sets on the last axis; the prior and the
    shared error have the leading shape. Weights are 1/sd², halved each `half_life_days` (common practice),
    so old news alone gives a wide error. `shared_sd_kg` (see `OneRepMaxEstimate.formula_sd`) is the error
    all sets have in common: it is added after averaging. The prior (a tested 1RM, or what the squad of the
    same level lifts) has weight 1/prior_sd².

    Raises OutOfRangeError when an sd or the half-life is not positive, an age is negative, no set is given,
    or only half of the prior is. Source: inverse-variance weighting with a normal prior; half-life common
    practice.

    >>> c = combine_one_rep_max([150, 156], [6, 6], [28, 0])
    >>> print(f"{c.value:.1f} ± {c.sd:.1f} kg")
    154.0 ± 4.9 kg
    """
    values, sds, ages = np.broadcast_arrays(
        np.asarray(values_kg, dtype=np.float64),
        np.asarray(sds_kg, dtype=np.float64),
        np.asarray(ages_days, dtype=np.float64),
    )
    _check_sets(values, sds, ages, half_life_days)
    if (prior_kg is None) != (prior_sd_kg is None):
        message = "Expected a prior 1RM with its error in kg, got only one of them; give both or neither."
        raise OutOfRangeError(message)
    weights = 0.5 ** (ages / half_life_days) / sds**2
    weight = weights.sum(axis=-1)
    total = (weights * values).sum(axis=-1)
    shared = np.asarray(shared_sd_kg, dtype=np.float64)
    prior = np.asarray(0.0 if prior_kg is None else prior_kg, dtype=np.float64)
    prior_weight = _prior_weight(prior_sd_kg)
    # The shared error is one more reason to trust the prior, so it enters before the shrinkage.
    set_weight = 1.0 / (1.0 / weight + shared**2)
    joint = set_weight + prior_weight
    return CombinedOneRepMax(
        value=np.asarray((set_weight * total / weight + prior_weight * prior) / joint),
        sd=np.asarray(1.0 / np.sqrt(joint)),
        prior_share=np.asarray(prior_weight / joint),
    )


def _check_sets(values: FloatArray, sds: FloatArray, ages: FloatArray, half_life_days: float) -> None:
    if values.ndim == 0 or values.shape[-1] == 0 or not np.all(np.isfinite(values)):
        message = (
            f"Expected at least one finite 1RM in kg on the last axis, got {values}; leave out empty sets."
        )
        raise OutOfRangeError(message)
    if not (np.all(sds > 0.0) and half_life_days > 0.0 and np.all(ages >= 0.0)):
        message = (
            f"Expected errors above 0 kg, ages not below 0 days, a half-life above 0 days, got errors {sds}, "
            f"ages {ages}, half-life {half_life_days:g}; is a set dated after the day of the estimate?"
        )
        raise OutOfRangeError(message)


def _prior_weight(prior_sd_kg: ArrayLike | None) -> FloatArray:
    if prior_sd_kg is None:
        return np.asarray(0.0)
    prior_sd = np.asarray(prior_sd_kg, dtype=np.float64)
    if not np.all(prior_sd > 0.0):
        message = (
            f"Expected an error of the prior above 0 kg, got {prior_sd}; leave the prior out if unknown."
        )
        raise OutOfRangeError(message)
    return np.asarray(prior_sd**-2.0)
