"""Power and maximal strength: jump squats and the day's main lift."""

from __future__ import annotations

from typing import Any

from speedloom.planning.draft import Cost, Draft, Timing
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.plates import loadable
from speedloom.planning.setting import Setting
from speedloom.planning.weeks import reserve_week
from speedloom.training.exercise import Exercise
from speedloom.training.kit import Kit
from speedloom.training.programme import StopRule
from speedloom.training.words import Method

POWER: Method = "power"
STRENGTH: Method = "maximal_strength"
TWO_FOR_TWO = "Two more left, twice running: add 2.5 to 5 kg"


def power(setting: Setting, *, rank: int) -> Draft | None:
    """Draft the jump squat: a share of the squat's 1RM that falls to body weight."""
    level = setting.plan.level(POWER)
    if setting.day.nearness == "light":
        return None
    exercise, fields, basis = _jump(setting)
    if exercise is None:
        return None
    sets = setting.dose("sets", "power_dose", f"sets_{level}", at=setting.point)
    reps = setting.whole(
        setting.dose("repetitions", "power_dose", f"reps_{level}", at=setting.point), "repetitions"
    )
    wanted = setting.wanted(POWER, sets, unit="sets")
    most = _capped_sets(setting, exercise, "power_dose")
    stop = setting.ledger.rule("stop", "power_dose", "velocity_loss")
    fields |= {
        "reps": int(reps.value),
        "stop_rule": StopRule(kind="velocity_loss", value=float(stop.value)),
    }
    return Draft(
        key="power",
        method=POWER,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="sets",
        other=reps,
        proposed=setting.count(wanted, literal(1), fewest=1, most=most),
        fewest=1,
        most=most,
        optional=True,
        cost=Cost(rank=rank, drop_rank=rank),
        timing=Timing(
            work=setting.seconds("work", "power_dose", "work_s"),
            rest=setting.seconds("rest", "power_dose", f"rest_{level}_s"),
            change_over=setting.change_over(),
            turns=_bar_turns(setting, fields.get("kit")),
            runs_on=True,
        ),
        volume="power",
        each=setting.ledger.given("a set", 1, "sets", literal(1)),
        wanted=wanted,
        fields=fields,
        basis=basis | {"reps": reps, "stop_rule.value": stop},
    )


def _jump(setting: Setting) -> tuple[Exercise | None, dict[str, Any], dict[str, Tag]]:
    """Choose the loaded jump where bar, 1RM and level allow it, else the jump with body weight."""
    level = setting.plan.level(POWER)
    found = setting.choices("jump_squat", level=level)
    bare = next((exercise for exercise in found if not exercise.kit), None)
    loaded = next((exercise for exercise in found if exercise.load_kind == "barbell"), None)
    bar = setting.kit_of("barbell")
    one_rep_max = setting.plan.numbers.one_rep_max.get(loaded.one_rep_max_of) if loaded else None
    if loaded is None or bar is None or one_rep_max is None or setting.cautious:
        return bare, {}, {}
    dose = setting.dose("share of 1RM", "power_dose", f"share_{level}", at=setting.shifted(POWER))
    share = setting.stepped(dose, "rule:power_dose.share_step", unit="share", quantity="share of 1RM")
    share = _limited_share(setting, loaded, share)
    raw = setting.ledger.compute("load", "kg", "product", one_rep_max=one_rep_max, share=share)
    cap = _load_cap(setting, loaded, one_rep_max)
    if float(raw.value) < loadable(bar)[0] or (cap is not None and cap < loadable(bar)[0]):
        return bare or loaded, {}, {}
    load = _rounded(setting, raw, bar, cap)
    fields = {"load_kg": load.value, "kit": bar.ref, "share_1rm": share.value}
    return loaded, fields, {"load_kg": load, "share_1rm": share}


