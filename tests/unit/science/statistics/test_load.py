"""Load over time: days, refusals, batches."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.load import (
    daily_loads,
    monotony,
    session_load,
    smoothing_share,
    strain,
    weekly_load,
    weighted_average,
)


def test_two_sessions_of_a_day_are_summed_and_rest_days_are_zero() -> None:
    assert daily_loads([1, 1, 6], [100, 50, 200]).tolist() == [0, 150, 0, 0, 0, 0, 200]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: session_load(11, 60), "0-10 scale"),
        (lambda: session_load(5, 3600), "seconds"),
        (lambda: daily_loads([7], [100]), "another week"),
        (lambda: daily_loads([0, 1], [100]), "one day index"),
        (lambda: weekly_load([100]), "2 days or more"),
        (lambda: monotony([100, -1]), "not below 0"),
        (lambda: smoothing_share(0.5), "1 day or more"),
    ],
)
def test_unusable_inputs_are_named(call, words) -> None:  # noqa: ANN001
    with pytest.raises(OutOfRangeError, match=words):
        call()


def test_squads_on_leading_axes() -> None:
    weeks = np.array([[0, 480, 300, 540, 0, 420, 630], [300] * 7], dtype=float)
    assert np.isnan(monotony(weeks)).tolist() == [False, True]
    assert float(strain(weeks)[0]) == pytest.approx(3176.433, abs=1e-3)
    assert weighted_average(weeks, days=7).shape == weeks.shape
    assert weighted_average(weeks, days=7)[1] == pytest.approx(weeks[1])
