"""The arguments of one node, read as numbers or words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Arguments = Mapping[str, Any]


class NotComputableError(ValueError):
    """Arguments that the formula cannot work with."""


def number(arguments: Arguments, name: str, default: float | None = None) -> float:
    """Read a number; a missing one takes the default where there is one.

    Raises:
        NotComputableError: it is missing or no number.
    """
    value = arguments.get(name)
    if value is None and name not in arguments:
        value = default
    if isinstance(value, bool) or not isinstance(value, int | float):
        msg = f"expected a number for {name}, got {value!r}"
        raise NotComputableError(msg)
    return float(value)


def numbers(arguments: Arguments) -> list[float]:
    """Read all arguments as numbers, in the order of their names.

    Raises:
        NotComputableError: one is no number.
    """
    return [number(arguments, name) for name in arguments]


def optional(arguments: Arguments, name: str) -> float | None:
    """Read a number that may be absent."""
    return None if arguments.get(name) is None else number(arguments, name)
