"""Truths drawn from the stated priors, tested and trained, and what the sharper numbers make of them.

Written from the rules' own statements and apart from the estimators: repetitions are whole, reserve is judged
whole and never below 0, the best of three trials is the test, and sleds and clocks obey the equations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.air import drag_constant, dry_air_density
from speedloom.science.mechanics.profile import POPULATION_PRIOR
from speedloom.science.mechanics.sprint import FLAT, Course, Runner, time_to_distance
from speedloom.science.mechanics.updating import STRETCH
from speedloom.science.strength.one_rep_max import estimate_one_rep_max
from speedloom.science.strength.repetitions import SHARE_BY_REPETITIONS
from speedloom.training.measurement import Measurements, Split, Trial
from speedloom.training.rule import load_rulebook
from speedloom.workflows.profile_athlete import fitted_profiles
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sharpen_form import Form, Standing, TimedRun, aged, by_day, standing
from speedloom.workflows.sharpen_lifts import DaySet, followed, lift_spreads
from speedloom.workflows.sharpen_printed import Figure
from speedloom.workflows.sharpen_runs import day_news, time_and_slope, updated
from speedloom.workflows.sharpen_sleds import Towing, pooled_friction

BOOK = load_rulebook()
FORM = Form(
    BOOK.number("training_runs", "day_spread"),
    BOOK.number("expected_time", "repetition"),
    BOOK.number("training_runs", "change_week"),
)
TEST = date(2026, 1, 5)
GATES = (5.0, 10.0, 20.0, 30.0, 40.0)
TIMING_S, BEHIND_M = 0.01, 0.5
MASS_KG, HEIGHT_M = 70.0, 1.72
DRAG_KGPM = float(drag_constant(HEIGHT_M, MASS_KG, dry_air_density(20.0, 0.0)))
SPREADS = lift_spreads(BOOK)
MOST = BOOK.number("one_rep_max_repetitions", "reps")
PLANS = ((8, 3), (8, 2), (8, 1), (6, 3), (5, 2), (5, 1), (3, 2))
"""Repetitions and reserve of a block's sets, general to specific."""
PLATE_KG = 2.5


@dataclass(frozen=True)
class Miss:
    """How far an estimate lies from the truth, and its standard error, in the same unit."""

    error: float
    se: float

    @property
    def covered(self) -> bool:
        """Whether the 90 % band holds the truth."""
        return abs(self.error) <= BAND_90_SD * self.se


def coverage(misses: list[Miss]) -> float:
    """Give the share of bands that hold the truth."""
    return sum(miss.covered for miss in misses) / len(misses)


# ---------------------------------------------------------------- one-repetition maximum


_ROWS = np.linspace(1.0, 25.0, 961)
_GROWN = np.where(
    _ROWS <= MOST,
    estimate_one_rep_max(1.0, np.minimum(_ROWS, MOST)).value,
    # Beyond ten the formulas say nothing; a straight line in repetitions goes on from there.
    estimate_one_rep_max(1.0, MOST).value + 0.03 * (_ROWS - MOST),
)


@dataclass(frozen=True)
class Lifter:
    """A true maximum on each day [ln kg], and how far the own relation of repetitions to load lies off."""

    log_kg: np.ndarray
    relation: float
    luck: np.random.Generator

    def sets(self, day: int, load_kg: float, reps: int) -> DaySet | None:
        """Lift a set: as many repetitions as there are, the reserve judged with an error."""
        strong = float(np.exp(self.log_kg[day] + self.luck.normal(0.0, SPREADS.day)))
        allowed = np.log(_GROWN) + self.relation * (_ROWS - 1.0)
        can = float(np.interp(np.log(strong / load_kg), allowed, _ROWS)) if load_kg <= strong else 0.0
        done = min(reps, int(can))
        near = can - done <= SPREADS.near_reps
        error = self.luck.normal(0.0, SPREADS.reserve_reps if near else SPREADS.reserve_far_reps)
        rir = max(0, round(can - done + error))
        if done < 1 or done + rir > MOST:
            return None
        return DaySet(TEST + timedelta(day), load_kg, done, rir, None if day == 0 else str(day))


