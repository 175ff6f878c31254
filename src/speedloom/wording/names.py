"""What things are called on screens and paper."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Programme

_OF_THE_DATA = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)+")
METHOD_NAMES: Mapping[str, str] = {
    "unloaded_sprint": "Sprint",
    "acceleration": "Standing runs",
    "top_speed": "Top-speed runs",
    "submaximal": "Submaximal runs",
    "resisted_sprint": "Resisted sprint",
    "plyometric": "Plyometric",
    "power": "Power",
    "maximal_strength": "Maximal strength",
    "general_strength": "General strength",
    "hamstring_groin_calf": "Hamstring, groin and calf",
    "change_of_direction": "Change of direction",
    "isometric": "Isometric",
    "technique": "Technique",
    "other": "Other",
}
WEEK_NAMES: Mapping[str, str] = {
    "introduction": "introduction",
    "loading": "",
    "deload": "lighter",
    "taper": "taper",
    "in_season": "in season",
    "break": "no training",
}
ROLE_NAMES: Mapping[str, str] = {"heavier": "heavier day", "faster": "faster day", "neutral": ""}
SHORT_NAMES: Mapping[str, str] = {
    "acceleration_run": "Standing run",
    "acceleration_falling": "Falling-start run",
    "acceleration_three_point": "Three-point run",
    "acceleration_block": "Block start run",
    "acceleration_push_up_start": "Run from lying",
    "acceleration_rolling": "Walk-in run",
    "long_sprint": "Long run",
    "sled_sprint": "Sled",
    "broad_jump_stick": "Long jump, stick",
    "bodyweight_jump_squat": "Jump squat, paused",
}


def exercise_name(ref: str, *, catalogue: Catalogue) -> str:
    """Name an exercise in full; one that is not in the catalogue by its reference."""
    exercise = catalogue.get(ref)
    return exercise.name if exercise else ref.replace("_", " ").capitalize()


def short_name(ref: str, *, catalogue: Catalogue) -> str:
    """Name an exercise as the margin of a table does: what stands before the first comma."""
    return SHORT_NAMES.get(ref) or exercise_name(ref, catalogue=catalogue).partition(",")[0]


def line_name(line: Prescription, *, catalogue: Catalogue) -> str:
    """Name a line: the exercise, or the coach's own words for an exercise of their own."""
    if line.purpose == "warm_up":
        known = {warm_up.ref: warm_up.name for warm_up in catalogue.warm_ups}
        return known.get(line.exercise, "Warm-up")
    title = _own_title(line, catalogue)
    if title:
        return title
    if line.exercise == "own_line" and line.cue:
        return line.cue
    return short_name(line.exercise, catalogue=catalogue)


def full_name(line: Prescription, *, catalogue: Catalogue) -> str:
    """Name a line in full, or by the coach's own words."""
    if line.exercise == "own_line" or catalogue.get(line.exercise) is None or _own_title(line, catalogue):
        return line_name(line, catalogue=catalogue)
    return exercise_name(line.exercise, catalogue=catalogue)


def with_own_titles(catalogue: Catalogue, programme: Programme) -> Catalogue:
    """Give the catalogue with the titles a coach gave to lines of their own."""
    content = programme.brief.content
    titles = {
        own_key(own.exercise, own.cue or own.title): own.title
        for own in (content.own_lines if content else ())
        if own.title
    }
    return catalogue.model_copy(update={"own_titles": titles}) if titles else catalogue


def own_key(exercise: str, cue: str) -> str:
    """Tell a coach's own line from a planned one of the same exercise, by its cue."""
    return f"{exercise}/{cue}"


def _own_title(line: Prescription, catalogue: Catalogue) -> str:
    return catalogue.own_titles.get(own_key(line.exercise, line.cue), "")


def place_name(ref: str) -> str:
    """Name a place.

    >>> place_name("weights_room")
    'weights room'
    """
    return ref.replace("_", " ").replace("-", " ")


def word(ref: str) -> str:
    """Write a word of the data as people read it.

    >>> word("too_few_gates")
    'too few gates'
    """
    return "hamstring, groin and calf" if ref == "hamstring_groin_calf" else ref.replace("_", " ")


def words_in(text: str) -> str:
    """Write every word of the data in a text as people read it.

    >>> words_in("fast_metres_rise: common practice")
    'fast metres rise: common practice'
    """
    return _OF_THE_DATA.sub(lambda found: word(found[0]), text)


def known_word(text: str, known: Iterable[str | None]) -> str:
    """Give the word of the data that people read as this text, or else the text itself.

    >>> known_word("Sprung wood", ["sprung_wood"]), known_word("grass", ["sprung_wood"])
    ('sprung_wood', 'grass')
    """
    read = {word(one).lower(): one for one in known if one}
    return read.get(word(text).lower(), text)


def athletes_of(programme: Programme) -> Mapping[str, Athlete]:
    """Give the athletes of the brief a programme carries, by reference."""
    content = programme.brief.content
    return {athlete.ref: athlete for athlete in content.athletes} if content else {}


def athlete_name(programme: Programme, athlete: str) -> str:
    """Name an athlete: the name in the brief, or the reference."""
    known = athletes_of(programme).get(athlete)
    return known.title if known else athlete
