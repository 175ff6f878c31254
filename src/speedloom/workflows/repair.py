"""Try a clash's repairs: the brief as it would be, never the file."""

from __future__ import annotations

from speedloom.planning.clash import Clash, Repair
from speedloom.planning.repaired import repaired
from speedloom.training.brief import ResolvedBrief

BY_PEOPLE = frozenset({"clear_athlete", "add_slot"})
"""Steps that a doctor or the coach takes, and no program: a clearance, and when there is time to train."""


def repairs(clash: Clash) -> tuple[Repair, ...]:
    """Give what would make a clash possible, cheapest first."""
    return (clash.repair, *clash.more)


def apply(brief: ResolvedBrief, repair: Repair) -> ResolvedBrief:
    """Give the brief with a repair's steps done; the brief itself stays as it is.

    Args:
        brief: the resolved brief that clashes.
        repair: one of the clash's repairs.
    """
    return repaired(brief, repair)


def needs_people(repair: Repair) -> bool:
    """Say whether a repair is a person's decision, that no program tries."""
    return any(step.kind in BY_PEOPLE for step in repair.steps)
