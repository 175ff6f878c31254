"""Numbers with their units; kilograms and metres become pounds and yards here and nowhere else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

KG_PER_LB = 0.45359237
"""Exact: international avoirdupois pound [kg/lb], NIST Special Publication 811 (memory)."""
M_PER_YD = 0.9144
"""Exact: international yard [m/yd], NIST Special Publication 811 (memory)."""
ONE_MINUTE_S = 60
WRITTEN_IN_MINUTES_FROM_S = 120
SIGNS = {"1": "", "share": "", "word": "", "any": "", "node": "", "min": "min", "degC": "°C", "d": "days"}


@dataclass(frozen=True)
class Units:
    """What a coach wants to read: kg or lb, m or yd. Data stay in kilograms and metres."""

    mass: Literal["kg", "lb"] = "kg"
    length: Literal["m", "yd"] = "m"


METRIC = Units()


def number(value: float, *, decimals: int = 2) -> str:
    """Write a number without needless zeros, with a true minus sign.

    >>> number(32.50), number(-0.05), number(10.0)
    ('32.5', '−0.05', '10')
    """
    text = f"{value:.{decimals}f}"
    trimmed = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if trimmed in {"-0", "0"} else trimmed.replace("-", "−")


def mass_number(value_kg: float, *, units: Units = METRIC) -> str:
    """Write a mass given in [kg] without its unit.

    >>> mass_number(32.5), mass_number(20.0, units=Units(mass="lb"))
    ('32.5', '44.1')
    """
    return number(value_kg / KG_PER_LB, decimals=1) if units.mass == "lb" else number(value_kg)


def mass(value_kg: float, *, units: Units = METRIC) -> str:
    """Write a mass given in [kg].

    >>> mass(32.5), mass(20.0, units=Units(mass="lb"))
    ('32.5 kg', '44.1 lb')
    """
    return f"{mass_number(value_kg, units=units)} {units.mass}"


def kilograms_per(units: Units) -> float:
    """Give what one of a person's units of mass is in kilograms [kg].

    >>> kilograms_per(METRIC), kilograms_per(Units(mass="lb"))
    (1.0, 0.45359237)
    """
    return KG_PER_LB if units.mass == "lb" else 1.0


def as_it_was(value_kg: float, known_kg: float | None, *, units: Units = METRIC) -> float:
    """Give the known mass [kg] where what was read is that mass as it is written in these units.

    >>> as_it_was(37.51, 37.5, units=Units(mass="lb")), as_it_was(40.0, 37.5)
    (37.5, 40.0)
    """
    same = known_kg is not None and mass_number(value_kg, units=units) == mass_number(known_kg, units=units)
    return known_kg if known_kg is not None and same else value_kg


def length_number(value_m: float, *, units: Units = METRIC) -> str:
    """Write a length given in [m] without its unit.

    >>> length_number(20.0), length_number(18.288, units=Units(length="yd"))
    ('20', '20')
    """
    return number(value_m / M_PER_YD, decimals=1) if units.length == "yd" else number(value_m)


def length(value_m: float, *, units: Units = METRIC) -> str:
    """Write a length given in [m].

    >>> length(20.0)
    '20 m'
    """
    return f"{length_number(value_m, units=units)} {units.length}"


def share(value: float) -> str:
    """Write a fraction as per cent.

    >>> share(0.9), share(0.125)
    ('90 %', '12.5 %')
    """
    return f"{number(100 * value, decimals=1)} %"


def seconds(value_s: float, *, decimals: int = 2) -> str:
    """Write a sprint time given in [s] as a clock shows it.

    >>> seconds(3.4)
    '3.40 s'
    """
    return f"{value_s:.{decimals}f} s".replace("-", "−")


def rest(value_s: float) -> str:
    """Write a rest given in [s].

    >>> rest(90), rest(150), rest(135)
    ('90 s', '2.5 min', '2:15 min')
    """
    if value_s < WRITTEN_IN_MINUTES_FROM_S:
        return f"{number(value_s)} s"
    if value_s % (ONE_MINUTE_S / 2):
        return f"{int(value_s // ONE_MINUTE_S)}:{int(value_s % ONE_MINUTE_S):02d} min"
    return f"{number(value_s / ONE_MINUTE_S)} min"


def _time(value: float) -> str:
    # Whole seconds are rests and work; anything finer below a minute is a clock's.
    clock = value != round(value) and abs(value) < ONE_MINUTE_S
    return seconds(value, decimals=3) if clock else rest(value)


def quantity(value: float, unit: str, *, units: Units = METRIC) -> str:
    """Write a number of a basis node with its unit.

    >>> quantity(0.3, "share"), quantity(7.91, "N/kg"), quantity(3, "1")
    ('30 %', '7.91 N/kg', '3')
    """
    known = {"kg": mass, "m": length}
    if unit in known:
        return known[unit](value, units=units)
    if unit == "share":
        return share(value)
    if unit == "s":
        return _time(value)
    return f"{_readable(value)} {SIGNS.get(unit, unit)}".rstrip()


def _readable(value: float) -> str:
    # Four figures are what a person can use; whole numbers are never shortened.
    return number(value) if value == round(value) else number(float(f"{value:.4g}"), decimals=6)
