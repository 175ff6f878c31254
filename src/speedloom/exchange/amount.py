"""A number as a coach types it, with or without its unit: `32.5`, `32,5 kg`, `70 lb`, `20 yd`, `85 %`."""

from __future__ import annotations

import re
from collections.abc import Mapping

from speedloom.wording.units import KG_PER_LB, M_PER_YD

_TYPED = re.compile(r"\s*(-?\d+(?:[.,]\d+)?)\s*([a-z%]*)\s*", re.IGNORECASE)
_UNITS: Mapping[str, tuple[str, float]] = {
    "kg": ("kg", 1.0),
    "lb": ("kg", KG_PER_LB),
    "m": ("m", 1.0),
    "yd": ("m", M_PER_YD),
    "s": ("s", 1.0),
    "min": ("s", 60.0),
    "%": ("share", 0.01),
}
"""What each unit measures, and how much one of it is in the unit that is stored."""


def amount(text: str, *, unit: str) -> float:
    """Read a number that is stored in a unit.

    Args:
        text: what was typed.
        unit: the unit it is stored in: kg, m, s, share or 1; without a unit the number is taken as it is.

    Raises:
        ValueError: no number, or a unit of something else.

    >>> round(amount("70 lb", unit="kg"), 2), amount("85 %", unit="share"), amount("2,5", unit="min")
    (31.75, 0.85, 2.5)
    """
    typed = _TYPED.fullmatch(text)
    if typed is None:
        message = f"expected a number{f' in {unit}' if unit in _UNITS else ''}, got {text}."
        raise ValueError(message)
    number = float(typed[1].replace(",", "."))
    written = typed[2].lower()
    if not written:
        return number
    measures, factor = _UNITS.get(written, ("", 1.0))
    if measures != unit:
        expected = ", ".join(name for name, (kind, _) in _UNITS.items() if kind == unit) or "no unit"
        message = f"expected a number with {expected}, got {text}."
        raise ValueError(message)
    return number * factor
