"""What timed sled runs say about the sled on a floor, ready to paste into a brief."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import word
from speedloom.workflows.sled_friction import PooledFriction, RefusedSled, SledFriction, SledRuns

REASONS: Mapping[str, str] = {
    "surface_unknown": "the row names no surface, and friction belongs to one floor; fill the column in",
    "clock_unknown": (
        "it is not known when the clock started; stand 0.5 m behind the beam (clock behind) or start the "
        "clock with the first movement"
    ),
    "no_free_profile": "this athlete has no free sprint to hold it against; time one without the sled",
    "other_timing": (
        "the free sprints were timed by another method, and times by two methods are never compared; "
        "time one without the sled in the same way"
    ),
    "other_surface": (
        "the free sprints were run on another surface; time one without the sled on this floor, the same way"
    ),
    "too_few_gates": "the free sprints have too few gates to say the start force; time one with five gates",
    "not_slower": (
        "no friction explains these times; look at the sled's mass, the clock's start and the distances"
    ),
}
BOUNDS = (0.005, 0.0005)
ONE_SLED = "It holds for this sled on this floor: wet, worn or other ground needs its own timed run."


def frictions_text(found: SledRuns) -> str:
    """Write each athlete's friction, each surface's TOML, and every refusal; empty without sled runs."""
    parts = [
        *(_athlete(one) for one in found.by_athlete),
        *(line for one in found.by_surface for line in _surface(one)),
        *(_refused(one) for one in found.refused),
    ]
    return "\n".join(["Sled on the floor, from timed runs", *parts]) + "\n" if parts else ""


def _athlete(one: SledFriction) -> str:
    low, high = one.band
    runs = f"{one.runs} run{'s' * (one.runs > 1)}"
    free = full_date(date.fromisoformat(one.profile.split("/")[1]))
    return (
        f"  {one.athlete}, {word(one.surface)} ({one.timing}): friction {one.value:.2f} "
        f"({max(0.0, low):.2f} to {high:.2f}), from {runs} beside the free profile of {free}"
    )


def _surface(one: PooledFriction) -> Iterator[str]:
    yield f"  {word(one.surface)}, {_people(one)}: for the sled in the brief"
    yield f"    {friction_toml(one.value, one.se)}"
    yield f"    {ONE_SLED}"


def _people(one: PooledFriction) -> str:
    return f"{len(one.athletes)} athletes together" if len(one.athletes) > 1 else f"{one.athletes[0]} alone"


def friction_toml(value: float, se: float) -> str:
    """Write a friction as a brief holds it; the error is never rounded to nothing.

    >>> friction_toml(0.3812, 0.0214), friction_toml(0.3812, 0.0021)
    ('friction = { value = 0.38, se = 0.02 }', 'friction = { value = 0.381, se = 0.002 }')
    """
    decimals = 2 if se >= BOUNDS[0] else 3
    return f"friction = {{ value = {value:.{decimals}f}, se = {max(se, BOUNDS[1]):.{decimals}f} }}"


def _refused(one: RefusedSled) -> str:
    trials = f"trial{'s' * (len(one.trials) > 1)} {listing(str(number) for number in one.trials)}"
    where = f" on {word(one.surface)}" if one.surface else ""
    why = REASONS.get(one.why, word(one.why))
    return f"  {one.athlete}, {full_date(one.date)}, sled {trials}{where} ({one.timing}) left out: {why}."
