"""Jump height from flight time and take-off speed (formulas read, numbers recomputed, g = 9.81)."""

import pytest

from speedloom.science.mechanics.jump import flight_from_height, height_from_flight, height_from_takeoff_speed

G = 9.81


@pytest.mark.parametrize(("flight", "height"), [(0.50, 0.3066), (0.60, 0.4415), (0.55, 0.37094)])
def test_height_from_flight_time(flight: float, height: float) -> None:
    assert float(height_from_flight(flight, g=G)) == pytest.approx(height, abs=5e-5)


def test_height_and_flight_from_takeoff_speed() -> None:
    height = height_from_takeoff_speed(2.80, g=G)
    assert float(height) == pytest.approx(0.3996, abs=5e-5)
    assert float(flight_from_height(height, g=G)) == pytest.approx(0.571, abs=5e-4)
