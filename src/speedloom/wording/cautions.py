"""The short cautions that stand on every sheet; nothing is promised."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from types import MappingProxyType

from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription

ALWAYS = (
    "Pain, dizziness, chest symptoms or a head knock end the session and go to a professional.",
    "Nobody sprints flat out cold, feverish, on arrival day or with yesterday's tight hamstring.",
    "A sudden grab at the back of the thigh ends the running for the day.",
)
FIELD = "Run-out kept free, wall padded or far; proper shoes on wet turf."
SLED = "Rope and harness checked; nobody behind or beside the sled."
BAR = "Rack pins set, collars on, a spotter who knows how."
DROP = "Drop heights measured and written down."
MINORS = "Two adults with minors."
MASTERS = (
    "Masters (35 and over): a longer warm-up and longer between hard days; hard work that is new, or comes "
    "after years off, begins with a doctor's word."
)
HELP = "Where help comes to, and who fetches it, is known before the start."
NO_CLINICIAN = (
    "No clinician is named: a return after injury, concussion or illness needs a written clearance, "
    "which the coach records."
)
WEATHER = "Heat, lightning and cold: local rules come first."
OWN_WORDS: Mapping[str, str] = MappingProxyType(
    {
        FIELD: "Look first: the run-out is free, the wall padded or far. On wet turf wear proper shoes.",
        MINORS: "Under 18 you train with two adults there.",
        HELP: "Know before the start whom you call when something happens.",
        NO_CLINICIAN: (
            "Coming back after injury, concussion or illness? Ask a doctor for a written word first, and "
            "give it to your coach."
        ),
    }
)
"""What is the coach's to see to, in words for the athlete; the others are for both."""
ADULT_YEARS = 18
MASTERS_YEARS = 35
"""From this age on track athletes compete as masters (common practice for the caution too)."""
OUTDOOR = frozenset({"turf", "grass", "track"})
CARE = (
    "Sprinting and heavy lifting can hurt. The coach decides; times are bands, not promises. Pregnancy, "
    "low energy availability, return from injury, concussion or illness: licensed practice comes first."
)


def session_cautions(
    lines: Iterable[Prescription],
    *,
    catalogue: Catalogue,
    place_kind: str,
    minors: bool,
    clinician: bool,
    masters: bool = False,
) -> tuple[str, ...]:
    """Choose the cautions of one session by what is done in it, where and by whom."""
    exercises = [catalogue.get(line.exercise) for line in lines]
    loads = {exercise.load_kind for exercise in exercises if exercise}
    tags = {tag for exercise in exercises if exercise for tag in exercise.tags}
    chosen = (
        (FIELD, place_kind != "gym"),
        (SLED, "sled" in loads),
        (BAR, bool(loads & {"barbell", "trap_bar"})),
        (DROP, "shock" in tags),
        (WEATHER, place_kind in OUTDOOR),
        (MINORS, minors),
        (MASTERS, masters),
        (NO_CLINICIAN, not clinician),
        (HELP, True),
    )
    return (*ALWAYS, *(text for text, holds in chosen if holds))


def in_own_words(cautions: Iterable[str]) -> tuple[str, ...]:
    """Say cautions to the athlete: what a coach sees to is for the coach's page and paper."""
    return tuple(OWN_WORDS.get(text, text) for text in cautions)


def exercise_cautions(exercise: str, *, catalogue: Catalogue) -> tuple[str, ...]:
    """Give the cautions the catalogue holds for one exercise."""
    known = catalogue.get(exercise)
    return tuple(catalogue.cautions[caution] for caution in known.cautions) if known else ()


def may_be_minor(person: Athlete | None, *, on: date) -> bool:
    """Say whether somebody is, or may be, under 18 on a day: an unknown age counts as young."""
    age = person.age_years(on) if person else None
    return age is None or age < ADULT_YEARS


def is_master(person: Athlete | None, *, on: date) -> bool:
    """Say whether somebody is known to be 35 or over on a day."""
    age = person.age_years(on) if person else None
    return age is not None and age >= MASTERS_YEARS
