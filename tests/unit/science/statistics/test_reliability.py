"""Reliability: shapes and refusals."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.reliability import (
    coefficient_of_variation,
    intraclass_correlations,
    limits_of_agreement,
    mean_squares,
    typical_error,
    typical_error_of_trials,
    typical_error_share,
)


@pytest.mark.parametrize(
    "table", [[[1.0, 2.0]], [[1.0], [2.0]], [1.0, 2.0], [[1.0, np.nan], [2.0, 3.0]], [[], []]]
)
def test_tables_that_say_nothing_are_refused(table: list[list[float]]) -> None:
    with pytest.raises(OutOfRangeError, match="without gaps"):
        mean_squares(table)


def test_equal_ratings_have_no_correlation() -> None:
    assert np.isnan(intraclass_correlations(np.ones((3, 2))).one_consistency)


def test_batches_of_tables() -> None:
    tables = np.random.default_rng(1).normal(size=(4, 6, 3))
    together = intraclass_correlations(tables).one_agreement
    assert together == pytest.approx([float(intraclass_correlations(t).one_agreement) for t in tables])


def test_common_trend_is_no_error() -> None:
    assert float(typical_error([3.0, 3.1, 3.2], [2.9, 3.0, 3.1])) == pytest.approx(0.0, abs=1e-15)


def test_error_in_per_cent_for_an_error_in_per_cent() -> None:
    base = np.array([10.0, 20.0, 40.0])
    trials = np.stack([base * np.exp([0.01, -0.01, 0.0]), base * np.exp([-0.01, 0.01, 0.0])], axis=-1)
    assert float(typical_error_share(trials)) == pytest.approx(np.expm1(0.02 / np.sqrt(2)))
    assert float(typical_error_of_trials(np.log(trials))) == pytest.approx(0.02 / np.sqrt(2))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: typical_error_share([[1.0, 0.0], [1.0, 2.0]]), "above 0"),
        (lambda: coefficient_of_variation([1.0]), "2 or more repeats"),
        (lambda: coefficient_of_variation([-1.0, 1.0]), "mean above 0"),
        (lambda: limits_of_agreement([1.0], [2.0]), "2 or more pairs"),
    ],
)
def test_unusable_inputs_are_named(call, words) -> None:  # noqa: ANN001
    with pytest.raises(OutOfRangeError, match=words):
        call()
