"""The athlete's squat, for the rules that ask for it."""

from __future__ import annotations

from speedloom.checking.people import Person
from speedloom.checking.recompute.body import one_rep_max
from speedloom.training.measurement import Lift
from speedloom.training.rule import Rulebook

_SQUAT = "back_squat"


def squat_one_rep_max_kg(person: Person) -> float | None:
    """Give the best squat 1RM (kg) that the brief's sets show, or None."""
    own = person.entry.lifts if person.entry else ()
    tested = person.brief.measurements.lifts if person.brief else ()
    sets = [*own, *(lift for lift in tested if lift.athlete == person.ref)]
    return max((_one_rep_max_kg(lift) for lift in sets if _counts(lift, person.book)), default=None)


def _counts(lift: Lift, book: Rulebook) -> bool:
    most = book.number("one_rep_max_repetitions", "reps")
    return lift.exercise == _SQUAT and lift.reps + lift.rir <= most


def _one_rep_max_kg(lift: Lift) -> float:
    return one_rep_max({"load_kg": lift.load_kg, "reps": lift.reps, "rir": lift.rir})
