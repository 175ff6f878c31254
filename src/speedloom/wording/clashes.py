"""A clash in at most two sentences: what does not go together, with dates, and the cheapest repair."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from speedloom.planning.clash import Clash
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
    """Write the clash and its cheapest repair."""
    return f"{_what(clash, brief=brief)} {_repair(clash)}".strip()


def _what(clash: Clash, *, brief: ResolvedBrief) -> str:
    who = _who(clash, brief=brief)
    if "screening" in clash.tags:
        return f"{who} may not be planned: the brief says of the screening that it was not cleared (rule H1)."
    if "no_slot" in clash.tags:
        first, last = _dates(clash, brief=brief)
        return f"{who} cannot be planned: no slot of the brief can be trained in from {first} to {last}."
    facts = dict(clash.facts)
    needed, there = facts.get("minutes_needed"), facts.get("minutes_available")
    if not isinstance(needed, (int, float)) or not isinstance(there, (int, float)):
        return f"{who} cannot be planned{_when(clash)}: {listing(_parts(clash))} do not go together."
    parts = listing(_parts(clash)) or "what may not be left out"
    needs = f"needs at least {number(ceil(needed))} minutes for {who}{_when(clash)}"
    return (
        f"{_session(clash, brief=brief)} {needs}, and has {number(there)}: {parts}, rests kept, do not fit."
    )


def _dates(clash: Clash, *, brief: ResolvedBrief) -> tuple[str, str]:
    first, last = (clash.dates[0], clash.dates[-1]) if clash.dates else (brief.start, brief.end)
    return full_date(first), full_date(last)


def _who(clash: Clash, *, brief: ResolvedBrief) -> str:
    titles = {athlete.ref: athlete.title for athlete in brief.athletes}
    if len(clash.athletes) > MANY:
        everybody = len(clash.athletes) == len(brief.athletes)
        return "everybody" if everybody else f"{len(clash.athletes)} athletes"
    return listing(titles.get(ref, ref) for ref in clash.athletes) or "The squad"


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
    yield from filter(None, dict.fromkeys(_part(tag) for tag in clash.tags))


def _part(tag: str) -> str:
    return next((name for start, name in PARTS.items() if tag.startswith(start)), word(tag))


def _repair(clash: Clash) -> str:
    facts = dict(clash.repair.facts)
    minutes = facts.get("minutes", "some")
    amount = number(minutes) if isinstance(minutes, (int, float)) else minutes
    slot = f" of {facts['slot']}" if "slot" in facts else ""
    repairs = {
        "lengthen_slot": f"lengthen the slot{slot} by {amount} minutes",
        "clear_athlete": "get a written clearance and set screening.cleared = true, or leave the athlete out",
        "add_slot": "add a slot inside these dates, or change the dates",
        "leave_out_method": f"leave {word(str(facts.get('method', 'a method')))} out of phases.methods",
    }
    said = repairs.get(clash.repair.kind, word(clash.repair.kind))
    return f"Cheapest repair: {said}." if said else ""
