"""Paradisis & Cooke 2001, J Sports Sci 19:149-159: 3° uphill −3.0 %, 3° downhill +9.2 % of speed (read).

Their athletes entered the slope at speed, so a run from rest is held to sign and order of magnitude only:
−2 to −9 % and +3 to +10 %. Steady values of the linear model recomputed.
"""

import numpy as np
import pytest

from speedloom.science.mechanics.resistance import slope_for_decrement_at_distance
from speedloom.science.mechanics.sprint import Course, Runner, speed_at_distance, terminal_speed

RUNNER = Runner(8.0, 9.5, 80.0, 0.29)


def steady_change(degrees: float) -> float:
    course = Course(slope_rad=np.radians(degrees))
    return 100 * (float(terminal_speed(RUNNER, course=course) / terminal_speed(RUNNER)) - 1.0)


@pytest.mark.parametrize(("degrees", "percent"), [(3.0, -6.2), (-3.0, 6.2), (5.0, -10.3)])
def test_steady_change_of_speed(degrees: float, percent: float) -> None:
    assert steady_change(degrees) == pytest.approx(percent, abs=0.06)


@pytest.mark.parametrize(("degrees", "low", "high"), [(3.0, -9.0, -2.0), (-3.0, 3.0, 10.0)])
def test_order_of_magnitude_over_the_section(degrees: float, low: float, high: float) -> None:
    hill = Course(slope_rad=np.radians(degrees))
    at_40 = float(speed_at_distance(RUNNER, 40.0, course=hill) / speed_at_distance(RUNNER, 40.0))
    assert low <= 100 * (at_40 - 1.0) <= high


@pytest.mark.parametrize(("degrees", "force"), [(1, 0.171), (2, 0.342), (3, 0.513), (5, 0.855), (7, 1.196)])
def test_gravity_along_the_slope(degrees: float, force: float) -> None:
    # N/kg with g = 9.81 (recomputed): the start is slower by just that.
    level = Runner(8.0, 9.5, 80.0, 0.0)
    top = terminal_speed(level, course=Course(slope_rad=np.radians(degrees), gravity_mps2=9.81))
    assert 8.0 * (1.0 - float(top) / 9.5) == pytest.approx(force, abs=6e-4)


def test_hill_for_a_decrement() -> None:
    slope = slope_for_decrement_at_distance(RUNNER, decrement=0.10, distance_m=20.0)
    assert 4.0 < float(np.degrees(slope)) < 8.0
    hill = Course(slope_rad=slope)
    lost = 1.0 - speed_at_distance(RUNNER, 20.0, course=hill) / speed_at_distance(RUNNER, 20.0)
    assert float(lost) == pytest.approx(0.10, abs=1e-12)
