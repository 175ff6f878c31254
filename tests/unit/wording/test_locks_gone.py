"""What was locked and could not be held is told before a re-plan is accepted."""

from __future__ import annotations

import json
from datetime import date

from edited import lock, squad
from replanned import again
from speedloom.planning.acts import Swap
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.replanned import replanned_text
from speedloom.workflows.group import found
from speedloom.workflows.lines import rework

SINCE = date(2026, 1, 26)


def limited(programme: Programme, exercise: str) -> ResolvedBrief:
    """Give the brief with a limit that forbids an exercise from the first day that may change."""
    content = programme.brief.content
    assert content is not None
    data = content.model_dump(mode="json", by_alias=True)
    limit = {"what": "sets", "at_most": 0, "exercise": exercise}
    said = {"from": SINCE.isoformat(), "set_by": "x", "set_as": "coach", "set_on": SINCE.isoformat()}
    data["athletes"][0]["restrictions"] = [{"ref": "hip", "limits": [limit], **said}]
    return ResolvedBrief.model_validate_json(json.dumps(data))


def ref_of(exercise: str) -> str:
    return next(
        ref
        for ref, at in found(squad())
        if at.week.number == 3 and at.line is not None and at.line.exercise == exercise
    )


def test_a_lock_whose_line_is_gone_is_told() -> None:
    held = lock(squad(), f"{ref_of('push_up')}.sets")
    new = again(held, since=SINCE, brief=limited(held, "push_up"))
    assert "Locked, and no longer there: ada, Tue 27 Jan Push-up (sets)." in " ".join(
        replanned_text(held, new, since=SINCE).split()
    )


def test_an_exercise_put_in_by_hand_that_is_gone_is_told() -> None:
    swap = Swap(ref_of("push_up"), "pike_push_up")
    made = rework(squad(), [swap], reason="x", rulebook=load_rulebook(), catalogue=load_catalogue())
    new = again(made, since=SINCE, brief=limited(made, "pike_push_up"))
    said = " ".join(replanned_text(made, new, since=SINCE).split())
    assert "Locked, and no longer there: ada, Tue 27 Jan Pike push-up (exercise)." in said


def test_locks_that_hold_and_locks_that_are_over_are_not_told() -> None:
    over = next(
        ref
        for ref, at in found(squad())
        if at.week.number == 1 and at.line is not None and at.line.exercise == "push_up"
    )
    held = lock(squad(), f"{ref_of('push_up')}.sets", f"{over}.sets")
    new = again(held, since=SINCE, lost={"ada": (date(2026, 1, 23),)})
    assert new is not held
    assert "ocked" not in replanned_text(held, new, since=SINCE)
