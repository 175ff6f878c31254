"""What training says about a maximum and about a sled's friction, weighed here from first principles.

A normal prior and normal errors: generalised least squares over the test and what was logged. The spreads are
the rulebook's (rules `one_rep_max_update`, `training_runs`), each with its source and mark below. Written
from the descriptions alone; nothing of the product is imported.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from statistics import median

import numpy as np

from outside_motion import Sprinter

Z90 = 1.644854
DAY_LIFT = 0.042  # Grgic 2020, read: test-retest CV of a maximum
RELATION_PER_REP = 0.007  # common practice
RESERVE_NEAR, RESERVE_FAR, NEAR_REPS = 1.0, 2.0, 3.0  # Zourdos 2016, read; far: common practice
WEEK_LIFT = 0.012  # common practice
MOST_REPS = 10  # rule M3: formulas up to ten repetitions
DAY_RUN, WEEK_RUN = 0.010, 0.004  # common practice
RUN_SCATTER = 0.010  # Haugen 2012, read: CV of a run
GATES_S = 0.010  # common practice
BEST_OF_THREE = 0.8463  # order statistics, memory: how far the best of three lies from one, in SD


def one_rep_max(load_kg: float, repetitions: float) -> float:
    """Median of seven formulas (prescription reference, 5.2, read); one repetition is the load itself."""
    w, r = load_kg, repetitions
    if r == 1:
        return w
    return float(median([
        w * (1 + r / 30),
        36 * w / (37 - r),
        100 * w / (101.3 - 2.67123 * r),
        w * (1 + 0.025 * r),
        100 * w / (48.8 + 53.8 * math.exp(-0.075 * r)),
        100 * w / (52.2 + 41.9 * math.exp(-0.055 * r)),
        w * r**0.10,
    ]))  # fmt: skip


def to_failure(load_kg: float, maximum_kg: float) -> float:
    """The repetitions that a load allows, by these formulas."""
    reps: list[float] = np.arange(1.0, 10.001, 0.01).tolist()
    return min(reps, key=lambda r: abs(one_rep_max(load_kg, r) - maximum_kg))


def slope(repetitions: float) -> float:
    """How much a maximum changes, as a share, for one repetition more or less."""
    low, high = max(repetitions - 0.5, 1.0), min(repetitions + 0.5, 10.0)
    return (math.log(one_rep_max(1.0, high)) - math.log(one_rep_max(1.0, low))) / (high - low)


@dataclass(frozen=True)
class Lifted:
    """A set: load [kg], repetitions, reserve, and its day."""

    load_kg: float
    reps: int
    rir: int
    day: date


@dataclass(frozen=True)
class Weighed:
    """A number with its 90 % band, and what training weighs in it [1]."""

    value: float
    low: float
    high: float
    weight: float


def weigh_lifts(sets: list[Lifted], on: date) -> Weighed:
    """Weigh sets, the tested one first, against one another, seen from a day."""
    logs = np.array([math.log(one_rep_max(one.load_kg, one.reps + one.rir)) for one in sets])
    maximum = math.exp(float(logs[0]))
    for _ in range(8):
        spread = _lift_errors(sets, on, maximum)
        weights = np.linalg.solve(spread, np.ones(len(sets)))
        variance = 1.0 / float(weights.sum())
        maximum = math.exp(variance * float(weights @ logs))
    half = Z90 * math.sqrt(variance)
    band = maximum * math.exp(-half), maximum * math.exp(half)
    return Weighed(maximum, *band, 1.0 - variance * float(weights[0]))


def _lift_errors(sets: list[Lifted], on: date, maximum: float) -> np.ndarray:
    reps = [to_failure(one.load_kg, maximum) for one in sets]
    ages = [(on - one.day).days / 7.0 for one in sets]
    errors = np.zeros((len(sets), len(sets)))
    for i, one in enumerate(sets):
        for j, other in enumerate(sets):
            errors[i, j] = WEEK_LIFT**2 * min(ages[i], ages[j])
            errors[i, j] += RELATION_PER_REP**2 * (reps[i] - 1.0) * (reps[j] - 1.0)
            errors[i, j] += DAY_LIFT**2 if one.day == other.day else 0.0
        judged = RESERVE_NEAR if reps[i] - one.reps <= NEAR_REPS else RESERVE_FAR
        errors[i, i] += (slope(reps[i]) * judged) ** 2
    return errors


@dataclass(frozen=True)
class SledRun:
    """A timed run with a sled: load with the sled [kg], distance [m], time [s], weeks since the test, day."""

    load_kg: float
    distance_m: float
    time_s: float
    weeks: float
    day: str


@dataclass(frozen=True)
class Known:
    """An athlete's profile: f0, v0, mass, drag, and the covariance of ln f0 and ln v0."""

    f0: float
    v0: float
    mass: float
    drag: float
    covariance: np.ndarray
    behind_m: float

    def time(self, run: SledRun, friction: float, *, f0: float = 0.0, v0: float = 0.0) -> float:
        """The time of a run, with the profile moved by shares."""
        runner = Sprinter(self.f0 * (1 + f0), self.v0 * (1 + v0), self.mass, self.drag, run.load_kg, friction)
        return runner.time_to(run.distance_m + self.behind_m) - runner.time_to(self.behind_m)


def weigh_friction(people: list[tuple[Known, list[SledRun]]], *, prior: float, prior_se: float) -> Weighed:
    """Weigh everybody's sled runs, each with the error of the own profile, against what was known before."""
    said, information = 0.0, 0.0
    for known, runs in people:
        rise, off, errors = _sled_errors(known, runs, prior)
        weights = np.linalg.solve(errors, rise)
        said += float(weights @ off)
        information += float(weights @ rise)
    variance = 1.0 / (information + 1.0 / prior_se**2)
    value, half = prior + variance * said, Z90 * math.sqrt(variance)
    return Weighed(value, value - half, value + half, information * variance)


def _sled_errors(
    known: Known, runs: list[SledRun], friction: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    kinds = {(run.load_kg, run.distance_m): run for run in runs}
    moved = {kind: _slopes(known, run, friction) for kind, run in kinds.items()}
    rows = [moved[run.load_kg, run.distance_m] for run in runs]
    # The profile is of the best of three trials, so it is lucky by the best's share of one run's scatter.
    lucky = 1.0 + BEST_OF_THREE * RUN_SCATTER
    off = np.array([run.time_s - lucky * row[0] for run, row in zip(runs, rows, strict=True)])
    profile = np.array([row[2:] for row in rows])
    errors = profile @ known.covariance @ profile.T
    for i, one in enumerate(runs):
        for j, other in enumerate(runs):
            both = one.time_s * other.time_s
            errors[i, j] += both * WEEK_RUN**2 * min(one.weeks, other.weeks)
            errors[i, j] += both * DAY_RUN**2 * (1.0 + (one.day == other.day))  # the test's day, and this one
        errors[i, i] += (RUN_SCATTER * one.time_s) ** 2 + GATES_S**2
    return np.array([row[1] for row in rows]), off, errors


def _slopes(known: Known, run: SledRun, friction: float) -> tuple[float, float, float, float]:
    small = 0.004
    ends = [known.time(run, friction + sign * small) for sign in (1, -1)]
    force = [known.time(run, friction, f0=sign * small) for sign in (1, -1)]
    speed = [known.time(run, friction, v0=sign * small) for sign in (1, -1)]
    step = 2 * small
    rises = ((ends[0] - ends[1]) / step, (force[0] - force[1]) / step, (speed[0] - speed[1]) / step)
    return known.time(run, friction), *rises
