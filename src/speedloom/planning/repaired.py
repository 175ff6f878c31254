"""A brief after a repair: the same document with one thing changed for each step."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time, timedelta

from speedloom.planning.clash import Facts, Repair
from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Slot
from speedloom.training.words import METHODS

EPOCH = date(2000, 1, 1)


def repaired(brief: ResolvedBrief, repair: Repair) -> ResolvedBrief:
    """Apply every step of a repair to a brief; the brief itself stays as it is.

    Raises:
        KeyError: a step of a kind that is not known.
    """
    for step in repair.steps:
        brief = STEPS[step.kind](brief, step.facts)
    return ResolvedBrief.model_validate_json(brief.model_dump_json(by_alias=True))


def _slots(brief: ResolvedBrief, facts: Facts, change: Callable[[Slot], dict[str, object]]) -> ResolvedBrief:
    ref = dict(facts)["slot"]
    slots = tuple(slot.model_copy(update=change(slot)) if slot.ref == ref else slot for slot in brief.slots)
    return brief.model_copy(update={"slots": slots})


def _lengthen(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    more = int(dict(facts)["minutes"])
    return _slots(brief, facts, lambda slot: {"minutes": slot.minutes + more})


def earlier(start: time, minutes: int) -> time:
    """Give the time of day some minutes earlier.

    >>> earlier(time(18, 0), 25)
    datetime.time(17, 35)
    """
    return (datetime.combine(EPOCH, start) - timedelta(minutes=minutes)).time()


def _start_earlier(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    more = int(dict(facts)["minutes"])
    return _slots(
        brief, facts, lambda slot: {"minutes": slot.minutes + more, "start": earlier(slot.start, more)}
    )


def _drop_own_line(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    ref = dict(facts)["line"]
    return brief.model_copy(update={"own_lines": tuple(one for one in brief.own_lines if one.ref != ref)})


def _leave_out_slot(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    ref = dict(facts)["slot"]
    return brief.model_copy(
        update={
            "slots": tuple(slot for slot in brief.slots if slot.ref != ref),
            "own_lines": tuple(line for line in brief.own_lines if line.slot != ref),
        }
    )


def _leave_out_method(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    gone = dict(facts)["method"]
    methods = tuple(method for method in METHODS if method in brief.phases.methods and method != gone)
    return brief.model_copy(update={"phases": brief.phases.model_copy(update={"methods": methods})})


def _leave_out_athlete(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    gone = dict(facts)["athlete"]
    return brief.model_copy(
        update={
            "athletes": tuple(one for one in brief.athletes if one.ref != gone),
            "own_lines": tuple(
                line.model_copy(update={"athletes": tuple(ref for ref in line.athletes if ref != gone)})
                for line in brief.own_lines
                if line.athletes != (gone,)
            ),
        }
    )


def _dated(name: str) -> Callable[[ResolvedBrief, Facts], ResolvedBrief]:
    return lambda brief, facts: brief.model_copy(update={name: date.fromisoformat(str(dict(facts)[name]))})


def _open_slot(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    return _slots(brief, facts, lambda _: {"open": True})


def _free_slot(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    return _slots(brief, facts, lambda _: {"from_": None, "until": None})


def _move_slot(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    return _slots(brief, facts, lambda _: {"day": dict(facts)["day"]})


def _clear(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    ref = dict(facts)["athlete"]
    people = tuple(_cleared(one) if one.ref == ref else one for one in brief.athletes)
    return brief.model_copy(update={"athletes": people})


def _cleared(athlete: Athlete) -> Athlete:
    if athlete.screening is None:
        return athlete
    answers = athlete.screening.model_copy(update={"cleared": True, "pain": False})
    return athlete.model_copy(update={"screening": answers})


def _add_athlete(brief: ResolvedBrief, facts: Facts) -> ResolvedBrief:
    new = Athlete(ref=str(dict(facts)["athlete"]))
    return brief.model_copy(update={"athletes": (*brief.athletes, new)})


STEPS: dict[str, Callable[[ResolvedBrief, Facts], ResolvedBrief]] = {
    "lengthen_slot": _lengthen,
    "start_earlier": _start_earlier,
    "drop_own_line": _drop_own_line,
    "leave_out_slot": _leave_out_slot,
    "leave_out_method": _leave_out_method,
    "leave_out_athlete": _leave_out_athlete,
    "later_start": _dated("start"),
    "later_end": _dated("end"),
    "open_slot": _open_slot,
    "slot_all_dates": _free_slot,
    "move_slot": _move_slot,
    "clear_athlete": _clear,
    "add_athlete": _add_athlete,
}
