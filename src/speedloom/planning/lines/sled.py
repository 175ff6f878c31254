"""Resisted sprints: a sled load for this athlete, this sled and this floor."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from speedloom.planning.draft import Cost, Draft, Timing
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.lines.clock import with_expectation
from speedloom.planning.lines.runs import SPRINT_REP, gridded, has_room, longest, run_effort
from speedloom.planning.plates import loadable
from speedloom.planning.setting import Setting
from speedloom.science.constants import BAND_90_SD
from speedloom.training.exercise import Exercise
from speedloom.training.kit import Kit
from speedloom.training.programme import StopRule
from speedloom.training.words import Method

RESISTED: Method = "resisted_sprint"


def resisted(setting: Setting) -> Draft | None:
    """Draft the sled runs, or a hill or nothing where no sled can be light enough."""
    if not _allowed(setting):
        return None
    kit = setting.kit_of("sled")
    level = setting.plan.level(RESISTED)
    exercise = next(iter(setting.choices("sled", level=level)), None)
    if kit is None or exercise is None or exercise.load_kind != "sled" or not setting.plan.numbers.motion():
        return _by_effort(setting)
    if not has_room(setting, exercise=exercise):
        return None
    decrement = _decrement(setting)
    distance = _distance(setting, decrement, exercise)
    friction = _friction(setting, kit)
    motion = setting.plan.numbers.motion()
    raw = setting.ledger.compute(
        "load",
        "kg",
        "resistance.load_for_decrement_at_distance",
        **motion,
        friction=friction,
        distance_m=distance,
        decrement=decrement,
    )
    cap = setting.cap("load_kg", exercise)
    if float(raw.value) < loadable(kit)[0] or (cap is not None and cap < loadable(kit)[0]):
        return _by_effort(setting)
    extra = _at_most(setting, kit, cap, raw=raw)
    load = setting.ledger.compute(
        "load", "kg", "kit.round_load", load_kg=raw, kit=f"brief:kit.{kit.ref}", **extra
    )
    real = setting.ledger.compute(
        "decrement",
        "share",
        "resistance.decrement_at_distance",
        **motion,
        friction=friction,
        distance_m=distance,
        load_kg=load,
    )
    fields: dict[str, Any] = {
        "distance_m": distance.value,
        "load_kg": load.value,
        "decrement": real.value,
        "kit": kit.ref,
        "start": "standing",
    }
    draft = _draft(setting, exercise, distance, turns=setting.turns(stations=kit.count, lanes=literal(1)))
    basis = {"distance_m": distance, "load_kg": load, "decrement": real}
    draft = _with_effort(setting, _replace(draft, fields, basis), exercise)
    return with_expectation(setting, draft, stop="stop_drop", tow={"load_kg": load, "friction": friction})


def _at_most(setting: Setting, kit: Kit, cap: float | None, *, raw: Tag) -> dict[str, Input]:
    """Give what the load must not exceed: a restriction, the load before on this sled, a rule's decrement."""
    limits: list[tuple[float, Input]] = [] if cap is None else [(cap, literal(cap))]
    before = setting.plan.carried.get(kit.ref)
    if before is not None and setting.week.season_place is None:
        limits.append((float(before.value), before))
    if setting.cautious or _near_peak(setting) or setting.plan.youth:
        limits.append((float(raw.value), raw))
    return {"at_most": min(limits, key=lambda limit: limit[0])[1]} if limits else {}


def _near_peak(setting: Setting) -> bool:
    caution = setting.plan.number("sled_heavy_caution", "days_before_peak")
    near = (setting.day.days_to_peak, setting.day.days_to_minor)
    return any(days is not None and days <= caution for days in near)


def _allowed(setting: Setting) -> bool:
    day = setting.day
    last = setting.plan.number("sled_dose", "last_before_peak_days")
    return (
        (day.role == "heavier" or day.sole)
        and not day.easy
        and day.nearness == "free"
        and (day.days_to_peak is None or day.days_to_peak >= last)
    )


def _decrement(setting: Setting) -> Tag:
    level = setting.plan.level(RESISTED)
    ledger = setting.ledger
    dose = setting.dose("decrement", "sled_dose", f"decrement_{level}", at=setting.specificity)
    stepped = setting.stepped(dose, "rule:sled_dose.decrement_step", unit="share", quantity="decrement")
    if setting.cautious:
        return ledger.compute(
            "decrement", "share", "least", value=stepped, introduction="rule:sled_dose.introduction_decrement"
        )
    if _near_peak(setting) or setting.in_season:
        return ledger.compute(
            "decrement", "share", "least", value=stepped, peak="rule:sled_heavy_caution.decrement"
        )
    return stepped


