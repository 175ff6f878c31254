"""Air: density, the drag it makes, and what wind and altitude are worth."""

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science import ranges
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.ranges import FloatArray

# ISO 2533:1975 standard atmosphere, defining constants (read).
_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE_KPM = 0.0065
_DRY_AIR_JPKGK = 287.05287

_CELSIUS_ZERO_K = 273.15
# `cipm_2007` (Picard et al. 2008; memory, checked against an independent table).
_GAS_CONSTANT = 8.314472
_MOLAR_DRY, _MOLAR_WATER = 28.96546e-3, 18.01528e-3

DRAG_COEFFICIENT = 0.9
"""Drag coefficient of a sprinter (`arsac_2002` as used by `samozino_2016`; read)."""


def standard_temperature_k(altitude_m: ArrayLike) -> FloatArray:
    """Return the standard atmosphere's temperature (K) at a geopotential altitude (m).

    >>> float(standard_temperature_k(1000.0))
    281.6
    """
    return np.asarray(_SEA_LEVEL_K - _LAPSE_KPM * ranges.ALTITUDE.check(altitude_m))


def standard_pressure_pa(altitude_m: ArrayLike) -> FloatArray:
    """Return the standard atmosphere's pressure (Pa) at a geopotential altitude (m) (`iso_2533`).

    >>> round(float(standard_pressure_pa(1000.0)))
    89875
    """
    exponent = STANDARD_GRAVITY_MPS2 / (_DRY_AIR_JPKGK * _LAPSE_KPM)
    return np.asarray(_SEA_LEVEL_PA * (standard_temperature_k(altitude_m) / _SEA_LEVEL_K) ** exponent)


def dry_air_density(temperature_c: ArrayLike, altitude_m: ArrayLike) -> FloatArray:
    """Return the density of dry air (kg/m³) at a temperature (°C) and a standard atmosphere's altitude (m).

    Ideal gas at the pressure of ISO 2533:1975, R = 287.05287 J/(kg K); arrays broadcast. Source: iso_2533.

    >>> float(dry_air_density(20.0, 0.0))
    1.2041
    """
    pressure = 101325.0 * (1.0 - 2.25577e-5 * np.asarray(altitude_m, float)) ** 5.25588
    return np.asarray(pressure / (287.05287 * (273.15 + np.asarray(temperature_c, float))))


def standard_density_kgpm3(altitude_m: ArrayLike) -> FloatArray:
    """Return the standard atmosphere's density (kg/m³) at a geopotential altitude (m) (`iso_2533`).

    >>> float(standard_density_kgpm3(1000.0))
    1.112
    """
    warmth = _DRY_AIR_JPKGK * standard_temperature_k(altitude_m)
    return np.asarray(standard_pressure_pa(altitude_m) / warmth)


def air_density(
    temperature_c: ArrayLike, pressure_pa: ArrayLike, relative_humidity: ArrayLike = 0.0
) -> FloatArray:
    """Return the density of moist air (kg/m³) by `cipm_2007`.

    Args:
        temperature_c: air temperature (°C).
        pressure_pa: air pressure at the place, not reduced to sea level (Pa).
        relative_humidity: relative humidity (share, 0 to 1).

    >>> round(float(air_density(20.0, 101325.0, 0.5)), 4)
    1.1993
    """
    celsius = ranges.AIR_TEMPERATURE.check(temperature_c)
    pressure = ranges.AIR_PRESSURE.check(pressure_pa, "give pascals: 1013 hPa are 101 300 Pa")
    humidity = ranges.SHARE.check(relative_humidity, "give the humidity as a share, 0.5 for 50 %")
    kelvin = celsius + _CELSIUS_ZERO_K
    saturated = np.exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)
    enhancement = 1.00062 + 3.14e-8 * pressure + 5.6e-7 * celsius**2
    water = humidity * enhancement * saturated / pressure
    dry = pressure * _MOLAR_DRY / (_compressibility(celsius, pressure, water) * _GAS_CONSTANT * kelvin)
    return np.asarray(dry * (1.0 - water * (1.0 - _MOLAR_WATER / _MOLAR_DRY)))


def _compressibility(celsius: FloatArray, pressure: FloatArray, water: FloatArray) -> FloatArray:
    """Return Z of CIPM-2007 for the molar share of water vapour."""
    ratio = pressure / (celsius + _CELSIUS_ZERO_K)
    first = 1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius**2
    first = first + (5.707e-6 - 2.051e-8 * celsius) * water + (1.9898e-4 - 2.376e-6 * celsius) * water**2
    return np.asarray(1.0 - ratio * first + ratio**2 * (1.83e-11 - 0.765e-8 * water**2))


def frontal_area_m2(height_m: ArrayLike, mass_kg: ArrayLike) -> FloatArray:
    """Return the frontal area [m²]: Du Bois surface × 0.266 (`samozino_2016`; read).

    >>> round(float(frontal_area_m2(1.80, 75.0)), 4)
    0.5167
    """
    height = ranges.BODY_HEIGHT.check(height_m, "give metres")
    return np.asarray(0.2025 * height**0.725 * ranges.BODY_MASS.check(mass_kg) ** 0.425 * 0.266)


def drag_constant(
    height_m: ArrayLike,
    mass_kg: ArrayLike,
    density_kgpm3: ArrayLike,
    drag_coefficient: ArrayLike = DRAG_COEFFICIENT,
) -> FloatArray:
    """Return k = ½·ρ·Af·Cd (kg/m) of a runner (`samozino_2016`; read).

    >>> round(float(drag_constant(1.80, 75.0, 1.2047)), 4)
    0.2801
    """
    density = ranges.AIR_DENSITY.check(density_kgpm3)
    area = frontal_area_m2(height_m, mass_kg)
    return np.asarray(0.5 * density * area * ranges.DRAG_COEFFICIENT.check(drag_coefficient))


def zero_wind_sea_level_time(time_s: ArrayLike, wind_mps: ArrayLike, altitude_m: ArrayLike) -> FloatArray:
    """Return the 100 m time (s) without wind at sea level that an official time is worth.

    t·[1.03 − 0.03·e^(−0.000125·H)·(1 − w·t/100)²], tail wind positive (`mureika_2000`;
    abstract read, coefficients memory, checked against the published table within 0.007 s).

    >>> round(float(zero_wind_sea_level_time(11.04, -2.5, 0.0)), 2)
    10.83
    """
    time = ranges.HUNDRED_METRES.check(time_s, "the formula holds for 100 m")
    thin = np.exp(-0.000125 * ranges.ALTITUDE.check(altitude_m))
    relative = 1.0 - ranges.WIND.check(wind_mps) * time / 100.0
    return np.asarray(time * (1.03 - 0.03 * thin * relative**2))