def main_lift(setting: Setting, *, rank: int) -> Draft | None:
    """Draft the day's main lift: repetitions by mesocycle, load by repetitions in reserve."""
    level = setting.plan.level(STRENGTH)
    exercise = _lift(setting)
    faster = setting.day.role == "faster" or setting.day.nearness == "light"
    if exercise is None or (setting.in_season and setting.day.role == "faster"):
        # In season the main lift is done once a week.
        return None
    reps = setting.whole(
        setting.dose("repetitions", "main_lift_dose", f"reps_{level}", at=setting.point), "repetitions"
    )
    sets = (
        setting.ledger.rule("sets", "main_lift_dose", "sets_faster")
        if faster
        else setting.dose("sets", "main_lift_dose", f"sets_{level}", at=setting.point)
    )
    wanted = setting.wanted(STRENGTH, sets, unit="sets")
    loading = setting.week.kind == "loading" and not faster
    fewest = int(setting.plan.number("main_lift_dose", "sets_fewest_loading" if loading else "sets_fewest"))
    most = _capped_sets(setting, exercise, "main_lift_dose")
    fields, basis = _loaded(setting, exercise, reps, faster=faster)
    at = setting.point
    rest = setting.ledger.compute(
        "rest",
        "s",
        "round.up",
        value=setting.dose("rest", "main_lift_dose", f"rest_{level}", at=at),
        step=literal(15),
    )
    return Draft(
        key="main_lift",
        method=STRENGTH,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="sets",
        other=reps,
        proposed=setting.count(wanted, literal(1), fewest=min(fewest, most), most=most),
        fewest=min(fewest, most),
        most=most,
        optional=True,
        cost=Cost(rank=rank, floor=2, below_rank=8, drop_rank=9),
        timing=Timing(
            work=setting.seconds("work", "main_lift_dose", "work_s"),
            rest=rest,
            change_over=setting.change_over(),
            ramp_up=setting.seconds("ramp-up sets", "main_lift_dose", "ramp_up_s"),
            turns=_bar_turns(setting, fields.get("kit")),
            runs_on=True,
        ),
        volume="maximal_strength",
        each=setting.ledger.given("a set", 1, "sets", literal(1)),
        wanted=wanted,
        fields=fields | {"reps": int(reps.value)},
        basis=basis | {"reps": reps},
    )


def _lift(setting: Setting) -> Exercise | None:
    """Choose the coach's preferred lift, else one whose 1RM is known, else the catalogue's first."""
    found = setting.choices("main_lift", level=setting.plan.level(STRENGTH))
    prefer = setting.plan.brief.exercises.prefer
    known = setting.plan.numbers.one_rep_max
    ordered = sorted(found, key=lambda exercise: (exercise.ref not in prefer, exercise.ref not in known))
    return next(iter(ordered), None)


def _loaded(
    setting: Setting, exercise: Exercise, reps: Tag, *, faster: bool
) -> tuple[dict[str, Any], dict[str, Tag]]:
    """Give kilograms where a 1RM is known, and repetitions in reserve in any case."""
    reserve = _reserve(setting, reps, faster=faster)
    fields: dict[str, Any] = {
        "rir": int(reserve.value),
        "stop_rule": StopRule(kind="rir", value=reserve.value),
    }
    basis = {"rir": reserve, "stop_rule.value": reserve}
    one_rep_max = setting.plan.numbers.one_rep_max.get(exercise.ref)
    kit = setting.kit_of(exercise.load_kind)
    if setting.plan.level(STRENGTH) == "novice":
        # No share of a 1RM for a novice: repetitions in reserve, and two-for-two (rule two_for_two).
        return fields | {"cue": TWO_FOR_TWO}, basis
    if one_rep_max is None or kit is None:
        return fields, basis
    share = setting.ledger.compute(
        "share of 1RM",
        "share",
        "repetitions.share",
        reps=reps,
        rir=_heavier_reserve(setting, reps),
    )
    if faster:
        share = setting.ledger.compute(
            "share of 1RM", "share", "product", share=share, faster="rule:main_lift_dose.faster_share"
        )
    share = _limited_share(setting, exercise, share)
    raw = setting.ledger.compute("load", "kg", "product", one_rep_max=one_rep_max, share=share)
    cap = _load_cap(setting, exercise, one_rep_max)
    load = _rounded(setting, raw, kit, cap)
    fields |= {"load_kg": load.value, "kit": kit.ref, "share_1rm": share.value}
    if faster:
        # A lighter bar moved fast ends on speed, not on how many repetitions are left.
        fields |= {"rir": None, "stop_rule": StopRule(kind="technique"), "cue": "Every repetition fast"}
        return fields, {"load_kg": load, "share_1rm": share}
    return fields, basis | {"load_kg": load, "share_1rm": share}


