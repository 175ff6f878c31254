"""Plyometric lines: one horizontal and one vertical exercise, contacts by class."""

from __future__ import annotations

from typing import Any

from speedloom.planning.draft import OVER_ALIKE, Cost, Draft, Timing
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.setting import Setting
from speedloom.training.exercise import Exercise
from speedloom.training.programme import StopRule
from speedloom.training.words import Level, Method

PLYOMETRIC: Method = "plyometric"


def plyometric(setting: Setting, *, direction: str, last_rank: int, whole_rank: int) -> Draft | None:
    """Draft one plyometric exercise of a session."""
    if not setting.day.jumps or setting.day.nearness in {"primer", "top_up"}:
        return None
    if setting.day.role == "neutral" and not setting.day.sole and not setting.day.easy:
        # A third field day adds runs, no jumps: the week's contacts stand on the other two.
        return None
    if setting.in_season and setting.day.role == "heavier":
        # The week's few contacts stand on its other field day.
        return None
    level = setting.plan.level(PLYOMETRIC)
    at = setting.shifted(PLYOMETRIC)
    exercise = _exercise(setting, direction, level, float(at.value))
    if exercise is None:
        return None
    per_set = _per_set(setting, exercise, level)
    contacts_each = setting.ledger.compute(
        "contacts a set",
        "contacts",
        "contacts.line",
        sets=literal(1),
        reps=per_set,
        contacts_per_rep=literal(exercise.contacts_per_rep),
        sides=literal(exercise.sides),
    )
    wanted = _wanted(setting, level, at)
    fewest, most = _sets_allowed(setting, exercise, level, at, float(contacts_each.value))
    if most < 1:
        return None
    rest = setting.seconds("rest", "plyometric_dose", "rest_s")
    fields: dict[str, Any] = {
        "side": "each" if exercise.sides == "each" else "both",
        "stop_rule": StopRule(kind="technique"),
    }
    fields, basis = _weighted(setting, fields)
    fields["reps"], basis["reps"] = int(per_set.value), per_set
    return Draft(
        key=f"plyometric_{direction}",
        method=PLYOMETRIC,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="sets",
        other=per_set,
        proposed=setting.count(wanted, contacts_each, fewest=min(fewest, most), most=most),
        fewest=min(fewest, most),
        most=most,
        optional=True,
        cost=Cost(rank=last_rank, floor=1, below_rank=whole_rank, drop_rank=whole_rank, over=OVER_ALIKE),
        timing=Timing(
            work=setting.seconds("work", "plyometric_dose", "work_s"),
            rest=rest,
            change_over=setting.change_over(),
            runs_on=True,
        ),
        volume="plyometric",
        each=contacts_each,
        per_unit=float(contacts_each.value),
        wanted=wanted,
        fields=fields,
        basis=basis,
    )


def _exercise(setting: Setting, direction: str, level: Level, at: float) -> Exercise | None:
    stage = _stage(setting, at)
    slot = f"plyo_{direction}"
    fastest = setting.plan.number("plyometric_dose", "fastest_from")
    found = setting.choices(slot, level=level, stage=stage)
    if stage == "specific" and at >= fastest and level != "novice":
        quick = [exercise for exercise in found if exercise.level == "intermediate"]
        found = tuple(quick) or found
    for earlier in ("middle", "general"):
        if not found:
            found = setting.choices(slot, level=level, stage=earlier)
    return next(iter(found), None)


def _stage(setting: Setting, at: float) -> str:
    if setting.cautious or at < setting.plan.number("plyometric_dose", "middle_from"):
        return "general"
    return "middle" if at < setting.plan.number("plyometric_dose", "specific_from") else "specific"


def _per_set(setting: Setting, exercise: Exercise, level: Level) -> Tag:
    dose = setting.dose("contacts a set", "plyometric_dose", f"per_set_{level}", at=setting.point)
    whole = setting.whole(dose, "repetitions")
    if exercise.sides != "each":
        return whole
    return setting.ledger.compute(
        "repetitions", "1", "round.step", value=_half(setting, whole), step=literal(1)
    )


def _half(setting: Setting, whole: Tag) -> Tag:
    return setting.ledger.compute("repetitions a side", "1", "product", contacts=whole, half=literal(0.5))


def _wanted(setting: Setting, level: Level, at: Tag) -> Tag:
    contacts = setting.volume_dose("contacts", "plyometric_dose", f"contacts_{level}", at=at)
    half: Input = literal(0.5)
    wanted = setting.wanted(PLYOMETRIC, contacts, unit="contacts", share=half)
    few = _few_contacts(setting)
    if few is not None:
        return setting.ledger.compute(
            "wanted", "contacts", "least", value=wanted, few=f"rule:{'.'.join(few)}"
        )
    return wanted


def _few_contacts(setting: Setting) -> tuple[str, str] | None:
    """Name the number that keeps contacts few: near a match, or in season."""
    if setting.day.nearness == "light":
        return "plyometric_dose", "light_contacts_a_exercise"
    return ("in_season", "contacts_a_exercise") if setting.in_season else None


def _sets_allowed(
    setting: Setting, exercise: Exercise, level: Level, at: Tag, contacts_a_set: float
) -> tuple[int, int]:
    number = setting.plan.number
    ceiling = setting.dose("most contacts", "plyometric_dose", f"most_{level}", at=at)
    most_contacts = float(ceiling.value) / 2
    few = _few_contacts(setting)
    if few is not None:
        most_contacts = number(*few)
    cap = setting.cap("contacts", exercise)
    if cap is not None:
        most_contacts = min(most_contacts, cap)
    most = min(int(number("plyometric_dose", "sets_most")), int(most_contacts // contacts_a_set))
    fewest = int(number("plyometric_dose", "sets_fewest")) if setting.week.kind == "loading" else 1
    sets_cap = setting.cap("sets", exercise)
    return fewest, most if sets_cap is None else min(most, int(sets_cap))


def _weighted(setting: Setting, fields: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Tag]]:
    """Add the coach's own choice of added mass, never proposed."""
    added = setting.plan.brief.phases.plyometric_added_kg
    if added is None or setting.cautious or setting.plan.youth:
        return fields, {}
    tag = setting.ledger.compute(
        "added mass",
        "kg",
        "dose.linear",
        general="brief:phases.plyometric_added_kg.0",
        middle="brief:phases.plyometric_added_kg.1",
        specific="brief:phases.plyometric_added_kg.2",
        specificity=setting.point,
    )
    stepped = setting.stepped(tag, "rule:plyometric_dose.added_step_kg", unit="kg", quantity="added mass")
    return fields | {"added_kg": stepped.value}, {"added_kg": stepped}
