"""Chance for the invented squad: the same for the same thing, and what its story turns on."""

from __future__ import annotations

from random import Random

SEED = "speedloom demo"
LIVED = 6
"""Whole weeks of the programme that lie behind the squad; today is in the one after them."""
HURT = "fenna"
"""Whose hamstring pulled on the last Monday, in the story the demo tells."""


def luck(*about: object) -> Random:
    """Make a source of chance from what it is for, so that no draw depends on another."""
    return Random("/".join(map(str, (SEED, *about))))  # noqa: S311 - invented numbers, no secret


def gain(athlete: str) -> float:
    """Give the share by which an invented athlete got faster in the weeks behind her."""
    return luck("gain", athlete).gauss(0.009, 0.009)
