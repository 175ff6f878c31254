"""Profiles of stored tests, fitted once while the site runs: the same runs give the same profile."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from speedloom.training.athlete import Athlete
from speedloom.training.kept import of_people
from speedloom.training.measurement import Measurements, Trace, Trial
from speedloom.training.profile import Profile
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.workflows.profile_athlete import fitted_profiles, profile_measurements
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sprint_runs import TrialRule

Run = TypeVar("Run", Trial, Trace)
KEPT = 20_000
"""Days of one athlete that are kept fitted: one takes a twenty-fifth of a second to fit [count]."""


@dataclass(frozen=True)
class Body:
    """What a fit needs to know of a person."""

    sex: str | None
    mass_kg: float | None
    height_m: float | None


@dataclass(frozen=True)
class Reading:
    """How a squad reads its tests: the best trial or the mean, and changes to the rulebook."""

    rule: TrialRule
    changes: tuple[RuleChange, ...] = ()


def body_of(athlete: Athlete) -> Body:
    """Give what a fit needs of an athlete."""
    return Body(athlete.sex, athlete.mass_kg, athlete.height_m)


def profiles_of(
    tested: Measurements, *, people: Mapping[str, Athlete], reading: Reading
) -> tuple[Profile, ...]:
    """Give a profile of every athlete, day and timing method, in that order."""
    found: list[Profile] = []
    runs, traces = _by_day(tested.trials), _by_day(tested.traces)
    for session in sorted(runs.keys() | traces.keys()):
        person = people.get(session.partition("/")[0])
        body = body_of(person) if person else Body(None, None, None)
        found += _profiles(tuple(runs.get(session, ())), tuple(traces.get(session, ())), body, reading)
    return tuple(sorted(found, key=lambda one: (one.athlete, one.date, one.timing)))


def fits_of(
    tested: Measurements, *, people: Mapping[str, Athlete], reading: Reading
) -> tuple[FittedProfile, ...]:
    """Give the fits behind the profiles of timed runs, with all that a forecast needs."""
    found: list[FittedProfile] = []
    for session, runs in sorted(_by_day(tested.trials).items()):
        person = people.get(session.partition("/")[0])
        found += _fits(tuple(runs), body_of(person) if person else Body(None, None, None), reading)
    return tuple(found)


def _by_day(rows: Iterable[Run]) -> dict[str, list[Run]]:
    days: dict[str, list[Run]] = {}
    for row in rows:
        days.setdefault(row.session, []).append(row)
    return days


@of_people
@lru_cache(maxsize=KEPT)
def _profiles(
    runs: tuple[Trial, ...], traces: tuple[Trace, ...], body: Body, reading: Reading
) -> tuple[Profile, ...]:
    return profile_measurements(
        Measurements(trials=runs, traces=traces),
        trial_rule=reading.rule,
        rulebook=load_rulebook().with_changes(reading.changes),
        people=_everybody(runs or traces, body),
    )


@of_people
@lru_cache(maxsize=KEPT)
def _fits(runs: tuple[Trial, ...], body: Body, reading: Reading) -> tuple[FittedProfile, ...]:
    return fitted_profiles(
        Measurements(trials=runs),
        trial_rule=reading.rule,
        rulebook=load_rulebook().with_changes(reading.changes),
        people=_everybody(runs, body),
    )


def _everybody(rows: tuple[Trial, ...] | tuple[Trace, ...], body: Body) -> dict[str, Body]:
    return {row.athlete: body for row in rows}
