"""A line of a session drafted for an exercise that the coach asks for.

Nothing is chosen here that planning does not choose: the day is drafted again by the same formulas, with a
catalogue that leaves them one exercise only.
"""

from __future__ import annotations

from dataclasses import replace

from speedloom.planning.draft import Draft
from speedloom.planning.ledger import literal
from speedloom.planning.lines.opening import BUILD_UP
from speedloom.planning.problem import Filled
from speedloom.planning.sessions import work_of
from speedloom.planning.setting import Setting
from speedloom.training.exercise import Catalogue, Exercise
from speedloom.training.programme import StopRule
from speedloom.training.words import LEVELS, METHODS, SPRINTS, Level

STRAIGHT = frozenset(
    {
        "acceleration_run",
        "acceleration_falling",
        "acceleration_three_point",
        "acceleration_block",
        "acceleration_push_up_start",
        "long_sprint",
        "top_speed_run",
        "sled_sprint",
    }
)
"""Runs whose time the equation of motion tells; others go by effort."""

TOWED = frozenset({"sled_sprint", "hill_sprint"})
"""Resisted runs that formulas write; a sled that is pushed or marched with needs the coach's own numbers."""


def suits(setting: Setting, exercise: Exercise) -> bool:
    """Say whether catalogue, kit, place and restrictions allow an exercise that the coach asks for here."""
    return _asked_for(setting, exercise).suits(exercise, level=_level(setting, exercise))


def _level(setting: Setting, exercise: Exercise) -> Level:
    """Give the level that counts for an exercise; a coach's own work has none."""
    if exercise.method == "hamstring_groin_calf":
        return setting.plan.level("maximal_strength")
    method = next((one for one in METHODS if one == exercise.method), None)
    return LEVELS[-1] if method is None else setting.plan.level(method)


def drafted_for(filled: Filled, exercise: Exercise, *, instead: Exercise | None = None) -> Draft | None:
    """Draft a line of a session for one exercise; None where the formulas have none for it that day.

    Args:
        filled: the session's draft.
        exercise: what is to be done.
        instead: what it takes the place of; None where it comes on top.
    """
    setting = filled.setting
    towed_otherwise = exercise.method == "resisted_sprint" and exercise.ref not in TOWED
    if towed_otherwise or not suits(setting, exercise):
        return None
    # A hill keeps its own place: the formulas look for it where no sled is.
    place = instead if instead is not None and exercise.slot != "hill" else exercise
    posing = exercise.model_copy(update={"slot": place.slot, "stage": place.stage})
    alone = _asked_for(setting, posing, alone=True)
    drafts = work_of(alone, gym_in_week=_gym_in_week(filled), method=exercise.method)
    found = next((one for one in drafts if one.exercise_ref == exercise.ref and one.purpose == "work"), None)
    if found is None or found.method != exercise.method:
        return None
    return _by_effort(setting, replace(found, exercise=exercise))


def _gym_in_week(filled: Filled) -> bool:
    """Say whether the session was drafted for a week with a day in the gym."""
    support = any(draft.method == "hamstring_groin_calf" for draft in filled.drafts)
    return filled.setting.day.gym or not support


def _asked_for(setting: Setting, exercise: Exercise, *, alone: bool = False) -> Setting:
    """Give the setting with an exercise that the coach asks for by name."""
    plan = setting.plan
    choice = plan.brief.exercises
    wanted = choice.model_copy(
        update={
            "prefer": (*choice.prefer, exercise.ref),
            "leave_out": tuple(ref for ref in choice.leave_out if ref != exercise.ref),
        }
    )
    phases = plan.brief.phases
    named = next((one for one in METHODS if one == exercise.method and one not in phases.methods), None)
    if named is not None:
        phases = phases.model_copy(update={"methods": (*phases.methods, named)})
    brief = plan.brief.model_copy(update={"exercises": wanted, "phases": phases})
    catalogue = _only(plan.catalogue, exercise) if alone else plan.catalogue
    return replace(setting, plan=replace(plan, brief=brief, catalogue=catalogue))


def _only(catalogue: Catalogue, exercise: Exercise) -> Catalogue:
    """Give the catalogue with one exercise alone in its place of a session."""
    # A hill is asked for only where no sled is: the two share one place in a session.
    rivals = {"sled", "hill"} if exercise.slot in {"sled", "hill"} else {exercise.slot}
    others = (
        one
        for one in catalogue.exercises
        if (one.slot not in rivals or one.ref == BUILD_UP) and one.ref != exercise.ref
    )
    return catalogue.model_copy(update={"exercises": (*others, exercise)})


def _by_effort(setting: Setting, draft: Draft) -> Draft:
    """Take an expected time away that would be a straight run's: such a run goes by effort."""
    if draft.method not in SPRINTS or draft.exercise_ref in STRAIGHT or draft.fields.get("expect") is None:
        return draft
    gone = {"expect.time_s", "expect.low", "expect.high", "expect.share_vmax", "stop_rule.value"}
    basis = {name: tag for name, tag in draft.basis.items() if name not in gone}
    fields = draft.fields | {"expect": None, "stop_rule": StopRule(kind="technique")}
    if fields.get("effort") is None:
        fields["effort"] = 1.0
        basis["effort"] = setting.ledger.given("effort", 1.0, "share", literal(1))
    return replace(draft, fields=fields, basis=basis)
