"""A clash in at most two sentences: what does not go together, with dates, and the cheapest repair."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from math import ceil

from speedloom.planning.clash import Clash, Repair
from speedloom.training.brief import ResolvedBrief
from speedloom.wording.dates import clock, day_month, full_date, listing, runs
from speedloom.wording.names import place_name, word
from speedloom.wording.units import number

PARTS: Mapping[str, str] = {
    "slot_minutes": "",
    "warm_up": "the warm-up",
    "build_up": "the build-up runs",
    "acceleration": "standing runs",
    "top_speed": "the weekly top-speed runs",
    "resisted": "the sled",
    "plyometric": "the jumps",
    "power": "the jump squats",
    "main_lift": "the main lift",
    "general": "general strength",
    "support_nordic": "the hamstring set",
    "support_hinge": "the hamstring set",
    "support_groin": "the groin set",
    "support_calf": "the calf set",
    "hamstring_set": "the hamstring set",
    "own": "the coach's own lines",
}
"""What the parts of a session are called, by the beginning of their key."""
MANY = 4


def clash_text(clash: Clash, *, brief: ResolvedBrief) -> str:
    """Write the clash and its cheapest repair, in two sentences at most."""
    said = repair_text(clash.repair)
    return f"{_what(clash, brief=brief)} Cheapest repair: {said}." if said else _what(clash, brief=brief)


def repairs_text(repairs: Sequence[Repair]) -> str:
    """List repairs by number, cheapest first, one a line."""
    return "\n".join(f"{place}. {repair_text(repair)}" for place, repair in enumerate(repairs, start=1))


def repair_text(repair: Repair) -> str:
    """Write what a repair does, its steps of one kind together.

    >>> repair_text(Repair("lengthen_slot", (("slot", "thu"), ("minutes", 15))))
    'lengthen the slot of thu by 15 minutes'
    """
    grouped: dict[str, list[dict[str, float | str]]] = {}
    for step in repair.steps:
        grouped.setdefault(step.kind, []).append(dict(step.facts))
    return listing(_does(kind, those) for kind, those in grouped.items() if kind)


def _what(clash: Clash, *, brief: ResolvedBrief) -> str:
    who = _who(clash.athletes, brief=brief)
    if "screening" in clash.tags:
        return f"{who} may not be planned: the brief says of the screening that it was not cleared (rule H1)."
    if "no_athlete" in clash.tags:
        return "Nobody can be planned: the brief names no athlete, and its tests hold none."
    if "no_slot" in clash.tags:
        first, last = _dates(clash, brief=brief)
        return f"{who} cannot be planned: no slot of the brief can be trained in from {first} to {last}."
    if _minutes(clash) is None:
        return f"{who} cannot be planned{_when(clash)}: {listing(_parts(clash))} do not go together."
    parts = listing(_parts(clash)) or "what may not be left out"
    needs = listing(_needs(one, brief=brief) for one in (clash, *clash.also))
    return f"{needs}: {parts}, rests kept, do not fit."


def _minutes(clash: Clash) -> tuple[float, float] | None:
    facts = dict(clash.facts)
    needed, there = facts.get("minutes_needed"), facts.get("minutes_available")
    if isinstance(needed, (int, float)) and isinstance(there, (int, float)):
        return float(needed), float(there)
    return None


def _needs(clash: Clash, *, brief: ResolvedBrief) -> str:
    needed, there = _minutes(clash) or (0.0, 0.0)
    who = _who(clash.athletes, brief=brief)
    return (
        f"{_session(clash, brief=brief)} needs at least {number(ceil(needed))} minutes for {who}"
        f"{_when(clash)}, and has {number(there)}"
    )


def _dates(clash: Clash, *, brief: ResolvedBrief) -> tuple[str, str]:
    first, last = (clash.dates[0], clash.dates[-1]) if clash.dates else (brief.start, brief.end)
    return full_date(first), full_date(last)


def _who(athletes: Sequence[str], *, brief: ResolvedBrief) -> str:
    titles = {athlete.ref: athlete.title for athlete in brief.athletes}
    if len(athletes) > MANY:
        everybody = len(athletes) == len(brief.athletes)
        return "everybody" if everybody else f"{len(athletes)} athletes"
    return listing(titles.get(ref, ref) for ref in athletes) or "The squad"


def _when(clash: Clash) -> str:
    if not clash.dates:
        return ""
    weeks = f"week{'s' * (len(clash.weeks) > 1)} {runs(clash.weeks)}, " if clash.weeks else ""
    first, last = (f"{day_month(day)} {day.year}" for day in (clash.dates[0], clash.dates[-1]))
    return f" ({weeks}{first})" if first == last else f" ({weeks}{first} to {last})"


def _session(clash: Clash, *, brief: ResolvedBrief) -> str:
    slot = next((slot for slot in brief.slots if slot.ref == clash.slot), None)
    if slot is None:
        return "A session"
    return f"{slot.day.capitalize()} {clock(slot.start)} ({place_name(slot.place)})"


def _parts(clash: Clash) -> Iterator[str]:
    tags = (tag for one in (clash, *clash.also) for tag in one.tags)
    yield from filter(None, dict.fromkeys(_part(tag) for tag in tags))


def _part(tag: str) -> str:
    return next((name for start, name in PARTS.items() if tag.startswith(start)), word(tag))


Steps = Sequence[Mapping[str, float | str]]


def _amount(facts: Mapping[str, float | str]) -> str:
    minutes = facts.get("minutes", "some")
    return number(minutes) if isinstance(minutes, (int, float)) else minutes


def _of_slots(steps: Steps) -> str:
    return listing(f"{one['slot']} by {_amount(one)} minutes" for one in steps if "slot" in one)


def _named(steps: Steps, key: str) -> str:
    return listing(str(one[key]) for one in steps if key in one)


def _lengthen(steps: Steps) -> str:
    return f"lengthen the slot{_s(steps)} of {_of_slots(steps)}"


def _s(steps: Steps) -> str:
    return "s" * (len(steps) > 1)


def _earlier(steps: Steps) -> str:
    return "begin " + listing(f"{one['slot']} {_amount(one)} minutes" for one in steps) + " earlier"


def _own_lines(steps: Steps) -> str:
    lines = listing(f"{one['line']} ({one['slot']})" for one in steps)
    return f"leave out your own line{_s(steps)} {lines}"


def _methods(steps: Steps) -> str:
    named = listing(word(str(one.get("method", "a method"))) for one in steps)
    return f"leave {named} out of phases.methods"


def _clear(steps: Steps) -> str:
    whom = _named(steps, "athlete") or "the athlete"
    return f"get a written clearance for {whom} and set screening.cleared = true"


def _until(steps: Steps, key: str) -> str:
    return listing(full_date(date.fromisoformat(str(one[key]))) for one in steps if key in one)


def _does(kind: str, steps: Steps) -> str:
    return _DOES[kind](steps) if kind in _DOES else word(kind)


_DOES: Mapping[str, Callable[[Steps], str]] = {
    "lengthen_slot": _lengthen,
    "start_earlier": _earlier,
    "drop_own_line": _own_lines,
    "leave_out_slot": lambda steps: f"train without the slot{_s(steps)} {_named(steps, 'slot')}",
    "leave_out_method": _methods,
    "leave_out_athlete": lambda steps: f"plan without {_named(steps, 'athlete')}",
    "later_start": lambda steps: f"start on {_until(steps, 'start')}",
    "later_end": lambda steps: f"go on until {_until(steps, 'end')}",
    "open_slot": lambda steps: f"let the slot {_named(steps, 'slot')} move to another day (open = true)",
    "slot_all_dates": lambda steps: (
        f"let the slot {_named(steps, 'slot')} stand on all dates (no from, no until)"
    ),
    "move_slot": lambda steps: (
        f"move the slot {_named(steps, 'slot')} to {_named(steps, 'day').capitalize()}"
    ),
    "clear_athlete": _clear,
    "add_athlete": lambda steps: f"name an athlete in [[athletes]], as {_named(steps, 'athlete')}",
    "add_slot": lambda _: "add a slot inside these dates, or change the dates",
}
