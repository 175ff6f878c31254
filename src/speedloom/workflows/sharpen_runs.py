"""Free runs timed in training beside the profile: a full run may become a trial, a lone time asks for a test.

One distance cannot sharpen two numbers (docs/decisions): what two days running say against the profile is
told with its error, and only a run with enough gates is offered as a trial that planning can read.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.plausible import why_impossible
from speedloom.science.mechanics.sprint import Runner
from speedloom.science.mechanics.updating import UpdatedProfile, clock_times, update_profile
from speedloom.science.ranges import FloatArray
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Measurements, Split, Trial
from speedloom.training.programme import Node
from speedloom.workflows.explain import Step
from speedloom.workflows.profile_athlete import fitted_profiles, newest_by_athlete
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sharpen_form import (
    DAYS_A_WEEK,
    Form,
    Standing,
    TimedRun,
    aged,
    by_day,
    form_of,
    hidden,
    profiles_of,
    runs_of,
    standing,
    trials_of,
)
from speedloom.workflows.sharpen_printed import Figure
from speedloom.workflows.sharpen_proposal import News, Proposal, Scene
from speedloom.workflows.standing_log import StandingEntry

RULE = "training_runs"
UNKNOWNS = 2
_STEP = 1e-4


@dataclass(frozen=True)
class DayNews:
    """One day's runs over its longest distance, in spreads from the profile; above 0 = slower."""

    date: date
    runs: tuple[TimedRun, ...]
    distance_m: float
    time_s: float
    z: float


def run_proposals(scene: Scene) -> Iterator[Proposal]:
    """Propose for every athlete whose runs say, two days running, that the profile is not true any more."""
    newest = newest_by_athlete(profiles_of(scene), until=scene.on)
    for athlete in scene.brief.athletes:
        profile = newest.get(athlete.ref)
        if profile is None or hidden(scene, profile) or profile.clock not in {"movement", "behind"}:
            continue
        proposal = _proposal(scene, athlete, profile)
        if proposal is not None:
            yield proposal


def _proposal(scene: Scene, athlete: Athlete, profile: FittedProfile) -> Proposal | None:
    beside = standing(profile, trials_of(scene, profile), rule=scene.brief.trial, form=form_of(scene))
    runs = [
        run
        for one, run in runs_of(scene, athlete, profile)
        if (scene.on - run.date).days < scene.number(RULE, "window_days")
        and _free(scene, one, run, beside.start)
        and believable(run, beside, scene.number(RULE, "usable_share"))
    ]
    if not runs:
        return None
    beside = aged(beside, runs, form=form_of(scene))
    news = _news(scene, day_news(by_day(runs), beside, form_of(scene)))
    if not news:
        return None
    trials = _trials(scene, athlete, profile, news[-1])
    return _told(scene, athlete, beside, news, trials)


def _news(scene: Scene, days: Sequence[DayNews]) -> list[DayNews]:
    """Give the last days running that lie outside the band on one side, or none."""
    last = list(days[-int(scene.number(RULE, "days_running")) :])
    enough = len(last) >= scene.number(RULE, "days_running")
    sides = {math.copysign(1.0, one.z) for one in last if abs(one.z) > BAND_90_SD}
    outside = enough and len(sides) == 1 and all(abs(one.z) > BAND_90_SD for one in last)
    return last if outside else []


def _free(scene: Scene, one: StandingEntry, run: TimedRun, start: str) -> bool:
    """Say whether a run was a flat-out one from a start like the test's, without a sled."""
    known, line = scene.catalogue.get(one.entry.exercise or ""), one.line
    if run.load_kg or known is None or known.method != "unloaded_sprint" or line is None:
        return False
    flat_out = line.effort is None or line.effort >= scene.number("acceleration_runs", "effort_low")
    return flat_out and line.run == "acceleration" and (line.start or "standing") == start


def believable(run: TimedRun, beside: Standing, limit: float) -> bool:
    """Say whether a run's times can be true, and are not another distance or a stumble."""
    behind = beside.profile.behind_m or 0.0
    if why_impossible(run.distances_m, run.times_s, moves_at_zero=True, behind_m=behind) is not None:
        return False
    shown = clock_times(beside.runner, run.distances_m, behind_m=behind)
    return bool(np.all(np.abs(np.log(np.array(run.times_s) / shown)) <= math.log1p(limit)))


def day_news(days: Mapping[date, Sequence[TimedRun]], beside: Standing, form: Form) -> list[DayNews]:
    """Hold each day's mean over its longest distance against the profile, all errors reckoned with."""
    return [_day(day, runs, beside, form) for day, runs in days.items()]


def _day(day: date, runs: Sequence[TimedRun], beside: Standing, form: Form) -> DayNews:
    distance = max(run.distances_m[-1] for run in runs)
    alike = tuple(run for run in runs if run.distances_m[-1] == distance)
    time = float(np.mean([run.times_s[-1] for run in alike]))
    shown, slope = time_and_slope(beside, distance)
    scatter = form.day**2 + form.repetition**2 / len(alike)
    timing = beside.profile.around.timing_sd_s / shown
    spread = math.sqrt(scatter + timing**2 / len(alike) + float(slope @ beside.covariance @ slope))
    return DayNews(day, alike, distance, time, math.log(time / shown) / spread)


