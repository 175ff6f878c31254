"""Given numbers, sums, steps, grids and counts."""

from __future__ import annotations

from math import ceil, floor, prod
from typing import Any

from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number, numbers

_GUARD = 1e-9


def given(arguments: Arguments) -> Any:  # noqa: ANN401 (a number or a word)
    """A value that is read, not computed."""
    return arguments["value"]


def total(arguments: Arguments) -> float:
    """A sum."""
    return sum(numbers(arguments))


def product(arguments: Arguments) -> float:
    """A product."""
    return prod(numbers(arguments))


def least(arguments: Arguments) -> float:
    """The smallest."""
    return min(numbers(arguments))


def clamp(arguments: Arguments) -> float:
    """A value kept within two bounds."""
    return min(number(arguments, "high"), max(number(arguments, "low"), number(arguments, "value")))


def _half_down(value: float) -> int:
    return ceil(value - 0.5 - _GUARD)


def round_step(arguments: Arguments) -> float:
    """To the nearest step, half down."""
    step = number(arguments, "step")
    return _half_down(number(arguments, "value") / step) * step


def round_up(arguments: Arguments) -> float:
    """Up to a step."""
    step = number(arguments, "step")
    return ceil(number(arguments, "value") / step - _GUARD) * step


def round_distance(arguments: Arguments) -> float:
    """To the distances a coach writes, never beyond the longest."""
    fine, coarse, border = (number(arguments, name) for name in ("fine_m", "coarse_m", "border_m"))
    longest, wanted = number(arguments, "longest_m"), number(arguments, "distance_m")
    grid = [fine * step for step in range(1, floor(border / fine + _GUARD) + 1)]
    grid += [
        border + coarse * step for step in range(1, max(0, floor((longest - border) / coarse + _GUARD)) + 1)
    ]
    allowed = [metres for metres in grid if metres <= longest + _GUARD]
    return min(allowed, key=lambda metres: (round(abs(metres - wanted), 9), metres), default=fine)


def count(arguments: Arguments) -> float:
    """Whole repetitions or sets nearest the wanted volume."""
    proposed = _half_down(number(arguments, "wanted") / number(arguments, "each"))
    return min(number(arguments, "most"), max(number(arguments, "fewest"), proposed))


def taper_factor(arguments: Arguments) -> float:
    """The taper's share of volume by days to the peak."""
    if number(arguments, "taper_days") <= 10:  # noqa: PLR2004 (the formula's own line)
        return number(arguments, "short")
    near = number(arguments, "days_to_peak") <= 7  # noqa: PLR2004 (a week)
    return number(arguments, "near" if near else "far")


def volume_planned(arguments: Arguments) -> float:
    """What a week holds of a method: the sum over its lines of sets, repetitions and what each counts."""
    lines: dict[str, float] = {}
    for name in arguments:
        factor, _, line = name.rpartition("_")
        if factor not in {"sets", "reps", "each"}:
            msg = f"expected sets_n, reps_n or each_n, got {name}"
            raise NotComputableError(msg)
        lines[line] = lines.get(line, 1.0) * number(arguments, name)
    return sum(lines.values())


def contacts(arguments: Arguments) -> float:
    """Foot contacts of a whole line."""
    sides = 2.0 if arguments.get("sides") == "each" else 1.0
    return (
        number(arguments, "sets") * number(arguments, "reps") * number(arguments, "contacts_per_rep") * sides
    )