def _reserve(setting: Setting, reps: Tag, *, faster: bool) -> Tag:
    level = setting.plan.level(STRENGTH)
    if faster and level == "novice":
        return setting.ledger.rule("reps in reserve", "main_lift_dose", "rir_faster_novice")
    return _heavier_reserve(setting, reps)


def _heavier_reserve(setting: Setting, reps: Tag) -> Tag:
    level = setting.plan.level(STRENGTH)
    ledger = setting.ledger
    if setting.cautious:
        return ledger.rule("reps in reserve", "main_lift_dose", "rir_introduction")
    place = reserve_week(setting.week)
    reserve = (
        ledger.rule("reps in reserve", "in_season", f"rir_week_{place}")
        if setting.in_season
        else ledger.rule("reps in reserve", "main_lift_dose", f"rir_{level}_week_{place}")
    )
    if setting.week.kind == "deload":
        reserve = ledger.compute(
            "reps in reserve", "1", "total", base=reserve, extra="rule:main_lift_dose.rir_deload_extra"
        )
    return _with_more_reserve(setting, reps, reserve)


def _with_more_reserve(setting: Setting, reps: Tag, reserve: Tag) -> Tag:
    """Leave more in reserve where a rule caps the share of 1RM: youth, and the last days before a peak."""
    plan, near = setting.plan, setting.day.days_to_peak
    caps = []
    if plan.youth:
        caps.append(plan.number("youth_load", "share") + 1e-9)
    if near is not None and near <= plan.number("main_lift_dose", "peak_days"):
        caps.append(plan.number("main_lift_dose", "peak_share") - 1e-9)
    if not caps:
        return reserve
    extra, share = 0, 1.0
    while True:
        share = setting.ledger.compute(
            "share of 1RM", "share", "repetitions.share", reps=reps, rir=literal(float(reserve.value) + extra)
        ).value
        if share <= min(caps) or float(reserve.value) + extra >= 10:  # noqa: PLR2004 - the chart ends
            break
        extra += 1
    if not extra:
        return reserve
    return setting.ledger.compute("reps in reserve", "1", "total", base=reserve, extra=literal(extra))


def _limited_share(setting: Setting, exercise: Exercise, share: Tag) -> Tag:
    cap = setting.cap("share_1rm", exercise)
    if cap is None:
        return share
    return setting.ledger.compute("share of 1RM", "share", "least", share=share, limit=literal(cap))


def _load_cap(setting: Setting, exercise: Exercise, one_rep_max: Tag) -> float | None:
    caps = [setting.cap("load_kg", exercise)]
    share = setting.cap("share_1rm", exercise)
    if share is not None:
        caps.append(share * float(one_rep_max.value))
    return min((cap for cap in caps if cap is not None), default=None)


def _rounded(setting: Setting, raw: Tag, kit: Kit, cap: float | None) -> Tag:
    extra: dict[str, Input] = {} if cap is None else {"at_most": literal(cap)}
    return setting.ledger.compute(
        "load", "kg", "kit.round_load", load_kg=raw, kit=f"brief:kit.{kit.ref}", **extra
    )


def _bar_turns(setting: Setting, kit_ref: str | None) -> Tag | None:
    kit = next((kit for kit in setting.plan.brief.kit if kit.ref == kit_ref), None)
    return None if kit is None else setting.turns(stations=kit.count, lanes=literal(1))


def _capped_sets(setting: Setting, exercise: Exercise, dose: str) -> int:
    most = int(setting.plan.number(dose, "sets_most"))
    cap = setting.cap("sets", exercise)
    return most if cap is None else max(1, min(most, int(cap)))
