"""What in a brief deserves a second look: runs longer than the place, a birth date in two versions."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from speedloom.exchange.brief_content import Content
from speedloom.exchange.toml_text import KeyPath
from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Measurements

_SPRINTS = {"unloaded_sprint", "resisted_sprint"}
_ALIKE = 0.75
"""From this likeness on a coach's own exercise may be one of the catalogue, typed differently."""


def look_again(brief: Content, measurements: Measurements, *, catalogue: Catalogue) -> None:
    """Keep what does not go together as faults, and what may be meant otherwise as notes."""
    _own_distances(brief)
    _own_exercises(brief, catalogue)
    _births(brief, measurements)
    _peaks_in_holidays(brief)


def _own_distances(brief: Content) -> None:
    # Refs may be anything in a file that is wrong in shape: that is another look's fault to name.
    places = {str(item.get("ref")): path for path, item in brief.tables("places")}
    slots = {str(item.get("ref")): str(item.get("place")) for _, item in brief.tables("slots")}
    for path, line in brief.tables("own_lines"):
        place = places.get(slots.get(str(line.get("slot")), ""))
        distance = _number(brief.get(*path, "distance_m"))
        straight = _number(brief.get(*place, "straight_m")) if place else None
        if place is None or distance is None or straight is None:
            continue
        sprint = line.get("method") in _SPRINTS
        room = straight - (_number(brief.get(*place, "run_out_m")) or 0.0) * sprint
        if distance > room:
            less = " less its run-out" * (room < straight)
            expected = f"at most {room:g} m, the straight of {brief.text(*place, 'ref')}{less}"
            brief.fault((*path, "distance_m"), expected, "shorten the line, or choose another slot")


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _own_exercises(brief: Content, catalogue: Catalogue) -> None:
    known = [exercise.ref for exercise in catalogue.exercises]
    for path, line in brief.tables("own_lines"):
        name = line.get("exercise")
        if not isinstance(name, str) or name in known or not line.get("title"):
            continue
        near = get_close_matches(name, known, n=1, cutoff=_ALIKE)
        if near:
            said = f'"{name}" is taken as an exercise of your own; did you mean "{near[0]}" of the catalogue?'
            brief.note((*path, "exercise"), said)


def _births(brief: Content, measurements: Measurements) -> None:
    for path, item in brief.tables("athletes"):
        here = brief.day(*path, "born")
        tested = sorted(
            {one.born for one in measurements.trials if one.athlete == item.get("ref") and one.born}
        )
        others = [day for day in tested if day != here]
        if here is not None and others:
            brief.note((*path, "born"), f"{here} here and {others[0]} in the tests: {here} holds")


def _peaks_in_holidays(brief: Content) -> None:
    for path, _ in brief.tables("goal", "peaks"):
        day = brief.day(*path, "date")
        if day is None or brief.text(*path, "size") == "minor":
            continue
        for name in _closed(brief, day.isoformat()):
            brief.note(
                (*path, "date"), f"this main peak lies in {name}, when nobody trains; is the date right?"
            )


def _closed(brief: Content, day: str) -> Iterator[str]:
    """Give the events of a day without training; dates of ISO 8601 sort as text."""
    for path, event in brief.tables("events"):
        first = brief.text(*path, "date") or ""
        until = brief.text(*path, "until") or first
        if event.get("training") == "none" and first <= day <= until:
            yield _title(brief, path)


def _title(brief: Content, path: KeyPath) -> str:
    title = brief.text(*path, "title")
    return f'"{title}"' if title else f"a {brief.text(*path, 'kind') or 'day off'}"
