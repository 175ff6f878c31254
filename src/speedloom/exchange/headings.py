"""What a coach's own heading means: a column of the tests file and its unit, a jump, or a lift's maximum."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from speedloom.exchange.cells import as_number
from speedloom.exchange.exercise_names import exercise_ref
from speedloom.exchange.tests_file import COLUMNS, split_distance_m
from speedloom.exchange.trial_rows import HIGHEST_JUMP_M, TRACE

Part = Literal["row", "jump", "lift"]

_SAME = {
    **dict.fromkeys(("name", "player", "runner", "sprinter"), "athlete"),
    **dict.fromkeys(("dob", "birth date", "date of birth", "birthday"), "born"),
    **dict.fromkeys(("gender",), "sex"),
    **dict.fromkeys(("day", "test date", "date of test"), "date"),
    **dict.fromkeys(("mass", "body mass", "body weight", "bodyweight", "weight", "kg"), "mass_kg"),
    **dict.fromkeys(("height", "body height"), "height_m"),
    **dict.fromkeys(("run", "attempt", "trial no", "no"), "trial"),
    **dict.fromkeys(("lift", "exercise name"), "exercise"),
    **dict.fromkeys(("load", "weight lifted"), "load_kg"),
    **dict.fromkeys(("rep", "repetitions"), "reps"),
    **dict.fromkeys(("in reserve", "reps in reserve", "repetitions in reserve"), "rir"),
    **dict.fromkeys(("flight", "flight time"), "flight_s"),
    **dict.fromkeys(("contact", "contact time", "ground contact"), "contact_s"),
    **dict.fromkeys(("sled", "sled load"), "sled_kg"),
    **dict.fromkeys(("wind",), "wind_mps"),
}
"""Headings that mean a column of the tests file."""
_LOADS = frozenset({"kg", "weight"})
"""Headings that mean the load beside a column of exercises, where no other column is the load."""
_JUMPS = frozenset(
    {"cmj", "jump", "jump height", "countermovement jump", "counter-movement jump", "vertical jump"}
)
_BARE = re.compile(r"\d+(?:[.,]\d+)?")
_IN_BRACKETS = re.compile(r"(.*?)\s*[\[(]\s*(.*?)\s*[\])]")
_UNIT = re.compile(r"(.*?)[\s_]+(cm|mm|m|in|inch|inches|kg|kgs|lb|lbs|s|ms)")
_SECONDS = frozenset({"s", "sec", "secs", "seconds"})
_YARDS = frozenset({"yd", "yds", "yard", "yards"})
_SHAPES = frozenset({"yyyy-mm-dd", "f/m", "m/f"})
"""Brackets behind a day or a sex that say how it is written."""
_NUMBERED = re.compile(r"(.*?) ?#?\d")
_MAXIMUM = (
    re.compile(r"(?P<lift>.+?),? ?(?P<reps>\d{1,2}) ?rm"),
    re.compile(r"(?P<reps>\d{1,2}) ?rm (?P<lift>.+)"),
)
# Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg (international yard and pound agreement, 1959).
_TIMES = {
    "_m": {"m": 1.0, "cm": 0.01, "mm": 0.001, **dict.fromkeys(("in", "inch", "inches"), 0.0254)},
    "_kg": {**dict.fromkeys(("kg", "kgs"), 1.0), **dict.fromkeys(("lb", "lbs"), 0.45359237)},
    "_s": {**dict.fromkeys(_SECONDS, 1.0), "ms": 0.001},
    "_mps": {"m/s": 1.0, "mps": 1.0, "km/h": 1.0 / 3.6},
}
_DIGITS = 4
# Says that the row is a jump's, whatever its height: without it 3.4 m would be taken for a body height.
_NOTHING_ADDED = (("added_kg", "0"),)


@dataclass(frozen=True)
class Heading:
    """What a heading means: the column, the factor to its unit, and a maximum's lift and repetitions.

    A `times` of None stands for a jump's height without a unit: metres, or centimetres where it is more
    than anybody jumps in metres.
    """

    column: str
    times: float | None = 1.0
    part: Part = "row"
    fixed: tuple[tuple[str, str], ...] = ()

    def value(self, cell: str) -> str:
        """Give a cell in the column's own unit; one that is no number stays as it was typed."""
        number = as_number(cell) if self.times != 1 else None
        if number is None:
            return cell
        times = self.times or (0.01 if number > HIGHEST_JUMP_M else 1.0)
        return f"{round(number * times, _DIGITS):.10g}"


