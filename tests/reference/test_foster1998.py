"""Foster 1998, Med Sci Sports Exerc 30:1164-1168 and Foster et al. 2001, load, monotony, strain.

Definitions read. The papers' own week could not be found: these were recomputed apart from our code, with the
sample SD.
"""

import math

import numpy as np
import pytest

from speedloom.science.statistics.load import monotony, session_load, strain, weekly_load


@pytest.mark.parametrize("load", [100.0, 4000 / 6, 1234.5])
def test_six_equal_days_and_a_rest(load: float) -> None:
    assert float(monotony([load] * 6 + [0.0])) == pytest.approx(6 / math.sqrt(7), rel=1e-13)


def test_strain_of_six_equal_days() -> None:
    assert float(strain([4000 / 6] * 6 + [0.0])) == pytest.approx(9071.147, abs=0.001)


@pytest.mark.parametrize(
    ("week", "total", "mean", "sd", "expected_monotony", "expected_strain"),
    [
        ([925, 150, 925, 150, 925, 925, 0], 4000, 571.42857, 443.80659, 1.2875622, 5150.2487),
        ([0, 480, 300, 540, 0, 420, 630], 2370, 338.57143, 252.61490, 1.3402671, 3176.4330),
    ],
)
def test_mixed_weeks(
    week: list[float], total: float, mean: float, sd: float, expected_monotony: float, expected_strain: float
) -> None:
    assert float(weekly_load(week)) == total
    assert mean / sd == pytest.approx(expected_monotony, rel=1e-7)
    assert float(monotony(week)) == pytest.approx(expected_monotony, abs=5e-8)
    assert float(strain(week)) == pytest.approx(expected_strain, abs=5e-5)


@pytest.mark.parametrize("load", [0.0, 571.43, 0.1])
def test_seven_equal_days_are_undefined_without_a_crash(load: float) -> None:
    assert np.isnan(monotony([load] * 7))
    assert np.isnan(strain([load] * 7))


def test_session_load_is_rating_times_minutes() -> None:
    # Rating 4 ("somewhat hard") for 60 min (scale read).
    assert float(session_load(4, 60)) == 240
