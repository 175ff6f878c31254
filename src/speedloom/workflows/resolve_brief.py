"""A brief and its tests to one object that stands alone: athletes completed, levels proposed, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from pydantic import BaseModel

from speedloom.training.athlete import Athlete
from speedloom.training.brief import Brief, ExerciseChoice, ResolvedBrief
from speedloom.training.exercise import Catalogue, Exercise
from speedloom.training.measurement import Lift, Measurements, Trial
from speedloom.training.rule import Rulebook
from speedloom.training.words import METHODS, Level

Thing = TypeVar("Thing", bound=BaseModel)

_BODY = ("sex", "born", "mass_kg", "height_m")


def resolve_brief(
    brief: Brief, measurements: Measurements, *, rulebook: Rulebook, catalogue: Catalogue
) -> ResolvedBrief:
    """Complete a brief with its tests; the order of things in the files changes nothing.

    What the brief says of a person holds before what the tests say. A body measure nobody gives stays absent
    and is named in `assumed`, as `<athlete>.mass_kg`; a level nobody gives is proposed and named there too,
    as `<athlete>.level.<method>`.
    """
    known = brief.athletes or tuple(Athlete(ref=ref) for ref in _tested(measurements))
    completed = [_complete(athlete, brief, measurements, rulebook) for athlete in _by_ref(known)]
    athletes = tuple(athlete for athlete, _ in completed)
    assumed = tuple(one for _, those in completed for one in those)
    kept = _kept(measurements, {athlete.ref for athlete in athletes})
    content = {name: getattr(brief, name) for name in Brief.model_fields if name != "schema_"}
    return ResolvedBrief.model_validate(
        {
            **content,
            "schema": brief.schema_,
            **_ordered(brief),
            "athletes": athletes,
            "measurements": kept,
            "catalogue": _named(brief, athletes, catalogue),
            "assumed": assumed,
        }
    )


def propose_level(athlete: Athlete, brief: Brief, *, rulebook: Rulebook) -> Level:
    """Propose a level by years of training, age and weeks away (DOSES "Level", common practice)."""

    def number(name: str) -> float:
        return rulebook.number("assumed_body", name)

    age = athlete.age_years(brief.start)
    years = athlete.training_years
    young = age is not None and age < number("youth_age_years")
    away = athlete.weeks_off >= number("novice_weeks_off")
    if young or away or years is None or years < number("intermediate_years"):
        return "novice"
    return "advanced" if years >= number("advanced_years") else "intermediate"


def _tested(measurements: Measurements) -> tuple[str, ...]:
    lists = (measurements.trials, measurements.jumps, measurements.lifts, measurements.traces)
    return tuple(sorted({one.athlete for those in lists for one in those if one.athlete}))


def _complete(
    athlete: Athlete, brief: Brief, measurements: Measurements, rulebook: Rulebook
) -> tuple[Athlete, list[str]]:
    trials = sorted(
        (trial for trial in measurements.trials if trial.athlete == athlete.ref),
        key=lambda trial: (trial.date <= brief.start, trial.date, trial.timing, trial.trial),
    )
    body = {name: _known(athlete, trials, name) for name in _BODY}
    with_body = athlete.model_copy(update=body)
    proposed = propose_level(with_body, brief, rulebook=rulebook)
    level = {method: athlete.level.get(method, proposed) for method in METHODS}
    whole = with_body.model_copy(
        update={
            "level": level,
            "lifts": _lifts(athlete, measurements),
            "away": tuple(sorted(athlete.away, key=lambda one: one.model_dump_json())),
            "restrictions": tuple(one.in_order() for one in _by_ref(athlete.restrictions)),
        }
    )
    absent = [f"{athlete.ref}.{name}" for name in ("mass_kg", "height_m") if body[name] is None]
    levels = [
        f"{athlete.ref}.level.{method}" for method in brief.phases.methods if method not in athlete.level
    ]
    return whole, [*absent, *sorted(levels)]


def _known(athlete: Athlete, trials: Iterable[Trial], name: str) -> object:
    """Give what the brief says, else the newest test up to the start, else an earlier or later one."""
    if (said := getattr(athlete, name)) is not None:
        return said
    measured = [value for trial in trials if (value := getattr(trial, name)) is not None]
    return measured[-1] if measured else None


def _lifts(athlete: Athlete, measurements: Measurements) -> tuple[Lift, ...]:
    tested = [
        one.model_copy(update={"athlete": None}) for one in measurements.lifts if one.athlete == athlete.ref
    ]
    own = [one.model_copy(update={"athlete": None}) for one in athlete.lifts]
    return tuple(
        sorted(
            dict.fromkeys((*own, *tested)),
            key=lambda one: (one.date, one.exercise, one.load_kg, one.reps, one.rir),
        )
    )


def _by_ref(things: Iterable[Thing]) -> tuple[Thing, ...]:
    def ref(thing: Thing) -> str:
        return str(getattr(thing, "ref", ""))

    return _sorted(things, ref)


def _sorted(things: Iterable[Thing], key: Callable[[Thing], str]) -> tuple[Thing, ...]:
    return tuple(sorted(things, key=key))


def _ordered(brief: Brief) -> dict[str, object]:
    """Put every list of things in order; lists whose order says something stay as they are."""
    peaks = _sorted(brief.goal.peaks, lambda peak: peak.model_dump_json())
    methods = tuple(method for method in METHODS if method in brief.phases.methods)
    kit = tuple(
        one.model_copy(
            update={
                "plates_kg": _heaviest_first(one.plates_kg),
                "weights_kg": _heaviest_first(one.weights_kg),
            }
        )
        for one in _by_ref(brief.kit)
    )
    lines = tuple(
        one.model_copy(update={"athletes": tuple(sorted(one.athletes))}) for one in _by_ref(brief.own_lines)
    )
    return {
        "tests": tuple(sorted(brief.tests)),
        "goal": brief.goal.model_copy(update={"peaks": peaks}),
        "phases": brief.phases.model_copy(update={"methods": methods}),
        "places": _by_ref(brief.places),
        "kit": kit,
        "slots": _by_ref(brief.slots),
        "events": _sorted(brief.events, lambda one: f"{one.date} {one.model_dump_json()}"),
        "exercises": ExerciseChoice(
            leave_out=tuple(sorted(set(brief.exercises.leave_out))), prefer=brief.exercises.prefer
        ),
        "own_lines": lines,
        "rules": _sorted(brief.rules, lambda one: f"{one.rule}.{one.number}"),
    }


def _heaviest_first(pieces: Iterable[tuple[float, int]]) -> tuple[tuple[float, int], ...]:
    return tuple(sorted(pieces, reverse=True))


def _kept(measurements: Measurements, refs: set[str]) -> Measurements:
    """Keep the athletes of the brief, in order."""
    return Measurements(
        trials=_of(measurements.trials, refs),
        jumps=_of(measurements.jumps, refs),
        lifts=_of(measurements.lifts, refs),
        traces=_of(measurements.traces, refs),
    )


def _of(things: Iterable[Thing], refs: set[str]) -> tuple[Thing, ...]:
    return _sorted((thing for thing in things if getattr(thing, "athlete", None) in refs), place_of)


def place_of(row: BaseModel) -> str:
    """Give where a measured row stands among all of its kind."""
    texts = [str(getattr(row, name, "")) for name in ("athlete", "date", "timing", "exercise")]
    return "/".join([*texts, f"{getattr(row, 'trial', 0):05d}", row.model_dump_json()])


def _named(brief: Brief, athletes: Iterable[Athlete], catalogue: Catalogue) -> tuple[Exercise, ...]:
    """Give the catalogue's entries of the exercises that the brief names."""
    refs = {*brief.exercises.prefer, *(line.exercise for line in brief.own_lines)}
    refs |= {lift.exercise for athlete in athletes for lift in athlete.lifts}
    return tuple(found for ref in sorted(refs) if (found := catalogue.get(ref)) is not None)
