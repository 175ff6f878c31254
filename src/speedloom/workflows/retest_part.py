"""A retest cut to some athletes: the squad's mean stays, of the others nothing does."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from speedloom.workflows.retest import Retest


def retest_of(found: Retest, athletes: Collection[str]) -> Retest:
    """Cut a retest to some athletes; what each was drawn to is still the whole squad's change.

    Args:
        found: the comparison of the whole squad.
        athletes: whose changes, curves and refusals are kept.
    """
    panels = (
        replace(panel, changes=tuple(one for one in panel.changes if one.athlete in athletes))
        for panel in found.panels
    )
    return replace(
        found,
        panels=tuple(panel for panel in panels if panel.changes),
        left_out=tuple(one for one in found.left_out if one.athlete in athletes),
        refused=tuple(one for one in found.refused if one.athlete in athletes),
        curves=tuple(one for one in found.curves if one.athlete in athletes),
    )
