"""Furusawa, Hill & Parkinson 1927, Proc R Soc B 102:29-42: the mono-exponential run.

Formula read; check sets 1a and 1b and the multipliers recomputed apart from our code.
"""

import numpy as np
import pytest
from scipy.special import lambertw

from speedloom.science.mechanics import exponential

SPLITS_M = np.array([5.0, 10.0, 20.0, 30.0, 40.0])


def test_times_of_check_set_1a() -> None:
    times = exponential.time_to_distance(10.0, 1.2, SPLITS_M)
    assert times == pytest.approx([1.2907, 1.9670, 3.1101, 4.1626, 5.1840], abs=6e-5)


def test_speeds_of_check_set_1a() -> None:
    speeds = exponential.speed_at_distance(10.0, 1.2, SPLITS_M)
    assert speeds == pytest.approx([6.5889, 8.0586, 9.2511, 9.6885, 9.8670], abs=6e-5)


def test_times_of_check_set_1b() -> None:
    times = exponential.time_to_distance(9.0, 1.1, SPLITS_M)
    assert times == pytest.approx([1.3261, 2.0387, 3.2657, 4.4134, 5.5373], abs=6e-5)


def test_inverse_against_lambert_w() -> None:
    scaled = np.geomspace(0.05, 50.0, 200)  # Lambert W loses digits near its branch point, so not below
    expected = lambertw(-np.exp(-1.0 - scaled)).real + scaled + 1.0
    assert exponential.scaled_time(scaled) == pytest.approx(expected, rel=1e-11)


@pytest.mark.parametrize(
    ("share", "multiplier"), [(0.80, 0.8094), (0.90, 1.4026), (0.95, 2.0457), (0.98, 2.9320), (0.99, 3.6152)]
)
def test_distance_at_a_share_of_top_speed(share: float, multiplier: float) -> None:
    assert float(exponential.distance_at_share(9.0, 1.1, share)) == pytest.approx(9.9 * multiplier, abs=1e-3)


def test_share_of_top_speed_of_elite_sprinters_by_distance() -> None:
    # vmax 12.2, tau 1.24 at 10–60 m (reference §8, recomputed).
    share = exponential.speed_at_distance(12.2, 1.24, [10, 20, 30, 40, 50, 60]) / 12.2
    assert 100 * share == pytest.approx([75.8, 89.1, 94.7, 97.3, 98.6, 99.3], abs=0.06)
