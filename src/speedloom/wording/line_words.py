"""The few words of one line on paper: how much, what load, what to expect, when to stop."""

from __future__ import annotations

from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Kit
from speedloom.training.programme import Prescription
from speedloom.wording.cells import RUNS
from speedloom.wording.units import METRIC, Units, length, mass, number, rest, seconds, share

TIMES = "times"
TICKS = "ticks"
_CHOSEN = frozenset({"barbell", "trap_bar", "dumbbell", "dumbbells", "kettlebell", "machine"})
"""Kit whose load is found by effort where none is written."""
_HELD = {"barbell": "bar and plates", "trap_bar": "bar and plates", "sled": "sled and plates"}
OWN_LOAD = "own load"
RAMP_UP = "first two or three lighter sets, about 40, 60 and 80 % of today's load"
"""Common practice; the minutes of a main lift hold them."""


def dose(line: Prescription, *, units: Units = METRIC) -> str:
    """Write how often and how far, such as `5 × 15 m` or `3 × 8–12`; yards name the metres they are."""
    if line.hold_s:
        return f"{_count(line)} × {line.hold_s} s"
    if line.distance_m and line.method in RUNS:
        return f"{_count(line)} × {_far(line.distance_m, line.run_in_m, units=units)}"
    reps = f"{line.reps}–{line.reps_to}" if line.reps_to else str(line.reps)
    far = f" × {_far(line.distance_m, None, units=units)}" if line.distance_m else ""
    return f"{line.sets} × {reps}{far}"


def _far(zone_m: float, run_in_m: float | None, *, units: Units) -> str:
    zone = length(zone_m, units=units)
    said = f"({length(run_in_m, units=units)} run-in + {zone})" if run_in_m else zone
    if units.length == "m":
        return said
    metres = " + ".join(number(part) for part in (run_in_m, zone_m) if part)
    return f"{said} ({metres} m)"


def side_words(line: Prescription) -> str:
    """Write which side works; empty where both do."""
    return {"each": "each side", "left": "left", "right": "right"}.get(line.side, "")


def _count(line: Prescription) -> str:
    return f"{line.sets} × {line.reps}" if line.sets > 1 and line.reps > 1 else str(line.sets * line.reps)


def manner(line: Prescription) -> str:
    """Write how: effort, start, slope, height, reserve; empty where nothing is to be said."""
    effort = f"at {share(line.effort)}" if line.effort and line.effort < 1 else ""
    start = {"three_point": "three-point start", "block": "from blocks"}.get(line.start or "", "")
    slope = f"{share(line.grade)} uphill" if line.grade else ""
    height = f"{number(100 * line.height_m)} cm high" if line.height_m else ""
    reserve = f"{line.rir} in reserve" if line.rir is not None else ""
    return ", ".join(filter(None, (effort, start, slope, height, reserve)))


def rests(line: Prescription) -> str:
    """Write the rests, between repetitions and between sets."""
    between = f"rest {rest(line.rest_reps_s)}" if line.rest_reps_s else ""
    sets = f"rest {rest(line.rest_s)}" if line.rest_s and line.sets > 1 else ""
    if between and sets:
        return f"{between}, {sets.removeprefix('rest ')} between sets"
    return between or sets


def load(line: Prescription, *, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Write the load a person moves; empty where there is none to choose."""
    exercise = catalogue.get(line.exercise)
    kind = exercise.load_kind if exercise else "none"
    if line.load_kg:
        two = kind == "dumbbells"
        return f"2 × {mass(line.load_kg / 2.0, units=units)}" if two else mass(line.load_kg, units=units)
    if line.added_kg:
        return f"+{mass(line.added_kg, units=units)}"
    if line.method == "power" and kind in {"barbell", "trap_bar"}:
        return "body weight"
    return f"choose {units.mass}" if kind in _CHOSEN else ""


def load_unsaid(line: Prescription, *, catalogue: Catalogue) -> str:
    """Write a load without kilograms, for a sheet that others read: its share of 1RM, or that it is own."""
    if line.share_1rm and (line.load_kg or line.added_kg):
        return f"{share(round(line.share_1rm, 2))} of 1RM"
    said = load(line, catalogue=catalogue)
    return OWN_LOAD if any(sign.isdigit() for sign in said) or said.startswith("choose") else said


def load_meaning(line: Prescription, *, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Write what the load of a line holds."""
    exercise = catalogue.get(line.exercise)
    held = _HELD.get(exercise.load_kind, "") if exercise and line.load_kg else ""
    return f"{units.mass}: {held}" if held else ""


def ramp_up(line: Prescription, *, catalogue: Catalogue) -> str:
    """Write what comes before the sets of a main lift; nothing for any other line."""
    exercise = catalogue.get(line.exercise)
    main = exercise is not None and exercise.slot == "main_lift" and exercise.load_kind != "none"
    return RAMP_UP if main and line.method == "maximal_strength" and not line.hold_s else ""


def stop_time(line: Prescription) -> str:
    """Write the time that ends a run, from what is expected and how much slower is still good."""
    rule = line.stop_rule
    if line.expect is None or rule is None or rule.kind != "time_drop" or rule.value is None:
        return ""
    return f"{line.expect.time_s * (1.0 + rule.value):.2f}"


def stop_words(line: Prescription) -> str:
    """Write when the exercise, or the set, ends."""
    rule = line.stop_rule
    if rule is None:
        return ""
    if rule.kind == "time_drop":
        return (
            "Stop: form breaks, or two runs over the stop time"
            if line.expect
            else "Stop: clearly slower twice"
        )
    if rule.kind == "velocity_loss":
        return "Stop at the first slow repetition"
    if rule.kind == "rir":
        # "2 in reserve" stands beside it and says the same.
        return "" if line.rir == rule.value else f"Stop with {number(rule.value or 0.0)} left"
    return "Stop when the form goes"


def expected(line: Prescription) -> str:
    """Write the expected time with its band, such as `2.98 s (2.93–3.03)`."""
    if line.expect is None:
        return ""
    known = line.expect
    return f"{seconds(known.time_s)} ({known.low:.2f}–{known.high:.2f})"


def boxes(line: Prescription) -> tuple[int, str]:
    """Give how many boxes to fill there are, and whether times or ticks go in."""
    run = line.distance_m is not None and line.method in RUNS
    return (line.sets * line.reps, TIMES) if run else (line.sets, TICKS)


def kit_name(kit: Kit, *, units: Units = METRIC) -> str:
    """Name a piece of kit with how many there are."""
    name = kit.kind.replace("_", " ")
    empty = f", {mass(kit.empty_kg, units=units)} empty" if kit.empty_kg is not None else ""
    return f"{kit.count} {name}{'s' if kit.count > 1 else ''}{empty}"
