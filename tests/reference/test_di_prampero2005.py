"""di Prampero et al. 2005, JEB 208:2809-2816: accelerating is running uphill, slope = arctan(a/g) (read)."""

import numpy as np
import pytest

from speedloom.science.mechanics.exponential import speed_at_time
from speedloom.science.mechanics.sprint import equivalent_slope


@pytest.mark.parametrize(("acceleration", "degrees", "grade"), [(4.75, 25.9, 48.6), (5.77, 30.5, 58.9)])
def test_equivalent_slope(acceleration: float, degrees: float, grade: float) -> None:
    got = equivalent_slope(acceleration, gravity_mps2=9.81)
    assert float(np.degrees(got.angle_rad)) == pytest.approx(degrees, abs=0.1)
    assert 100 * float(got.grade) == pytest.approx(grade, rel=0.005)


def test_medium_level_sprinters() -> None:
    # Peak 9.46 m/s after about 5 s, peak acceleration 6.42 m/s² (read): tau = 1.47 s (recomputed).
    assert float(speed_at_time(9.46, 9.46 / 6.42, 5.0)) == pytest.approx(9.46, rel=0.04)
