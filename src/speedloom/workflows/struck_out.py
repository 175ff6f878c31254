"""What a programme rests on without the tests that were struck out since."""

from __future__ import annotations

from speedloom.training.brief import ResolvedBrief
from speedloom.training.measurement import Measurements


def without_struck(brief: ResolvedBrief, struck: Measurements) -> ResolvedBrief:
    """Give a brief without measured rows that were struck out: they are used for nothing any more.

    Args:
        brief: the brief inside a programme.
        struck: the rows that were struck out.
    """
    known = brief.measurements
    kept = {
        name: tuple(row for row in getattr(known, name) if row not in getattr(struck, name))
        for name in type(known).model_fields
    }
    if all(kept[name] == getattr(known, name) for name in kept):
        return brief
    return brief.model_copy(update={"measurements": known.model_copy(update=kept)})
