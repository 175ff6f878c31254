"""What a session holds before the solver: the lines in the order they are done."""

from __future__ import annotations

from dataclasses import replace

from speedloom.planning.draft import Draft
from speedloom.planning.limits import adds_up, whole_session
from speedloom.planning.lines.jumps import plyometric
from speedloom.planning.lines.lifts import main_lift, power
from speedloom.planning.lines.opening import own_lines, warm_up
from speedloom.planning.lines.runs import acceleration, top_speed
from speedloom.planning.lines.sled import resisted
from speedloom.planning.lines.support import SUPPORT, general_strength, hamstring_groin_calf
from speedloom.planning.problem import Filled
from speedloom.planning.setting import Setting

LAST_RANK = 7


def work_of(setting: Setting, *, gym_in_week: bool, method: str | None = None) -> list[Draft]:
    """Draft the work of one session, without its warm-up: all of it, or one kind that is asked for."""
    work = _gym(setting, method) if setting.day.gym else _field(setting, method, gym_in_week=gym_in_week)
    return _countable(setting, work)


def fill(setting: Setting, *, gym_in_week: bool) -> Filled:
    """Draft the lines of one session in rule D4's order."""
    work = _gym(setting) if setting.day.gym else _field(setting, gym_in_week=gym_in_week)
    own_first, own_last = (own_lines(setting, position=place) for place in ("after_warm_up", "last"))
    drafts = [*warm_up(setting), *own_first, *work, *own_last]
    down = setting.plan.number("session_minutes", "down_gym" if setting.day.gym else "down_field")
    available = _available(setting)
    return Filled(setting, tuple(_countable(setting, drafts)), down, available)


def _available(setting: Setting) -> float:
    minutes = [limit.at_most for limit in setting.limits if whole_session(limit)]
    return min([float(setting.day.slot.minutes), *minutes])


def _countable(setting: Setting, drafts: list[Draft]) -> list[Draft]:
    """Keep only lines that may be counted at all; none is above a restriction on the session's sum."""
    return [
        replace(draft, optional=draft.optional or any(adds_up(limit, draft) for limit in setting.limits))
        for draft in drafts
        if draft.most >= 1 and draft.fewest <= draft.most
    ]


def _ranks(setting: Setting) -> dict[str, int]:
    """Give each thing that may be dropped its rank: 1 goes first."""
    order = setting.plan.brief.phases.drop_first
    ranks: dict[str, int] = {name: place for place, name in enumerate(order, start=1)}
    everything = (
        "general_set_3",
        "upper_body_2",
        "plyometric_2",
        "loaded_jumps",
        "sprint_rep",
        "main_lift_set_3",
        "plyometrics",
    )
    return {name: ranks.get(name, LAST_RANK) for name in everything}


def _methods(setting: Setting, method: str | None) -> set[str]:
    return {one for one in setting.plan.brief.phases.methods if method in {None, one}}


def _field(setting: Setting, method: str | None = None, *, gym_in_week: bool) -> list[Draft]:
    methods, ranks = _methods(setting, method), _ranks(setting)
    found: list[Draft | None] = []
    if "unloaded_sprint" in methods:
        found += [_ranked(run, ranks["sprint_rep"]) for run in _runs(setting)]
    if "resisted_sprint" in methods:
        found.append(_ranked(resisted(setting), ranks["sprint_rep"]))
    if "plyometric" in methods:
        first, second = ranks["plyometrics"], ranks["plyometric_2"]
        found.append(plyometric(setting, direction="horizontal", last_rank=second, whole_rank=first))
        found.append(plyometric(setting, direction="vertical", last_rank=second, whole_rank=second))
    alone = method in {None, SUPPORT}
    if alone and not gym_in_week and setting.day.last_of_kind and setting.day.nearness != "primer":
        found += hamstring_groin_calf(setting, in_field=True)
    return [draft for draft in found if draft is not None]


def _runs(setting: Setting) -> list[Draft | None]:
    """Give the day's runs; two days before a match the few fast ones are the top-speed runs alone."""
    fast = top_speed(setting) if _holds_top_speed(setting) else None
    if setting.day.nearness == "top_up" or (fast is not None and setting.day.nearness == "light"):
        return [fast]
    return [acceleration(setting), fast]


def _holds_top_speed(setting: Setting) -> bool:
    day = setting.day
    return day.nearness == "top_up" or ((day.role == "faster" or day.sole) and not day.easy)


def _ranked(draft: Draft | None, rank: int) -> Draft | None:
    if draft is None or not draft.optional:
        return draft
    return replace(draft, cost=replace(draft.cost, rank=rank))


def _gym(setting: Setting, method: str | None = None) -> list[Draft]:
    methods, ranks = _methods(setting, method), _ranks(setting)
    found: list[Draft | None] = []
    if "power" in methods:
        found.append(power(setting, rank=ranks["loaded_jumps"]))
    if "maximal_strength" in methods:
        found.append(main_lift(setting, rank=ranks["main_lift_set_3"]))
    if "general_strength" in methods:
        found += general_strength(setting, set_rank=ranks["general_set_3"], upper_rank=ranks["upper_body_2"])
    if method in {None, SUPPORT}:
        found += hamstring_groin_calf(setting, in_field=False)
    return [draft for draft in found if draft is not None]