def _distance(setting: Setting, decrement: Tag | None, exercise: Exercise) -> Tag:
    level = setting.plan.level(RESISTED)
    dose = setting.dose("distance", "sled_dose", f"distance_{level}", at=setting.specificity, geometric=True)
    heavy = setting.plan.number("sled_dose", "heavy_above")
    if decrement is not None and float(decrement.value) > heavy + 1e-9:
        dose = setting.ledger.compute(
            "distance", "m", "least", value=dose, heavy="rule:sled_dose.heavy_longest_m"
        )
    if setting.in_season:
        dose = setting.ledger.compute(
            "distance", "m", "least", value=dose, season="rule:in_season.sled_most_m"
        )
    return gridded(setting, dose, at_most=longest(setting, literal(0), exercise=exercise))


def _friction(setting: Setting, kit: Kit) -> Tag:
    ledger, path = setting.ledger, f"brief:kit.{kit.ref}.friction"
    if kit.friction is not None and kit.friction.value is not None:
        spread = BAND_90_SD * (kit.friction.se or 0.0)
        value = kit.friction.value
        se: Input = literal(0) if kit.friction.se is None else f"{path}.se"
        return ledger.put(
            "friction",
            value,
            "1",
            by="friction.timed",
            inputs={"value": f"{path}.value", "se": se},
            band=(value - spread, value + spread),
        )
    if kit.friction is not None and kit.friction.low is not None and kit.friction.high is not None:
        low, high = kit.friction.low, kit.friction.high
        inputs: dict[str, Input] = {"low": f"{path}.low", "high": f"{path}.high"}
    else:
        low, high = (setting.plan.number("sled_dose", f"friction_{end}") for end in ("low", "high"))
        inputs = {"low": "rule:sled_dose.friction_low", "high": "rule:sled_dose.friction_high"}
    return ledger.put(
        "friction",
        (low + high) / 2,
        "1",
        by="friction.middle",
        inputs=inputs,
        band=(low, high),
    )


def _draft(setting: Setting, exercise: Any, distance: Tag, *, turns: Tag) -> Draft:  # noqa: ANN401
    level = setting.plan.level(RESISTED)
    metres = setting.volume_dose("metres", "sled_dose", f"metres_{level}", at=setting.specificity)
    wanted = setting.wanted(RESISTED, metres, unit="m")
    fewest = int(setting.plan.number("sled_dose", "reps_fewest"))
    most = int(setting.plan.number("sled_dose", f"reps_most_{level}"))
    rest = setting.dose("rest", "sled_dose", f"rest_{level}", at=setting.specificity)
    rest = setting.ledger.compute("rest", "s", "round.up", value=rest, step=literal(15))
    return Draft(
        key="resisted",
        method=RESISTED,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="reps",
        other=setting.ledger.given("sets", 1, "1", literal(1)),
        proposed=setting.count(wanted, distance, fewest=fewest, most=most),
        fewest=fewest,
        most=most,
        optional=True,
        cost=Cost(rank=SPRINT_REP, drop_rank=SPRINT_REP if setting.week.kind == "deload" else 8),
        timing=Timing(
            work=_work(setting, turns),
            rest_reps=rest,
            change_over=setting.change_over(),
            turns=turns,
        ),
        volume="resisted_sprint",
        each=distance,
        per_unit=float(distance.value),
        wanted=wanted,
    )


def _work(setting: Setting, turns: Tag) -> Tag:
    """Enter the seconds of one run; where a sled is shared its plates change between runs."""
    if float(turns.value) <= 1:
        return setting.seconds("work", "sled_dose", "work_s")
    return setting.ledger.compute(
        "work", "s", "total", run="rule:sled_dose.work_s", change="rule:sled_dose.change_s"
    )


def _replace(draft: Draft, fields: dict[str, Any], basis: dict[str, Tag]) -> Draft:
    return replace(draft, fields=draft.fields | fields, basis=draft.basis | basis)


def _with_effort(setting: Setting, draft: Draft, exercise: Exercise) -> Draft:
    # No easy effort in an introduction week: there the sled is light instead.
    effort = run_effort(setting, exercise, easy=None)
    return draft if effort is None else _replace(draft, {"effort": effort.value}, {"effort": effort})


def _by_effort(setting: Setting) -> Draft | None:
    """A hill where there is one to run on, by effort, instead of a sled that is not there or too heavy."""
    level = setting.plan.level(RESISTED)
    exercise = next(iter(setting.choices("hill", level=level)), None)
    if exercise is None or "hill_sprint" not in setting.plan.brief.exercises.prefer:
        return None
    if not has_room(setting, exercise=exercise):
        return None
    distance = _distance(setting, None, exercise)
    grade = setting.ledger.rule("grade", "sled_dose", "hill_grade")
    easy = ("acceleration_dose", "easy_effort") if setting.cautious else None
    effort = run_effort(setting, exercise, easy=easy) or setting.ledger.given(
        "effort", 1.0, "share", literal(1)
    )
    draft = _draft(setting, exercise, distance, turns=setting.turns(stations=1, lanes=setting.lanes()))
    fields = {
        "distance_m": distance.value,
        "grade": grade.value,
        "effort": effort.value,
        "start": "standing",
        "stop_rule": StopRule(kind="technique"),
    }
    return _replace(draft, fields, {"distance_m": distance, "grade": grade, "effort": effort})
