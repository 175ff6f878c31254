"""Samozino et al. 2008, J Biomech 41:2940-2945: force, speed and power of squat jumps (abstract read).

Formulas as in the paper's abstract and later copies; numbers recomputed apart from our code, g = 9.81.
"""

import pytest
from scipy import stats

from speedloom.science.mechanics.jump import squat_jump
from speedloom.science.mechanics.jump_profile import fit_jump_profile

ADDED_KG = [0, 20, 40, 60, 80]
HEIGHTS_M = [0.36, 0.28, 0.215, 0.16, 0.115]
FORCES_N = [1491.1, 1667.7, 1809.9, 1922.8, 2020.9]
SPEEDS_MPS = [1.3288, 1.1719, 1.0269, 0.8859, 0.7510]


def test_one_jump() -> None:
    jump = squat_jump(80.0, 0.35, 0.40, g=9.81)
    assert float(jump.force_n) == pytest.approx(1471.5, rel=1e-3)
    assert float(jump.speed_mps) == pytest.approx(1.3102, rel=1e-3)
    assert float(jump.power_w) == pytest.approx(1928.0, rel=1e-3)


def test_five_loaded_jumps() -> None:
    jump = squat_jump([80 + added for added in ADDED_KG], HEIGHTS_M, 0.40, g=9.81)
    assert jump.force_n == pytest.approx(FORCES_N, abs=0.06)
    assert jump.speed_mps == pytest.approx(SPEEDS_MPS, abs=6e-5)


def test_profile_of_five_loads() -> None:
    profile = fit_jump_profile(HEIGHTS_M, ADDED_KG, mass_kg=80.0, push_off_m=0.40, g=9.81)
    assert float(profile.f0_npkg * 80) == pytest.approx(2726.8, abs=0.06)
    assert float(profile.v0_mps) == pytest.approx(2.9826, abs=6e-5)
    assert float(profile.pmax_wpkg) == pytest.approx(25.42, abs=0.006)
    assert float(profile.slope) == pytest.approx(-11.43, abs=0.006)


def test_profile_against_scipy() -> None:
    line = stats.linregress(SPEEDS_MPS, FORCES_N)
    profile = fit_jump_profile(HEIGHTS_M, ADDED_KG, mass_kg=80.0, push_off_m=0.40, g=9.81)
    # Points printed to 0.1 N and 0.0001 m/s.
    assert float(profile.slope * 80) == pytest.approx(line.slope, rel=5e-4)
    assert float(profile.f0_npkg * 80) == pytest.approx(line.intercept, rel=5e-4)
