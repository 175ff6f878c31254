"""Specificity, roles and doses between general, middle and specific."""

from __future__ import annotations

from speedloom.checking.recompute.arguments import Arguments, number


def _between(arguments: Arguments, share: float) -> float:
    first, last = number(arguments, "first"), number(arguments, "last")
    return first + (last - first) * share


def specificity(arguments: Arguments) -> float:
    """How specific a week is: an even rise by loading weeks, a double step into each mesocycle."""
    done = number(arguments, "before") + number(arguments, "mesocycle") - 1.0
    steps = number(arguments, "loading") + number(arguments, "mesocycles") - 2.0
    return _between(arguments, done / steps if steps else 1.0)


def in_season(arguments: Arguments) -> float:
    """How specific a week in season is: up over three weeks, the fourth easy."""
    low, high, place = (number(arguments, name) for name in ("low", "high", "place"))
    return low + (high - low) * {0.0: 0.0, 1.0: 0.5, 2.0: 1.0, 3.0: 0.0}[place]


def mesocycle_point(arguments: Arguments) -> float:
    """The mesocycle's own place from general to specific."""
    mesocycle, mesocycles = number(arguments, "mesocycle"), number(arguments, "mesocycles")
    return _between(arguments, 0.5 if mesocycles == 1.0 else (mesocycle - 1.0) / (mesocycles - 1.0))


def role_shift(arguments: Arguments) -> float:
    """The heavier or faster day's shift, kept within 0 and 1."""
    shifted = number(arguments, "specificity") + number(arguments, "direction") * number(arguments, "shift")
    return min(1.0, max(0.0, shifted))


def linear(arguments: Arguments) -> float:
    """A dose between its general, middle and specific value."""
    low, high, along = _legs(arguments)
    return low + (high - low) * along


def geometric(arguments: Arguments) -> float:
    """The same in equal ratios."""
    low, high, along = _legs(arguments)
    return low * (high / low) ** along if low else 0.0


def _legs(arguments: Arguments) -> tuple[float, float, float]:
    s, middle = number(arguments, "specificity"), number(arguments, "middle")
    if s <= 0.5:  # noqa: PLR2004 (the middle)
        return number(arguments, "general"), middle, 2.0 * s
    return middle, number(arguments, "specific"), 2.0 * s - 1.0
