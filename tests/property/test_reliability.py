"""Reliability: two routes to one number, and what shifts must not change."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from speedloom.science.statistics.reliability import (
    intraclass_correlations,
    mean_squares,
    typical_error,
    typical_error_of_trials,
)

TABLES = arrays(np.float64, st.tuples(st.integers(2, 8), st.integers(2, 5)), elements=st.floats(-100, 100))
PAIRS = arrays(np.float64, st.tuples(st.integers(2, 12), st.just(2)), elements=st.floats(-100, 100))


@given(PAIRS)
def test_two_trials_give_the_sd_of_differences_over_root_two(pairs: np.ndarray) -> None:
    expected = np.std(pairs[:, 0] - pairs[:, 1], ddof=1) / np.sqrt(2)
    assert float(typical_error(pairs[:, 0], pairs[:, 1])) == pytest.approx(expected, abs=1e-9)


@given(TABLES)
def test_sums_of_squares_add_up(table: np.ndarray) -> None:
    n, k = table.shape
    ms = mean_squares(table)
    total = ((table - table.mean()) ** 2).sum()
    split = (n - 1) * ms.targets + (k - 1) * ms.judges + (n - 1) * (k - 1) * ms.residual
    assert float(split) == pytest.approx(total, abs=1e-7)
    assert float(n * (k - 1) * ms.within) == pytest.approx(
        float((k - 1) * ms.judges + (n - 1) * (k - 1) * ms.residual), abs=1e-7
    )


@given(TABLES, st.floats(-50, 50))
def test_a_trend_common_to_all_is_no_error(table: np.ndarray, step: float) -> None:
    shifted = table + step * np.arange(table.shape[1])
    assert float(typical_error_of_trials(shifted)) == pytest.approx(
        float(typical_error_of_trials(table)), abs=1e-6
    )


@given(TABLES)
def test_correlations_never_exceed_one(table: np.ndarray) -> None:
    icc = intraclass_correlations(table)
    for value in (icc.one_random, icc.one_consistency):
        assert np.isnan(value) or value <= 1.0 + 1e-9
