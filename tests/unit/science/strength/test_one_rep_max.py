"""What the 1RM estimators accept, refuse and hand back."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.strength.one_rep_max import (
    ESTIMATORS,
    RETEST_CV,
    combine_one_rep_max,
    epley,
    estimate_one_rep_max,
)


def test_a_single_is_the_load_itself() -> None:
    estimate = estimate_one_rep_max([100.0, 62.5], 1)
    for part in (estimate.value, estimate.low, estimate.high):
        assert part.tolist() == [100.0, 62.5]
    assert estimate.sd == pytest.approx([4.2, 2.625])


def test_reps_in_reserve_count_as_repetitions_to_failure() -> None:
    assert estimate_one_rep_max(140, 3, reps_in_reserve=2) == estimate_one_rep_max(140, 5)


def test_value_is_the_median_and_the_ends_are_the_extremes() -> None:
    each = sorted(float(estimator(140, 5)) for estimator in ESTIMATORS)
    estimate = estimate_one_rep_max(140, 5)
    assert (estimate.low, estimate.value, estimate.high) == (each[0], each[3], each[6])


def test_error_joins_formulas_and_retest() -> None:
    each = [float(estimator(140, 5)) for estimator in ESTIMATORS]
    estimate = estimate_one_rep_max(140, 5)
    assert estimate.sd == pytest.approx(np.hypot(np.std(each, ddof=1), RETEST_CV * estimate.value))
    assert estimate.formula_sd == pytest.approx(np.std(each, ddof=1))


def test_more_than_ten_repetitions_are_refused_in_words() -> None:
    with pytest.raises(OutOfRangeError, match=r"in \[1, 10\], got 11; a 1RM needs a heavier set"):
        estimate_one_rep_max(60, 9, reps_in_reserve=2)


@pytest.mark.parametrize(
    ("load", "repetitions", "reserve", "words"),
    [(100, 0, 0, "got 0"), (-1, 5, 0, "load in"), (100, 5, -1, "reserve in"), (np.nan, 5, 0, "load")],
)
def test_impossible_sets_are_refused(load: float, repetitions: int, reserve: int, words: str) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        estimate_one_rep_max(load, repetitions, reps_in_reserve=reserve)


def test_estimators_broadcast() -> None:
    assert epley(np.ones((3, 1)), np.arange(1, 5)).shape == (3, 4)
    assert estimate_one_rep_max(np.ones((3, 1)), np.arange(1, 5)).sd.shape == (3, 4)


def test_one_fresh_set_combines_to_itself() -> None:
    combined = combine_one_rep_max([150.0], [6.0], [0.0])
    assert (combined.value, combined.sd, combined.prior_share) == (150.0, 6.0, 0.0)


def test_a_set_one_half_life_old_counts_half() -> None:
    combined = combine_one_rep_max([150.0, 156.0], [6.0, 6.0], [28.0, 0.0])
    assert combined.value == pytest.approx((150 + 2 * 156) / 3)
    assert combined.sd == pytest.approx(6 / np.sqrt(1.5))


def test_equal_prior_takes_half() -> None:
    combined = combine_one_rep_max([150.0], [6.0], [0.0], prior_kg=140.0, prior_sd_kg=6.0)
    assert combined.value == pytest.approx(145.0)
    assert combined.prior_share == pytest.approx(0.5)
    assert combined.sd == pytest.approx(6 / np.sqrt(2))


def test_shared_error_is_not_averaged_away() -> None:
    combined = combine_one_rep_max(np.full(400, 150.0), 6.0, 0.0, shared_sd_kg=4.0)
    assert combined.sd == pytest.approx(np.hypot(6 / 20, 4.0))


@pytest.mark.parametrize(
    ("values", "sds", "ages", "words"),
    [
        ([], [], [], "at least one"),
        ([1.0], [0.0], [0.0], "errors above 0"),
        ([1.0], [1.0], [-1.0], "dated after"),
    ],
)
def test_unusable_logs_are_refused(
    values: list[float], sds: list[float], ages: list[float], words: str
) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        combine_one_rep_max(values, sds, ages)


def test_half_a_prior_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="both or neither"):
        combine_one_rep_max([1.0], [1.0], [0.0], prior_kg=2.0)
    with pytest.raises(OutOfRangeError, match="prior above 0"):
        combine_one_rep_max([1.0], [1.0], [0.0], prior_kg=2.0, prior_sd_kg=0.0)
