"""Loads that the kit in the room can make."""

from __future__ import annotations

import json
from functools import lru_cache

from speedloom.checking.plates import nearest_kg
from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number, optional
from speedloom.training.kit import Kit


@lru_cache(maxsize=256)
def _kit(text: str) -> Kit:
    return Kit.model_validate_json(text)


def round_load(arguments: Arguments) -> float:
    """The nearest mass (kg) this kit can make, half down, never above `at_most`, never below empty.

    Raises:
        NotComputableError: `kit` names no kit, or nothing on it is light enough.
    """
    described = arguments.get("kit")
    if not isinstance(described, dict):
        msg = "expected the kit's entry of the brief"
        raise NotComputableError(msg)
    kit = _kit(json.dumps(described))
    pieces = int(number(arguments, "pieces", 1.0))
    mass = nearest_kg(
        kit, number(arguments, "load_kg"), at_most=optional(arguments, "at_most"), pieces=pieces
    )
    if mass is None:
        msg = f"{kit.ref} can make no load that light"
        raise NotComputableError(msg)
    return mass
