import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics.air import air_density, drag_constant, zero_wind_sea_level_time


def test_moist_air_is_lighter() -> None:
    density = air_density(30.0, 101_325.0, [0.0, 0.5, 1.0])
    assert np.all(np.diff(density) < 0.0)


def test_hectopascals_and_per_cent_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="give pascals"):
        air_density(20.0, 1013.25)
    with pytest.raises(OutOfRangeError, match=r"0\.5 for 50 %"):
        air_density(20.0, 101_325.0, 50.0)


def test_centimetres_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="give metres"):
        drag_constant(180.0, 75.0, 1.2)


def test_the_wind_formula_is_for_100_m_only() -> None:
    with pytest.raises(OutOfRangeError, match="holds for 100 m"):
        zero_wind_sea_level_time(4.2, 1.0, 0.0)


def test_still_air_at_sea_level_changes_nothing() -> None:
    assert float(zero_wind_sea_level_time(10.0, 0.0, 0.0)) == pytest.approx(10.0, rel=1e-15)