def heading_of(header: str, *, lifts: bool = False) -> Heading:
    """Say what a heading means; a bare number is metres, and an unknown heading is a column of its own name.

    Args:
        header: as it was typed.
        lifts: whether there is a column of exercises and none of loads, so that kilograms are a load's.

    >>> heading_of("CMJ (cm)").column, heading_of("Load kg").column, heading_of("20 m (s)").column
    ('height_m', 'load_kg', '20 m')
    >>> heading_of("Back squat 3RM").fixed
    (('exercise', 'back_squat'), ('reps', '3'))
    """
    plain = " ".join(header.split()).lower()
    if plain in COLUMNS:
        return Heading(plain)
    bracket = _IN_BRACKETS.fullmatch(plain)
    found = bracket or (None if _is_distance(plain) else _UNIT.fullmatch(plain))
    words, unit = (found[1], found[2]) if found else (plain, None)
    known = _distance(words, unit), _jump(words, unit), _maximum(words, unit)
    # A bracket that is not understood (left, fly, % of body mass) changes what a number means.
    return next(filter(None, known), None) or _column(words, unit, lifts=lifts) or Heading(plain)


def _is_distance(words: str) -> bool:
    return _BARE.fullmatch(words) is not None or split_distance_m(words) is not None


def _distance(words: str, unit: str | None) -> Heading | None:
    """Read a split's heading; its bracket may name seconds, or the unit of a bare number."""
    if not _is_distance(words):
        return None
    bare = _BARE.fullmatch(words) is not None
    if unit is None or unit in _SECONDS:
        return Heading(f"{words} m" if bare else words)
    if bare and unit in {"m", *_YARDS}:
        return Heading(f"{words} {'m' if unit == 'm' else 'yd'}")
    return None


def _jump(words: str, unit: str | None) -> Heading | None:
    numbered = _NUMBERED.fullmatch(words)
    if words not in _JUMPS and (numbered is None or numbered[1] not in _JUMPS):
        return None
    times = _TIMES["_m"].get(unit) if unit else None
    return Heading("height_m", times, "jump", _NOTHING_ADDED) if unit is None or times else None


def _maximum(words: str, unit: str | None) -> Heading | None:
    found = lift_and_reps(words)
    ref = exercise_ref(found[0]) if found else None
    times = _TIMES["_kg"].get(unit or "kg")
    if found is None or ref is None or times is None:
        return None
    return Heading("load_kg", times, "lift", (("exercise", ref), ("reps", found[1])))


def lift_and_reps(words: str) -> tuple[str, str] | None:
    """Take a heading such as `Back squat 3RM` apart, or give None.

    >>> lift_and_reps("front squat 5 rm"), lift_and_reps("1RM bench press"), lift_and_reps("30 m")
    (('front squat', '5'), ('bench press', '1'), None)
    """
    plain = words.lower()
    found = next((match for one in _MAXIMUM if (match := one.fullmatch(plain))), None)
    return (found["lift"], found["reps"]) if found else None


def _column(words: str, unit: str | None, *, lifts: bool) -> Heading | None:
    spelled = (one for one in _spellings(words, unit) if one in COLUMNS and one not in TRACE)
    name = _SAME.get(words) or next(spelled, None)
    if name is None:
        return None
    if lifts and words in _LOADS:
        name = "load_kg"
    if unit is None or unit in _SHAPES:
        return Heading(name)
    times = next((factors.get(unit) for end, factors in _TIMES.items() if name.endswith(end)), None)
    return Heading(name, times) if times else None


def _spellings(words: str, unit: str | None) -> tuple[str, ...]:
    joined = words.replace(" ", "_").replace("-", "_")
    return (joined, f"{joined}_{unit}", f"{joined}_m", f"{joined}_kg", f"{joined}_s")
