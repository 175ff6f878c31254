"""Starts behind the first beam: synthetic gate times and what each way of fitting makes of them (recomputed).

The error is that of Sensors 2024, 24(9):2894 and Vescovi & Jovanović 2021 (both read): without a
correction tau is 38–57 % too small. Truth: vmax 9.0 m/s, tau 1.10 s.
"""

import numpy as np
import pytest

from speedloom.science.mechanics.profile import fit_exponential

GATES = [5.0, 10.0, 20.0, 30.0, 40.0]
CASES = [
    (0.3, (1.0908, 1.7958, 3.0184, 4.1650, 5.2884), (8.652, 0.686), (9.167, 1.230), (8.981, 1.058, -0.217)),
    (0.5, (1.0351, 1.7351, 2.9551, 4.1008, 5.2240), (8.607, 0.601), (9.051, 1.109), (8.970, 1.031, -0.261)),
    (1.0, (0.9459, 1.6347, 2.8481, 3.9921, 5.1147), (8.564, 0.473), (8.910, 0.931), (8.948, 0.971, -0.322)),
]
SHORT = [(case[0], case[1]) for case in CASES]


@pytest.mark.parametrize(("behind", "times"), SHORT)
def test_a_measured_distance_behind_the_beam_is_exact(behind: float, times: list[float]) -> None:
    fit = fit_exponential(GATES, times, timing_sd_s=0.01, start="behind", behind_m=behind)
    assert fit.estimates[0] == pytest.approx([9.0, 1.1], abs=5e-4)


@pytest.mark.parametrize(("times", "expected"), [(case[1], case[2]) for case in CASES])
def test_without_correction(times: list[float], expected: list[float]) -> None:
    fit = fit_exponential(GATES, times, timing_sd_s=0.01, start="movement")
    assert fit.estimates[0] == pytest.approx(expected, abs=6e-4)


@pytest.mark.parametrize(("times", "expected"), [(case[1], case[3]) for case in CASES])
def test_with_a_fixed_correction(times: list[float], expected: list[float]) -> None:
    fit = fit_exponential(GATES, np.array(times) + 0.30, timing_sd_s=0.01, start="movement")
    assert fit.estimates[0] == pytest.approx(expected, abs=6e-4)


@pytest.mark.parametrize(("times", "expected"), [(case[1], case[4]) for case in CASES])
def test_with_a_free_offset(times: list[float], expected: list[float]) -> None:
    # The printed times are rounded to 1e-4 s, which this fit magnifies.
    fit = fit_exponential(GATES, times, timing_sd_s=0.01, start="unknown")
    assert fit.estimates[0] == pytest.approx(expected, abs=1e-3)
