"""What a week holds of each method, beside what it should hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial

from speedloom.planning.draft import Draft
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.past import unit_of, volume_of
from speedloom.planning.prescribe import Line
from speedloom.planning.setting import Plan
from speedloom.training.programme import Prescription, Session
from speedloom.training.words import SPRINTS

Volumes = dict[str, Tag]


def week_volumes(
    plan: Plan, drafts: Iterable[Draft], lines: Iterable[Line], *, frozen: Sequence[Session] = ()
) -> tuple[Volumes, Volumes]:
    """Enter what a week should hold of each method, and what it does.

    Args:
        plan: the athlete's plan.
        drafts: the week's lines with their wishes.
        lines: the finished lines.
        frozen: sessions of the week that are over: they count as they stood, in the wish too.
    """
    wishes: dict[str, list[Tag]] = {}
    for draft in drafts:
        if draft.volume is not None and draft.wanted is not None:
            wishes.setdefault(draft.volume, []).append(draft.wanted)
    over = _over(frozen)
    done: dict[str, list[Line]] = {volume: [] for volume in (*wishes, *over)}
    for line in lines:
        if line.draft.volume is not None:
            done[line.draft.volume].append(line)
    volumes = sorted({*wishes, *over})
    wanted = {one: _wanted(plan, one, wishes.get(one, []), over.get(one, [])) for one in volumes}
    planned = {one: _planned(plan, one, done[one], over.get(one, [])) for one in volumes}
    return wanted, planned


def _over(frozen: Sequence[Session]) -> dict[str, list[Prescription]]:
    found: dict[str, list[Prescription]] = {}
    for session in frozen:
        for line in session.prescriptions:
            volume = volume_of(line)
            if volume is not None:
                found.setdefault(volume, []).append(line)
    return found


def _wanted(plan: Plan, volume: str, wishes: list[Tag], over: list[Prescription]) -> Tag:
    terms: dict[str, Input] = {f"line_{place}": tag for place, tag in enumerate(wishes, 1)}
    if over:
        terms["over"] = _planned(plan, volume, [], over)
    return plan.ledger.compute(f"wanted {volume}", unit_of(volume), "total", **terms)


def _planned(plan: Plan, volume: str, lines: list[Line], over: list[Prescription]) -> Tag:
    inputs: dict[str, Input] = {}
    total = 0.0
    for place, old in enumerate(over, 1):
        parts, units = worth(old, partial(_as_it_stood, plan, old))
        inputs |= {f"{name}_{place}": part for name, part in parts.items()}
        total += units
    for place, line in enumerate(lines, 1 + len(over)):
        if line.draft.sets_of_runs > 1:
            inputs[f"sets_{place}"] = line.draft.other
        inputs[f"{line.draft.counted}_{place}"] = line.count
        if line.draft.each is not None:
            inputs[f"each_{place}"] = line.draft.each
        total += line.draft.units_for(int(line.count.value))
    return plan.ledger.put(f"planned {volume}", total, unit_of(volume), by="volume.planned", inputs=inputs)


def _as_it_stood(plan: Plan, line: Prescription, name: str) -> Input:
    """Give a number of a line of the earlier revision: its own node, or the line itself where it is over."""
    if plan.past is not None and line.ref in plan.past.over:
        return f"past:{line.ref}.{name}"
    return plan.ledger.named(line.basis[name])


def worth(line: Prescription, number: Callable[[str], Input]) -> tuple[dict[str, Input], float]:
    """Give a line's counts with what each is worth, and what the line adds to its method's week.

    Args:
        line: the line.
        number: says where a number of the line comes from.
    """
    if line.method in SPRINTS:
        # A run has one set unless the coach made more of them.
        sets: dict[str, Input] = {"sets": number("sets")} if line.sets > 1 else {}
        units = line.sets * line.reps * (line.distance_m or 0.0)
        return sets | {"reps": number("reps"), "each": number("distance_m")}, units
    if line.method == "plyometric":
        return {"sets": literal(1), "each": number("contacts")}, float(line.contacts or 0)
    return {"sets": number("sets"), "each": literal(1)}, float(line.sets)
