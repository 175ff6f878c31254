"""ISO 2533:1975 standard atmosphere: pressure and density by geopotential altitude.

The table is recomputed from the standard's defining constants and was cross-checked with two other libraries.
"""

import pytest

from published import column
from speedloom.science.mechanics.air import (
    air_density,
    standard_density_kgpm3,
    standard_pressure_pa,
    standard_temperature_k,
)

ALTITUDE = column("isa_density", "alt_m")


def test_temperature() -> None:
    assert standard_temperature_k(ALTITUDE) == pytest.approx(column("isa_density", "T_K_geopot"), abs=1e-9)


def test_pressure() -> None:
    assert standard_pressure_pa(ALTITUDE) == pytest.approx(column("isa_density", "p_Pa_geopot"), rel=1e-10)


def test_density() -> None:
    assert standard_density_kgpm3(ALTITUDE) == pytest.approx(column("isa_density", "rho_geopot"), abs=6e-7)


def test_real_air_is_at_most_half_a_thousandth_denser() -> None:
    kelvin = column("isa_density", "T_K_geopot")
    dense = air_density(kelvin - 273.15, column("isa_density", "p_Pa_geopot"))
    assert dense / column("isa_density", "rho_geopot") == pytest.approx(1.0, abs=6e-4)
