"""General strength, and the hamstring, groin and calf lines that are never dropped first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from speedloom.planning.draft import OVER_ALIKE, Cost, Draft, Timing
from speedloom.planning.ledger import Tag, literal
from speedloom.planning.setting import Setting
from speedloom.training.exercise import Exercise
from speedloom.training.programme import StopRule
from speedloom.training.words import Level, Method

GENERAL: Method = "general_strength"
SUPPORT = "hamstring_groin_calf"


def general_strength(setting: Setting, *, set_rank: int, upper_rank: int) -> list[Draft]:
    """Draft four exercises: one-leg knee, one-leg hip, pull, and push or trunk."""
    level = setting.plan.level(GENERAL)
    drafts: list[Draft] = []
    for slot in _general_slots(setting):
        exercise = _general_exercise(setting, slot, level)
        if exercise is not None:
            second_upper = slot in {"push", "trunk"}
            cost = Cost(
                rank=set_rank,
                floor=2,
                below_rank=8,
                drop_rank=upper_rank if second_upper else 8,
                over=OVER_ALIKE,
            )
            drafts.append(_general_line(setting, exercise, level, slot, cost, first=not drafts))
    return drafts


def _general_slots(setting: Setting) -> tuple[str, ...]:
    """Give the day's parts: four, in season two."""
    faster = setting.day.role == "faster"
    if setting.in_season:
        return ("hip_one_leg", "trunk") if faster else ("knee_one_leg", "pull")
    return ("knee_one_leg", "hip_one_leg", "pull", "trunk" if faster else "push")


def _general_exercise(setting: Setting, slot: str, level: Level) -> Exercise | None:
    return next(iter(setting.choices(slot, level=level)), None)


def _general_line(
    setting: Setting, exercise: Exercise, level: Level, slot: str, cost: Cost, *, first: bool
) -> Draft:
    ledger = setting.ledger
    sets = ledger.rule("sets", "general_strength_dose", f"sets_{level}")
    wanted = setting.wanted(GENERAL, sets, unit="sets")
    reserve = (
        ledger.rule("reps in reserve", "general_strength_dose", "rir_introduction")
        if setting.cautious
        else ledger.rule("reps in reserve", "general_strength_dose", f"rir_{level}")
    )
    low = ledger.rule("repetitions", "general_strength_dose", "reps_low")
    high = ledger.rule("repetitions", "general_strength_dose", "reps_high")
    held = "isometric" in exercise.tags
    hold = ledger.rule("hold", "general_strength_dose", "hold_s")
    one = ledger.given("repetitions", 1, "1", literal(1))
    fields: dict[str, Any] = {
        "side": "each" if exercise.sides == "each" else "both",
        "rir": None if held else int(reserve.value),
        "reps": 1 if held else int(low.value),
        "reps_to": None if held else int(high.value),
        "hold_s": int(hold.value) if held else None,
        "stop_rule": StopRule(kind="technique") if held else StopRule(kind="rir", value=reserve.value),
    }
    basis = (
        {"reps": one, "hold_s": hold}
        if held
        else {
            "reps": low,
            "reps_to": high,
            "rir": reserve,
            "stop_rule.value": reserve,
        }
    )
    most = _capped(setting, exercise, int(sets.value))
    return Draft(
        key=f"general_{slot}",
        method=GENERAL,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="sets",
        other=one if held else low,
        proposed=setting.count(wanted, literal(1), fewest=1, most=most),
        fewest=1,
        most=most,
        optional=True,
        cost=cost,
        timing=Timing(
            work=setting.seconds("work", "general_strength_dose", "work_s"),
            rest=setting.seconds("rest", "general_strength_dose", "rest_s"),
            change_over=setting.change_over() if first else None,
            runs_on=True,
        ),
        volume="general_strength",
        each=ledger.given("a set", 1, "sets", literal(1)),
        wanted=wanted,
        fields=fields,
        basis=basis,
    )


@dataclass(frozen=True)
class _Part:
    slot: str
    sets: str
    reps: str
    ramped: bool = False


def hamstring_groin_calf(setting: Setting, *, in_field: bool) -> list[Draft]:
    """Draft the hamstring line and, in the gym, groin and calf."""
    level = setting.plan.level("maximal_strength")
    nordic = _Part("nordic", f"nordic_sets_{level}", f"nordic_reps_{level}", ramped=True)
    hinge = _Part("hinge", "hinge_sets", "hinge_reps")
    groin = _Part("groin", "groin_sets", f"groin_reps_{level}")
    calf = _Part("calf", "calf_sets", "calf_reps")
    near = setting.day.days_to_peak
    fresh = near is not None and near <= setting.plan.number("hamstring_dose", "peak_days")
    soon = fresh or setting.day.nearness != "free"
    first = hinge if in_field or setting.day.role == "faster" or soon else nordic
    parts = [first] if in_field else [first, calf] if first is hinge else [first, groin, calf]
    drafts: list[Draft] = []
    for part in parts:
        exercise = next(iter(setting.choices(part.slot, level=level)), None)
        if exercise is not None:
            drafts.append(_support_line(setting, exercise, part, never_cut=part is first, first=not drafts))
    return drafts


def _support_line(
    setting: Setting, exercise: Exercise, part: _Part, *, never_cut: bool, first: bool
) -> Draft:
    ledger = setting.ledger
    sets = ledger.rule("sets", "hamstring_dose", part.sets)
    wanted = setting.wanted(None, sets, unit="sets")
    reps, held = _support_reps(setting, exercise, part)
    fields: dict[str, Any] = {
        "side": "each" if exercise.sides == "each" else "both",
        "reps": int(reps.value),
        "stop_rule": StopRule(kind="technique"),
        "hold_s": int(setting.plan.number("hamstring_dose", "hold_s")) if held else None,
    }
    basis: dict[str, Tag] = {"reps": reps}
    if held:
        basis["hold_s"] = ledger.rule("hold", "hamstring_dose", "hold_s")
    introduction = setting.cautious and part.ramped
    most = 1 if introduction else _capped(setting, exercise, int(sets.value))
    return Draft(
        key=f"support_{part.slot}",
        method=SUPPORT,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="sets",
        other=reps,
        proposed=setting.count(wanted, literal(1), fewest=1, most=most),
        fewest=1,
        most=most,
        optional=not never_cut,
        cost=Cost(rank=7, drop_rank=8, over=OVER_ALIKE),
        timing=Timing(
            work=setting.seconds("work", "hamstring_dose", "work_s"),
            rest=setting.seconds("rest", "hamstring_dose", "rest_s"),
            change_over=setting.change_over() if first else None,
            runs_on=True,
        ),
        volume=SUPPORT,
        each=ledger.given("a set", 1, "sets", literal(1)),
        wanted=wanted,
        fields=fields,
        basis=basis,
    )


def _support_reps(setting: Setting, exercise: Exercise, part: _Part) -> tuple[Tag, bool]:
    if "isometric" in exercise.tags:
        return setting.ledger.given("repetitions", 1, "1", literal(1)), True
    if not part.ramped:
        return setting.ledger.rule("repetitions", "hamstring_dose", part.reps), False
    if setting.cautious:
        return setting.ledger.rule("repetitions", "hamstring_dose", "nordic_reps_introduction"), False
    dose = setting.dose("repetitions", "hamstring_dose", part.reps, at=setting.point)
    return setting.whole(dose, "repetitions"), False


def _capped(setting: Setting, exercise: Exercise, most: int) -> int:
    cap = setting.cap("sets", exercise)
    return most if cap is None else max(1, min(most, int(cap)))
