"""Samozino et al. 2012 MSSE 44:313-322 and 2014 Int J Sports Med 35:505-510: optimal profile (memory).

Numbers recomputed. The closed form from memory is written out here; our code finds the optimum another way.
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from speedloom.science.mechanics.jump_profile import (
    jump_height_from_profile,
    optimal_jump_profile,
    profile_imbalance,
)

G = 9.81
TABLE = [
    (25.0, 0.40, -14.023214, -46.4864, 37.4476, 2.6704, 0.3635),
    (30.0, 0.35, -15.017281, -41.8125, 42.4508, 2.8268, 0.4073),
    (20.0, 0.30, -16.238088, -24.8554, 36.0423, 2.2196, 0.2511),
    (40.0, 0.40, -14.233780, -63.1024, 47.7222, 3.3527, 0.5729),
]
CASES = pytest.mark.parametrize(("pmax", "push_off", "slope", "z", "f0", "v0", "height"), TABLE)


def published_closed_form(pmax: float, push_off: float) -> tuple[float, float]:
    """Return the published auxiliary term Z and the optimal slope [N·s/m/kg]."""
    inside = -(G**6) * push_off**6 - 18 * G**3 * push_off**5 * pmax**2 - 54 * push_off**4 * pmax**4
    root = 2 * G**3 * push_off**9 * pmax**6 + 27 * push_off**8 * pmax**8
    z = float(np.cbrt(inside + 6 * np.sqrt(3 * root)))
    bracket = -(G**4) * push_off**4 - 12 * G * push_off**3 * pmax**2
    scale = 3 * push_off**2 * pmax
    return z, -(G**2) / (3 * pmax) - bracket / (scale * z) + z / scale


@CASES
def test_table(
    pmax: float, push_off: float, slope: float, z: float, f0: float, v0: float, height: float
) -> None:
    best = optimal_jump_profile(pmax, push_off, g=G)
    assert float(best.slope) == pytest.approx(slope, abs=1e-6)
    assert published_closed_form(pmax, push_off)[0] == pytest.approx(z, abs=5e-5)
    assert float(best.f0_npkg) == pytest.approx(f0, abs=5e-5)
    assert float(best.v0_mps) == pytest.approx(v0, abs=5e-5)
    assert float(best.height_m) == pytest.approx(height, abs=5e-5)


@CASES
def test_closed_form_and_cubic(
    pmax: float, push_off: float, slope: float, z: float, f0: float, v0: float, height: float
) -> None:
    best = optimal_jump_profile(pmax, push_off, g=G)
    assert float(best.slope) == pytest.approx(published_closed_form(pmax, push_off)[1], rel=1e-9)
    a = -float(best.slope)
    terms = (
        pmax * push_off**2 * a**3,
        -((G * push_off * a) ** 2),
        -4 * pmax * G * push_off * a,
        -4 * pmax**2,
    )
    assert sum(terms) == pytest.approx(0.0, abs=1e-11 * terms[0])
    assert float(best.f0_npkg * best.v0_mps) == pytest.approx(4 * pmax, rel=1e-13)
    assert slope < 0 < height < v0 < f0
    assert z < 0


@CASES
def test_no_other_profile_of_this_power_jumps_higher(
    pmax: float, push_off: float, slope: float, z: float, f0: float, v0: float, height: float
) -> None:
    found = minimize_scalar(
        lambda speed: -float(jump_height_from_profile(4 * pmax / speed, speed, push_off, g=G)),
        bounds=(v0 / 2, 2 * v0),
        method="bounded",
        options={"xatol": 1e-10},
    )
    assert -found.fun == pytest.approx(height, abs=5e-5)
    assert found.x == pytest.approx(v0, rel=1e-4)
    assert 4 * pmax / found.x == pytest.approx(f0, rel=1e-4)
    assert -4 * pmax / found.x**2 == pytest.approx(slope, rel=2e-4)
    assert z < 0


def test_takeoff_at_v0() -> None:
    best = optimal_jump_profile(25.0, 0.40, g=G)
    height = float(jump_height_from_profile(best.f0_npkg, best.v0_mps, 0.40, g=G))
    assert height == pytest.approx(float(best.v0_mps) ** 2 / (2 * G), rel=1e-12)


def test_worked_imbalance_costs_two_millimetres() -> None:
    best = optimal_jump_profile(25.0, 0.40, g=G)
    assert float(100 * profile_imbalance(-12.25, best.slope)) == pytest.approx(12.64, abs=0.005)
    height = float(jump_height_from_profile(35.0, 100 / 35.0, 0.40, g=G))
    assert height == pytest.approx(0.3618, abs=5e-5)
    assert float(best.height_m) - height == pytest.approx(0.0017, abs=5e-5)
