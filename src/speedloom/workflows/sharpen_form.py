"""A profile as it stands beside runs in training: the best trial's luck taken off, the form in the band."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from speedloom.science.mechanics.sprint import Runner
from speedloom.science.mechanics.updating import STRETCH, stretched
from speedloom.science.ranges import FloatArray
from speedloom.science.statistics.best_of import best_shift, best_spread, mean_spread
from speedloom.training.athlete import Athlete
from speedloom.training.log import Result
from speedloom.training.measurement import Trial
from speedloom.workflows.logged_runs import by_repetition, gates_of
from speedloom.workflows.profile_athlete import fitted_profiles
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sharpen_proposal import Scene
from speedloom.workflows.standing_log import StandingEntry
from speedloom.workflows.what_pays import log_covariance

DAYS_A_WEEK = 7.0


@dataclass(frozen=True)
class Form:
    """How runs of one athlete scatter [shares of a time]: from day to day, from run to run, and by weeks."""

    day: float
    repetition: float
    change_week: float


@dataclass(frozen=True)
class Standing:
    """What an athlete's usual run is like: the profile without the luck of its best trial, and how sure.

    `covariance` is of (ln F0, ln v0) with the trials' scatter and the test day's form in it.
    """

    profile: FittedProfile
    runner: Runner
    covariance: FloatArray
    start: str


@dataclass(frozen=True)
class TimedRun:
    """One run written down: its day, its distances [m] and times [s], its sled [kg] and its entries."""

    date: date
    entries: tuple[str, ...]
    place: tuple[int, int]
    distances_m: tuple[float, ...]
    times_s: tuple[float, ...]
    load_kg: float
    surface: str | None


def form_of(scene: Scene) -> Form:
    """Read how runs scatter."""
    return Form(
        day=scene.number("training_runs", "day_spread"),
        repetition=scene.number("expected_time", "repetition"),
        change_week=scene.number("training_runs", "change_week"),
    )


def profiles_of(scene: Scene) -> tuple[FittedProfile, ...]:
    """Fit all profiles the brief holds up to the day."""
    people = {athlete.ref: athlete for athlete in scene.brief.athletes}
    fitted = fitted_profiles(
        scene.brief.measurements, trial_rule=scene.brief.trial, rulebook=scene.rulebook, people=people
    )
    return tuple(one for one in fitted if one.date <= scene.on)


def standing(profile: FittedProfile, trials: Sequence[Trial], *, rule: str, form: Form) -> Standing:
    """Make a profile comparable with runs in training.

    Args:
        profile: the fitted profile.
        trials: its day's usable trials.
        rule: best or mean of them.
        form: how runs scatter.
    """
    count = max(1, len(trials))
    shift = best_shift(count) * form.repetition if rule == "best" else 0.0
    scatter = form.repetition * (best_spread(count) if rule == "best" else mean_spread(count))
    runner = Runner(profile.f0_npkg.value, profile.v0_mps.value, profile.mass_kg, profile.drag_kgpm)
    usual = (scatter**2 + form.day**2) * np.outer(STRETCH, STRETCH)
    start = trials[0].start if trials else "standing"
    return Standing(profile, stretched(runner, shift), log_covariance(profile) + usual, start)


def aged(beside: Standing, runs: Sequence[TimedRun], *, form: Form) -> Standing:
    """Widen a profile by what the athlete may have gained or lost up to the middle of later runs."""
    days = [(run.date - beside.profile.date).days for run in runs]
    walk = form.change_week**2 * sum(days) / len(days) / DAYS_A_WEEK
    return replace(beside, covariance=beside.covariance + walk * np.outer(STRETCH, STRETCH))


def trials_of(scene: Scene, profile: FittedProfile) -> list[Trial]:
    """Give the free trials of a profile's day."""
    return [
        trial
        for trial in scene.brief.measurements.trials
        if trial.session == profile.ref and not trial.sled_kg and trial.splits and trial.start != "flying"
    ]


def hidden(scene: Scene, profile: FittedProfile) -> bool:
    """Say whether a profile's force is what is usual rather than what was measured."""
    return profile.shrinkage_f0 > scene.number("population_prior", "shown_below")


def runs_of(
    scene: Scene, athlete: Athlete, profile: FittedProfile
) -> Iterator[tuple[StandingEntry, TimedRun]]:
    """Give an athlete's later runs of the profile's own timing, clock and floor, towed and free."""
    together: dict[tuple[object, ...], list[StandingEntry]] = {}
    for one in scene.known(athlete.ref):
        if _alike(scene, one, profile):
            work = (one.entry.date, one.entry.line or one.entry.exercise)
            together.setdefault(work, []).append(one)
    for those in together.values():
        yield from ((those[-1], run) for run in _runs(scene, those))


def _alike(scene: Scene, one: StandingEntry, profile: FittedProfile) -> bool:
    entry = one.entry
    timed = (entry.timing, entry.clock, entry.behind_m)
    if timed != (profile.timing, profile.clock, profile.behind_m):
        return False
    if entry.clock not in {"movement", "behind"} or entry.date <= profile.date:
        return False
    return entry.reason not in {"pain", "illness"} and scene.surface_of(one) == profile.surface


def _runs(scene: Scene, those: Sequence[StandingEntry]) -> Iterator[TimedRun]:
    """Give the runs that entries about one line say; gates of one run may come one by one."""
    found: dict[tuple[int, int], list[tuple[tuple[str, ...], tuple[Result, ...]]]] = {}
    for one in those:
        usable = [part for part in scene.log.usable_results(one) if part.distance_m and part.time_s]
        for place, results in by_repetition(usable).items():
            runs = found.setdefault(place, [((), ())])
            entries, before = runs[-1]
            if not before or gates_of((*before, *results)):
                runs[-1] = ((*entries, one.entry.id), (*before, *results))
            else:
                runs.append(((one.entry.id,), results))
    day, surface = those[0].entry.date, scene.surface_of(those[0])
    for place, runs in sorted(found.items()):
        for entries, results in runs:
            splits = {part.distance_m or 0.0: part for part in results}
            distances = tuple(sorted(splits))
            times = tuple(splits[at].time_s or 0.0 for at in distances)
            load = splits[distances[0]].load_kg or 0.0
            yield TimedRun(day, entries, place, distances, times, load, surface)


def by_day(runs: Sequence[TimedRun]) -> Mapping[date, list[TimedRun]]:
    """Sort runs by day, oldest first."""
    days: dict[date, list[TimedRun]] = {}
    for run in sorted(runs, key=lambda one: (one.date, one.entries, one.place)):
        days.setdefault(run.date, []).append(run)
    return days
