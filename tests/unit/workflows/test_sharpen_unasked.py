"""A log without marks, of somebody of whom no maximum is known: what nobody expects changes nothing."""

from __future__ import annotations

import pytest

from sharpened import BRIEF, ON, SQUAD, entry, lines, log
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.workflows.sharpen import proposals
from speedloom.workflows.sharpen_proposal import Proposal


def found(load_kg: float) -> tuple[Proposal, ...]:
    """Log one set of somebody whose lifts the brief does not have."""
    people = tuple(
        one.model_copy(update={"lifts": ()}) if one.ref == "astrid" else one for one in BRIEF.athletes
    )
    brief = BRIEF.model_copy(update={"athletes": people})
    programme = SQUAD.model_copy(update={"brief": SQUAD.brief.model_copy(update={"content": brief})})
    _, session, line = next(lines("astrid", "back_squat"))
    known = log(entry("astrid", session, line, [{"load_kg": load_kg, "reps": 5, "rir": 1}]))
    return proposals(programme, known, on=ON, rulebook=load_rulebook(), catalogue=load_catalogue())


@pytest.mark.parametrize(("load_kg", "moves"), [(75.0, True), (400.0, False), (3.5, False)])
def test_a_slip_makes_no_maximum_where_none_is_known(load_kg: float, moves: bool) -> None:  # noqa: FBT001
    assert any(one.kind == "one_rep_max" for one in found(load_kg)) is moves