def maxima(draws: int, *, weeks: int, seed: int) -> Iterator[Miss]:
    """Draw lifters, test them by a set of three to five, train by the chart, and follow their maximum."""
    luck = np.random.default_rng(seed)
    left = draws
    while left:
        steps = luck.normal(0.0, SPREADS.change_week / 7**0.5, 7 * weeks)
        log_kg = np.log(luck.uniform(50.0, 180.0)) + np.concatenate([[0.0], np.cumsum(steps)])
        lifter = Lifter(log_kg, luck.normal(0.0, SPREADS.relation_per_rep), luck)
        tested = lifter.sets(0, float(np.exp(log_kg[0])) * luck.uniform(0.85, 0.92), 5)
        if tested is None:
            continue
        left -= 1
        trained = [lifter.sets(7 * week, _written(tested, week, weeks), PLANS[_at(week, weeks)][0])
                   for week in range(1, weeks + 1)]  # fmt: skip
        sets = [tested, *(one for one in trained if one is not None)]
        pooled = followed(sets, on=TEST + timedelta(7 * weeks), spreads=SPREADS)
        yield Miss(pooled.value - log_kg[-1], pooled.se)


def _at(week: int, weeks: int) -> int:
    return (week - 1) * len(PLANS) // weeks


def _written(tested: DaySet, week: int, weeks: int) -> float:
    share = SHARE_BY_REPETITIONS[sum(PLANS[_at(week, weeks)])]
    return round(tested.one_rep_max * share / PLATE_KG) * PLATE_KG


# ---------------------------------------------------------------- sprints and sleds


@dataclass(frozen=True)
class Sprinter:
    """A true force–speed line on the day of the test, and how times stretch with the weeks (share)."""

    runner: Runner
    slower_by: np.ndarray

    def usual(self, day: int) -> Runner:
        """Give the athlete on a usual day so many days after the test."""
        return _stretch(self.runner, float(self.slower_by[day]))


def sprinter(luck: np.random.Generator, *, days: int) -> Sprinter:
    """Draw an athlete from the population prior, wandering by the rule's change of a week."""
    prior = POPULATION_PRIOR
    sd, rho = np.array([prior.log_f0_sd, prior.log_v0_sd]), prior.f0_v0_correlation
    mean = [prior.log_f0_mean, prior.log_v0_mean]
    f0, v0 = np.exp(luck.multivariate_normal(mean, np.outer(sd, sd) * [[1.0, rho], [rho, 1.0]]))
    walk = np.cumsum(luck.normal(0.0, FORM.change_week / 7**0.5, days))
    return Sprinter(Runner(float(f0), float(v0), MASS_KG, DRAG_KGPM), np.concatenate([[0.0], walk]))


def _stretch(runner: Runner, share: float) -> Runner:
    force, speed = np.array([runner.f0_npkg, runner.v0_mps], dtype=float) * np.exp(STRETCH * share)
    return Runner(float(force), float(speed), runner.mass_kg, runner.drag_kgpm)


def shown(
    luck: np.random.Generator,
    runner: Runner,
    distances: tuple[float, ...],
    form: float,
    course: Course = FLAT,
) -> tuple[float, ...]:
    """Run once and read the clock: the day's form, the run's scatter and the gates' noise."""
    late = time_to_distance(runner, BEHIND_M, course=course)
    times = time_to_distance(runner, np.array(distances) + BEHIND_M, course=course) - late
    noisy = times * (1.0 + form + luck.normal(0.0, FORM.repetition)) + luck.normal(
        0.0, TIMING_S, len(distances)
    )
    return tuple(round(float(time), 3) for time in noisy)


def tested(luck: np.random.Generator, athlete: Sprinter, name: str) -> tuple[FittedProfile, Standing]:
    """Test an athlete by three trials through five gates; the best one is the profile."""
    form = luck.normal(0.0, FORM.day)
    runs = [shown(luck, athlete.runner, GATES, form) for _ in range(3)]
    trials = tuple(
        Trial(
            athlete=name, date=TEST, trial=number, timing="gates", clock="behind", behind_m=BEHIND_M,
            surface="hall",
            splits=tuple(Split(distance_m=at, time_s=time) for at, time in zip(GATES, times, strict=True)),
            mass_kg=MASS_KG, height_m=HEIGHT_M,
        )
        for number, times in enumerate(runs, start=1)
    )  # fmt: skip
    (profile,) = fitted_profiles(Measurements(trials=trials), trial_rule="best", rulebook=BOOK, people={})
    return profile, standing(profile, trials, rule="best", form=FORM)


