"""The athlete's squat, for the rules that ask for it."""

from __future__ import annotations

from statistics import median

from speedloom.checking.people import Person
from speedloom.science.strength.one_rep_max import ESTIMATORS, REPETITIONS_TO_FAILURE
from speedloom.training.measurement import Lift

_SQUAT = "back_squat"


def squat_one_rep_max_kg(person: Person) -> float | None:
    """Give the best squat 1RM (kg) that the brief's sets show, or None."""
    own = person.entry.lifts if person.entry else ()
    tested = person.brief.measurements.lifts if person.brief else ()
    sets = [*own, *(lift for lift in tested if lift.athlete == person.ref)]
    return max((_one_rep_max_kg(lift) for lift in sets if _counts(lift)), default=None)


def _counts(lift: Lift) -> bool:
    return lift.exercise == _SQUAT and lift.reps + lift.rir <= REPETITIONS_TO_FAILURE.high


def _one_rep_max_kg(lift: Lift) -> float:
    to_failure = lift.reps + lift.rir
    if to_failure == 1:
        return lift.load_kg
    return median(float(estimate(lift.load_kg, to_failure)) for estimate in ESTIMATORS)
