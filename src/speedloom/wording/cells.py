"""What a coach writes into one square of the progression table."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.programme import Prescription
from speedloom.wording.units import METRIC, Units, length_number, mass, number, share

RUNS = frozenset({"unloaded_sprint", "resisted_sprint", "change_of_direction"})
BODY_WEIGHT = "bw"


@dataclass(frozen=True)
class Cell:
    """A square: how often and how far, and below it the load, the effort or nothing."""

    main: str
    second: str = ""

    def __str__(self) -> str:
        joint = " " if self.second.startswith("@") else " · "
        return joint.join(filter(None, (self.main, self.second)))


def cell(line: Prescription, *, units: Units = METRIC) -> Cell:
    """Write a line's square, such as `5 × 15` over `37.5 kg`."""
    if line.hold_s:
        return Cell(_times(line, f"{line.hold_s} s"), _load(line, units=units))
    if line.distance_m and line.method in RUNS:
        return Cell(_times(line, _metres(line, units=units)), _run_second(line, units=units))
    repetitions = f"{line.reps}–{line.reps_to}" if line.reps_to else str(line.reps)
    return Cell(f"{line.sets} × {repetitions}", _load(line, units=units))


def cell_text(line: Prescription, *, units: Units = METRIC) -> str:
    """Write a line's square in one row, such as `4 × 10 @ 90 %` or `3 × 20 + 20`."""
    return str(cell(line, units=units))


def quality(line: Prescription) -> tuple[object, ...]:
    """Give what makes two squares different work: all but sets, runs and kilograms, which drift weekly."""
    runs = line.distance_m is not None and line.method in RUNS
    repetitions = None if runs else (line.reps, line.reps_to)
    bare = line.method == "power" and not line.load_kg
    return (line.exercise, line.distance_m, line.run_in_m, line.effort, line.hold_s, repetitions, bare)


def _times(line: Prescription, once: str) -> str:
    if line.reps == 1 or line.sets == 1:
        return f"{line.sets * line.reps} × {once}"
    return f"{line.sets} × {line.reps} × {once}"


def _metres(line: Prescription, *, units: Units) -> str:
    zone = length_number(line.distance_m or 0.0, units=units)
    return f"{length_number(line.run_in_m, units=units)} + {zone}" if line.run_in_m else zone


def _run_second(line: Prescription, *, units: Units) -> str:
    if line.load_kg:
        return mass(line.load_kg, units=units)
    effort = f"@ {share(line.effort)}" if line.effort and line.effort < 1 else ""
    hill = f"{share(line.grade)} hill" if line.grade else ""
    slower = f"{share(line.decrement)} slower" if line.decrement and not effort else ""
    return hill or effort or slower


def _load(line: Prescription, *, units: Units) -> str:
    if line.load_kg:
        return mass(line.load_kg, units=units)
    if line.added_kg:
        return f"+{mass(line.added_kg, units=units)}"
    if line.height_m:
        return f"{number(100 * line.height_m)} cm"
    if line.method == "power":
        return BODY_WEIGHT
    reserve = line.method == "maximal_strength" and line.rir is not None
    return f"RIR {line.rir}" if reserve else ""