def trained(
    luck: np.random.Generator,
    athlete: Sprinter,
    days: range,
    *,
    runs: int,
    distances: tuple[float, ...],
    course: Course = FLAT,
) -> list[TimedRun]:
    """Time some runs on some days after the test."""
    found = []
    for day in days:
        form = luck.normal(0.0, FORM.day)
        for number in range(runs):
            times = shown(luck, athlete.usual(day), distances, form, course)
            load = float(np.asarray(course.load_kg))
            found.append(
                TimedRun(TEST + timedelta(day), (f"{day}",), (1, number), distances, times, load, "hall")
            )
    return found


def sleds(draws: int, *, seed: int, prior: Figure, athletes: int = 3) -> Iterator[Miss]:
    """Draw a friction from what is known before any run, and let some athletes tow on two days."""
    luck = np.random.default_rng(seed)
    spread = ((prior.high or 0.0) - (prior.low or 0.0)) / 2.0 / BAND_90_SD
    for _ in range(draws):
        friction = max(0.02, luck.normal(prior.value, spread))
        towing = []
        for number in range(athletes):
            athlete = sprinter(luck, days=60)
            _, beside = tested(luck, athlete, f"a{number}")
            course = Course(load_kg=float(luck.choice([15.0, 25.0, 35.0])), friction=friction)
            runs = tuple(trained(luck, athlete, range(14, 29, 14), runs=4, distances=(15.0,), course=course))
            towing.append(Towing(f"a{number}", aged(beside, runs, form=FORM), runs))
        pooled = pooled_friction(towing, prior=prior, form=FORM)
        yield Miss(pooled.value - friction, pooled.se)


@dataclass(frozen=True)
class ProfileMiss:
    """Misses of ln F0, ln v0 and the logarithm of the 30 m time: by the test alone, and with the runs."""

    before: tuple[Miss, Miss, Miss]
    after: tuple[Miss, Miss, Miss]
    alarm: bool


def profiles(
    draws: int,
    *,
    seed: int,
    distances: tuple[float, ...],
    days: int = 4,
    drift: float = 0.0,
    stronger: float = 0.0,
) -> Iterator[ProfileMiss]:
    """Draw sprinters, test them, time their runs on some days of four weeks, and weigh both.

    Args:
        draws: how many.
        seed: decides all that is drawn.
        distances: gates of a run in training [m]; one is what most coaches have.
        days: training days, three runs each.
        drift: a true slowing by the time of the runs, beside the rule's own change [share].
        stronger: a true gain of start force alone, which no such change is [share].
    """
    luck = np.random.default_rng(seed)
    for _ in range(draws):
        athlete = sprinter(luck, days=60)
        profile, beside = tested(luck, athlete, "a")
        now = _stretch(athlete.runner, drift)
        now = replace(now, f0_npkg=float(np.asarray(now.f0_npkg)) * (1.0 + stronger))
        slower = Sprinter(now, athlete.slower_by)
        when = range(7, 7 + 5 * days, 5)
        runs = trained(luck, slower, when, runs=3, distances=distances)
        beside = aged(beside, runs, form=FORM)
        new = updated(beside, runs, FORM)
        moved = Standing(
            profile, Runner(new.f0_npkg, new.v0_mps, MASS_KG, DRAG_KGPM), new.covariance, "standing"
        )
        truth = _stretch(slower.runner, float(athlete.slower_by[round(np.mean(when))]))
        news = day_news(by_day(runs), beside, FORM)[-2:]
        alarm = all(abs(day.z) > BAND_90_SD for day in news) and news[0].z * news[1].z > 0
        yield ProfileMiss(_misses(beside, truth), _misses(moved, truth), alarm)


def _misses(known: Standing, truth: Runner) -> tuple[Miss, Miss, Miss]:
    sd = np.sqrt(np.diag(known.covariance))
    time, slope = time_and_slope(known, 30.0)
    late = time_to_distance(truth, BEHIND_M)
    true_time = float(time_to_distance(truth, 30.0 + BEHIND_M) - late)
    pairs = ((known.runner.f0_npkg, truth.f0_npkg), (known.runner.v0_mps, truth.v0_mps))
    errors = [float(np.log(np.asarray(one) / np.asarray(other))) for one, other in pairs]
    spread = float(np.sqrt(slope @ known.covariance @ slope))
    return (Miss(errors[0], sd[0]), Miss(errors[1], sd[1]), Miss(float(np.log(time / true_time)), spread))
