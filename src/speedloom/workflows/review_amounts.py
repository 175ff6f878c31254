"""What lines add up to, planned or done, counted as the check counts them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import add

from speedloom.checking.line import Work
from speedloom.checking.volumes import volumes
from speedloom.training.log import Result
from speedloom.training.words import LIFTS
from speedloom.workflows.logged_runs import whole_runs
from speedloom.workflows.reviewed import Amounts, LiftAmount

HARD = ("maximal_strength", "general_strength", "hamstring_groin_calf")
"""Methods whose working sets are hard sets; power work ends before it is hard, ramp-up sets are no lines."""
LOADED, OTHER = "loaded", "other"
"""Contacts of exercises that are in no class: jumps and cleans of power work, and the coach's own lines."""
BANDS = (0.90, 0.95)
"""Shares of the athlete's own top speed from which metres are shown: what is reported, no rule."""


@dataclass(frozen=True)
class Portion:
    """Some of a line's work; `contacts` where somebody counted them."""

    work: Work
    contacts: int | None = None

    @property
    def repetitions(self) -> int:
        """Sets times repetitions, both sides counted."""
        return self.work.repetitions * (2 if self.work.line.side == "each" else 1)


def amounts(portions: Iterable[Portion]) -> Amounts:
    """Add up portions of work; shares of top speed are the athlete's own."""
    return reduce(add, (_amounts(portion) for portion in portions), Amounts())


def _amounts(portion: Portion) -> Amounts:
    work = portion.work
    return Amounts(
        sprint_m=work.repetitions * work.run_m if work.is_run else 0.0,
        from_90_m=work.metres_from(BANDS[0]),
        from_95_m=work.metres_from(BANDS[1]),
        resisted_m=work.metres if work.is_sled else 0.0,
        contacts=_contacts(portion),
        lifts=_lifts(portion),
        volumes=volumes([work]),
    )


def _contacts(portion: Portion) -> Mapping[str, int]:
    work = portion.work
    count = work.contacts if portion.contacts is None else portion.contacts
    named = work.exercise.contact_class if work.exercise else ""
    return {named or (LOADED if work.line.method == "power" else OTHER): count} if count else {}


def _lifts(portion: Portion) -> Mapping[str, LiftAmount]:
    line = portion.work.line
    if line.method not in (*LIFTS, *HARD):
        return {}
    tonnage = None if line.load_kg is None else portion.repetitions * line.load_kg
    return {line.exercise: LiftAmount(line.sets, line.sets if line.method in HARD else 0, tonnage)}


def portion_of(work: Work, result: Result) -> Portion:
    """Give the work of one logged repetition or set; what it leaves open is as written."""
    line = work.line
    reps = _repetitions(work, result)
    contacts = _contacts_of(work, reps, result)
    done = line.model_copy(
        update={
            "sets": 1,
            "reps": reps,
            "distance_m": line.distance_m if result.distance_m is None else result.distance_m,
            "load_kg": line.load_kg if result.load_kg is None else result.load_kg,
            "contacts": contacts,
        }
    )
    return Portion(Work(done, work.exercise, work.person, work.week, work.session), contacts)


def _repetitions(work: Work, result: Result) -> int:
    if result.reps is not None:
        return result.reps
    one_by_one = result.rep is not None or work.is_run or work.is_sled
    return 1 if one_by_one else work.line.reps


def _contacts_of(work: Work, reps: int, result: Result) -> int | None:
    """Count contacts: as logged, else the line's in proportion."""
    if result.contacts is not None:
        return result.contacts
    return round(work.contacts * reps / work.repetitions) if work.contacts else None


def portions_of(work: Work, results: Iterable[Result]) -> tuple[Portion, ...]:
    """Give the work of a line's results; repetitions of one set written one by one, and gates, are one."""
    results = whole_runs(tuple(results)) if work.is_run or work.is_sled else _whole_sets(results)
    portions = (portion_of(work, result) for result in results)
    return tuple(portion for portion in portions if portion.work.line.reps > 0)


def _whole_sets(results: Iterable[Result]) -> tuple[Result, ...]:
    sets: dict[tuple[object, ...], Result] = {}
    for result in results:
        key = (result.set, result.load_kg, None if result.rep is None else "one by one")
        there = sets.get(key)
        if there is None or result.rep is None:
            reps = 1 if result.rep is not None and result.reps is None else result.reps
            sets[key] = result.model_copy(update={"reps": reps})
        else:
            contacts = None if result.contacts is None else (there.contacts or 0) + result.contacts
            reps = (there.reps or 0) + (1 if result.reps is None else result.reps)
            sets[key] = there.model_copy(update={"reps": reps, "contacts": contacts})
    return tuple(sets.values())
