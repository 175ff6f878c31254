"""Picard et al. 2008, Metrologia 45:149 (CIPM-2007): density of moist air (coefficients memory).

The table holds another implementation of the same equation and two others: CoolProp agrees within 5e-5 kg/m³,
the ideal gas lies about 5e-4 kg/m³ lower (recomputed, as the table's header says).
"""

import pytest

from published import column
from speedloom.science.mechanics.air import air_density

TABLE = "moist_air_density"
DENSITY = air_density(column(TABLE, "t_C"), column(TABLE, "p_Pa"), column(TABLE, "RH"))


def test_against_the_same_equation() -> None:
    assert pytest.approx(column(TABLE, "rho_CIPM2007"), abs=6e-7) == DENSITY


def test_against_coolprop() -> None:
    assert pytest.approx(column(TABLE, "rho_CoolProp"), abs=5e-5) == DENSITY


def test_against_the_ideal_gas() -> None:
    assert pytest.approx(column(TABLE, "rho_MetPy"), abs=8e-4) == DENSITY