def time_and_slope(beside: Standing, distance_m: float) -> tuple[float, FloatArray]:
    """Give the usual time over a distance [s], and the change of its logarithm by (ln F0, ln v0)."""
    behind = beside.profile.behind_m or 0.0
    f0, v0 = (float(np.asarray(part)) for part in (beside.runner.f0_npkg, beside.runner.v0_mps))
    around = np.array([[0.0, 0.0], [_STEP, 0.0], [-_STEP, 0.0], [0.0, _STEP], [0.0, -_STEP]])
    force, speed = (np.array([f0, v0]) * np.exp(around)).T
    near = Runner(force, speed, beside.runner.mass_kg, beside.runner.drag_kgpm)
    times = clock_times(near, distance_m, behind_m=behind)
    slopes = np.array([times[1] - times[2], times[3] - times[4]]) / (2 * _STEP) / times[0]
    return float(times[0]), slopes


def updated(beside: Standing, runs: Sequence[TimedRun], form: Form) -> UpdatedProfile:
    """Weigh the profile, aged to the middle of the runs, against them: timing, scatter, form, and change.

    Timing errs by time, scatter by run, form by day; and runs before or after the middle have changed since.
    """
    rows = [
        (at, time, number)
        for number, run in enumerate(runs)
        for at, time in zip(run.distances_m, run.times_s, strict=True)
    ]
    distances, times, of = (np.array(column) for column in zip(*rows, strict=True))
    days = np.array([runs[int(number)].date.toordinal() for number in of])
    away = days - days.mean()
    same_way = (away[:, None] * away > 0) * np.minimum(np.abs(away[:, None]), np.abs(away))
    shared = form.repetition**2 * (of[:, None] == of) + form.day**2 * (days[:, None] == days)
    shared = shared + form.change_week**2 * same_way / DAYS_A_WEEK
    noise = np.eye(len(times)) * beside.profile.around.timing_sd_s**2 + np.outer(times, times) * shared
    return update_profile(
        beside.runner,
        beside.covariance,
        distances_m=distances,
        times_s=times,
        noise=noise,
        behind_m=beside.profile.behind_m or 0.0,
    )


def _trials(scene: Scene, athlete: Athlete, profile: FittedProfile, news: DayNews) -> tuple[Trial, ...]:
    """Give the newest day's runs with enough gates as trials of a test."""
    needed = UNKNOWNS + scene.number("population_prior", "spare_gates")
    full = [run for run in news.runs if len(run.distances_m) >= needed]
    first = trials_of(scene, profile)
    return tuple(
        Trial(
            athlete=athlete.ref,
            date=news.date,
            trial=number,
            timing=profile.timing,
            clock=profile.clock,
            behind_m=profile.behind_m,
            start=first[0].start if first else "standing",
            surface=profile.surface,
            splits=tuple(
                Split(distance_m=at, time_s=time)
                for at, time in zip(run.distances_m, run.times_s, strict=True)
            ),
        )
        for number, run in enumerate(full, start=1)
    )


def _told(
    scene: Scene, athlete: Athlete, beside: Standing, news: Sequence[DayNews], trials: tuple[Trial, ...]
) -> Proposal:
    form, runs = form_of(scene), [run for day in news for run in day.runs]
    distance = news[-1].distance_m
    after_profile = _refitted(scene, trials, form) or _moved(beside, updated(beside, runs, form))
    before, after = _band(beside, distance), _band(after_profile, distance)
    return Proposal(
        id=f"{athlete.ref}/{beside.profile.timing}/profile",
        athlete=athlete.ref,
        kind="profile",
        what=beside.profile.ref,
        before=before,
        after=after,
        reason="full_run" if trials else "test_again",
        values={
            "distance_m": distance,
            "days": [day.date.isoformat() for day in news],
            "times_s": [round(day.time_s, 3) for day in news],
            "distances_m": [day.distance_m for day in news],
            "slower": news[-1].z > 0,
            "gates": len(trials[0].splits) if trials else max(len(run.distances_m) for run in runs),
        },
        steps=_steps(beside, runs, distance, before, after),
        entries=tuple(dict.fromkeys(entry for run in runs for entry in run.entries)),
        news=News(trials=trials),
    )


def _refitted(scene: Scene, trials: tuple[Trial, ...], form: Form) -> Standing | None:
    if not trials:
        return None
    people = {athlete.ref: athlete for athlete in scene.brief.athletes}
    fitted = fitted_profiles(
        Measurements(trials=trials), trial_rule=scene.brief.trial, rulebook=scene.rulebook, people=people
    )
    return standing(fitted[0], trials, rule=scene.brief.trial, form=form) if fitted else None


def _moved(beside: Standing, new: UpdatedProfile) -> Standing:
    runner = Runner(new.f0_npkg, new.v0_mps, beside.runner.mass_kg, beside.runner.drag_kgpm)
    return Standing(beside.profile, runner, new.covariance, beside.start)


def _band(beside: Standing, distance_m: float) -> Figure:
    time, slope = time_and_slope(beside, distance_m)
    ratio = math.exp(BAND_90_SD * math.sqrt(float(slope @ beside.covariance @ slope)))
    return Figure(round(time, 3), round(time / ratio, 3), round(time * ratio, 3), "s")


def _steps(
    beside: Standing, runs: Sequence[TimedRun], distance: float, before: Figure, after: Figure
) -> tuple[Step, ...]:
    def node(figure: Figure, inputs: dict[str, str], source: str | None) -> Node:
        return Node.model_validate(
            {
                "quantity": "expected time",
                "value": figure.value,
                "unit": "s",
                "low": figure.low,
                "high": figure.high,
                "by": RULE,
                "inputs": inputs,
                "source": source,
                "mark": "computed",
            }
        )

    at = f"literal:{distance:g}"
    first = node(before, {"trials": f"test:{beside.profile.ref}", "distance_m": at}, "samozino_2016")
    inputs = {"before": "s1", "distance_m": at}
    inputs |= {f"run_{number}": f"literal:{run.times_s[-1]:g}" for number, run in enumerate(runs, start=1)}
    return (Step("s1", first), Step("s2", node(after, inputs, None)))
