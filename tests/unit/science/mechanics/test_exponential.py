import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics import exponential


def test_scaled_time_inverts_scaled_distance_over_sixteen_decades() -> None:
    scaled = np.geomspace(1e-12, 1e4, 20_001)
    assert exponential.scaled_distance(exponential.scaled_time(scaled)) == pytest.approx(scaled, rel=2e-15)


def test_series_and_formula_meet() -> None:
    below, above = np.nextafter(0.5, 0.0), 0.5
    assert exponential.scaled_distance(below) == pytest.approx(exponential.scaled_distance(above), rel=1e-15)


def test_zero_is_zero() -> None:
    assert float(exponential.scaled_time(0.0)) == 0.0
    assert float(exponential.time_to_distance(9.0, 1.1, 0.0)) == 0.0


def test_speed_is_the_derivative_of_distance() -> None:
    step = 1e-5
    rise = exponential.distance_at_time(9.0, 1.1, 2.0 + step) - exponential.distance_at_time(
        9.0, 1.1, 2.0 - step
    )
    assert float(exponential.speed_at_time(9.0, 1.1, 2.0)) == pytest.approx(
        float(rise) / (2 * step), rel=1e-9
    )


def test_speed_at_the_distance_of_a_share_is_that_share() -> None:
    share = np.array([0.5, 0.8, 0.95, 0.99])
    distance = exponential.distance_at_share(9.0, 1.1, share)
    assert exponential.speed_at_distance(9.0, 1.1, distance) == pytest.approx(9.0 * share, rel=1e-13)


def test_all_of_top_speed_is_reached_nowhere() -> None:
    assert float(exponential.distance_at_share(9.0, 1.1, 1.0)) == np.inf


def test_negative_distances_are_refused() -> None:
    with pytest.raises(OutOfRangeError):
        exponential.time_to_distance(9.0, 1.1, -1.0)
