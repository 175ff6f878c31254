"""Grgic et al. 2020, Sports Med Open 6:31: a 1RM repeats with a median CV of 4.2 % (0.5-12.1), read."""

import pytest

from speedloom.science.strength.one_rep_max import estimate_one_rep_max

MEDIAN_CV, LOWEST_CV, HIGHEST_CV = 0.042, 0.005, 0.121


def test_a_lifted_single_carries_the_median_retest_error() -> None:
    estimate = estimate_one_rep_max(150.0, 1)
    assert float(estimate.sd / estimate.value) == pytest.approx(MEDIAN_CV)


@pytest.mark.parametrize("repetitions", range(2, 11))
def test_a_set_carries_more_than_a_single_and_less_than_the_worst_published(repetitions: int) -> None:
    estimate = estimate_one_rep_max(150.0, repetitions)
    assert MEDIAN_CV < float(estimate.sd / estimate.value) < HIGHEST_CV
