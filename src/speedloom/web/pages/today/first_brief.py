"""The brief a new squad begins with: twelve weeks from next Monday, and nothing yet to train in."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from speedloom.training.brief import SCHEMA, Brief, Goal, Phases
from speedloom.training.calendar import monday_of

MESOCYCLES = (4, 4, 4)
"""Weeks; the coach changes them with the goal [weeks]."""
DISTANCE_M = 30.0


def first_brief(name: str, *, zone: str, today: date) -> Brief:
    """Make the brief of a new squad; places, slots and goal are filled in on its pages."""
    start = monday_of(today) + timedelta(days=7)
    return Brief.model_validate(
        {
            "schema": SCHEMA,
            "name": name,
            "timezone": zone,
            "start": start,
            "end": start + timedelta(days=7 * sum(MESOCYCLES) - 1),
            "goal": Goal(distance_m=DISTANCE_M),
            "phases": Phases(mesocycle_weeks=MESOCYCLES),
            "places": (),
            "slots": (),
        }
    )


def zone_here(clock: Path = Path("/etc/localtime")) -> str:
    """Guess this computer's time zone from its own setting; empty where it does not say."""
    _, found, name = str(clock.resolve()).partition("/zoneinfo/")
    return name if found else ""
