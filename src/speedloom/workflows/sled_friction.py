"""Timed sled runs to the friction of a sled on a floor: for each athlete and surface, and for each surface.

Friction belongs to one sled on one surface: runs on another surface, or beside a free profile of another
surface or timing method, are never mixed in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.resistance import FrictionFit, fit_friction
from speedloom.science.ranges import FloatArray
from speedloom.training.measurement import Measurements, Trial
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_athlete import fitted_profiles
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.profile_surroundings import Person
from speedloom.workflows.sprint_runs import TrialRule, why_refused
from speedloom.workflows.what_pays import log_covariance, runners

MOST_FRICTION = 1.5
"""A brief takes no more (training.kit.FrictionValue)."""


@dataclass(frozen=True)
class SledFriction:
    """The friction one athlete's runs on one surface give, no unit, with its standard error and 90 % band."""

    athlete: str
    surface: str
    timing: str
    profile: str
    runs: int
    value: float
    se: float

    @property
    def band(self) -> tuple[float, float]:
        """The 90 % band."""
        return (self.value - BAND_90_SD * self.se, self.value + BAND_90_SD * self.se)


@dataclass(frozen=True)
class PooledFriction:
    """The friction of a surface over all its athletes, no unit, weighted by what each knows."""

    surface: str
    athletes: tuple[str, ...]
    runs: int
    value: float
    se: float


@dataclass(frozen=True)
class RefusedSled:
    """Sled runs that give no friction, and the id of why not."""

    athlete: str
    date: date
    surface: str | None
    timing: str
    trials: tuple[int, ...]
    why: str


@dataclass(frozen=True)
class SledRuns:
    """What the sled runs of a tests file gave."""

    by_athlete: tuple[SledFriction, ...]
    by_surface: tuple[PooledFriction, ...]
    refused: tuple[RefusedSled, ...]


def sled_friction(
    measurements: Measurements, *, trial_rule: TrialRule, rulebook: Rulebook, people: Mapping[str, Person]
) -> SledRuns:
    """Fit the friction of every athlete's timed sled runs, surface by surface.

    The standard error holds the timing, what one run differs from the next by (rule expected_time.repetition,
    for the free run too), and the free profile's uncertainty; more sled runs leave the free run's part.
    """
    profiles = fitted_profiles(measurements, trial_rule=trial_rule, rulebook=rulebook, people=people)
    repetition = rulebook.number("expected_time", "repetition")
    found: list[SledFriction] = []
    refused: list[RefusedSled] = []
    for trials in _days(measurements.trials):
        kept = [trial for trial in trials if _why_not(trial) is None]
        refused += [_refusal([trial], why) for trial in trials if (why := _why_not(trial)) is not None]
        if not kept:
            continue
        profile = _free_profile(kept[0], profiles)
        answer: SledFriction | str
        if profile is None:
            answer = _why_no_profile(kept[0], profiles)
        elif profile.shrinkage_f0 > rulebook.number("population_prior", "shown_below"):
            # The profile's force is what is usual rather than what was measured.
            answer = "too_few_gates"
        else:
            answer = _fit(kept, profile, repetition)
        if isinstance(answer, str):
            refused.append(_refusal(kept, answer))
        else:
            found.append(answer)
    return SledRuns(tuple(found), _pooled(found), tuple(refused))


def _days(trials: Iterable[Trial]) -> list[list[Trial]]:
    """Sort sled runs by athlete, day, timing, surface and how the clock was started."""
    days: dict[tuple[object, ...], list[Trial]] = {}
    order = sorted(trials, key=lambda one: (one.athlete, one.date, one.timing, one.surface or "", one.trial))
    for trial in order:
        if trial.sled_kg:
            days.setdefault((*_session(trial), trial.date), []).append(trial)
    return list(days.values())


def _session(trial: Trial) -> tuple[object, ...]:
    return (trial.athlete, trial.timing, trial.surface, trial.clock, trial.behind_m)


def _why_not(trial: Trial) -> str | None:
    """Give the id of why one run cannot be used by itself, or None."""
    if trial.surface is None:
        return "surface_unknown"
    if trial.clock == "unknown" or (trial.clock == "gun" and trial.reaction_s is None):
        return "clock_unknown"
    return why_refused(trial)


def _free_profile(trial: Trial, profiles: Iterable[FittedProfile]) -> FittedProfile | None:
    """Find the athlete's nearest free profile of the same surface and timing method."""
    alike = [
        one
        for one in profiles
        if (one.athlete, one.timing, one.surface) == (trial.athlete, trial.timing, trial.surface)
    ]
    return min(alike, key=lambda one: (abs((one.date - trial.date).days), one.ref), default=None)


def _why_no_profile(trial: Trial, profiles: Iterable[FittedProfile]) -> str:
    own = [one for one in profiles if one.athlete == trial.athlete]
    same_timing = [one for one in own if one.timing == trial.timing]
    if not own:
        return "no_free_profile"
    return "other_surface" if same_timing else "other_timing"


def _refusal(trials: Sequence[Trial], why: str) -> RefusedSled:
    first = trials[0]
    numbers = tuple(trial.trial for trial in trials)
    return RefusedSled(first.athlete, first.date, first.surface, first.timing, numbers, why)


def _fit(trials: Sequence[Trial], profile: FittedProfile, repetition: float) -> SledFriction | str:
    """Fit each run by itself; the mean's error falls with the runs, the free profile's part does not."""
    first = trials[0]
    fit = _fitted(trials, profile)
    if not fit.inside.all() or float(fit.value.mean()) > MOST_FRICTION:
        return "not_slower"
    # A slower run looks like more friction: what runs differ by is carried into the friction.
    run = [_fitted(trials, profile, sled=1.0 + change).value for change in (repetition, -repetition)]
    free = [_fitted(trials, profile, free=1.0 + change).value for change in (repetition, -repetition)]
    carried = _fitted(trials, profile, covariance=log_covariance(profile)).se ** 2 - fit.se**2
    own = fit.se**2 + ((run[0] - run[1]) / 2.0) ** 2
    shared = carried + ((free[0] - free[1]) / 2.0) ** 2
    return SledFriction(
        first.athlete,
        str(first.surface),
        first.timing,
        profile.ref,
        len(trials),
        float(fit.value.mean()),
        math.sqrt(float(own.mean()) / len(trials) + float(shared.mean())),
    )


def _fitted(
    trials: Sequence[Trial],
    profile: FittedProfile,
    *,
    sled: float = 1.0,
    free: float = 1.0,
    covariance: FloatArray | None = None,
) -> FrictionFit:
    """Fit the runs (n,), the sled's times or the free run's stretched by a factor."""
    first = trials[0]
    distances, times = _gates(trials)
    runner = runners([profile] * len(trials))
    # A free run whose times are stretched has v0 smaller by the factor and F0 by its square.
    stretched = replace(
        runner,
        f0_npkg=np.asarray(runner.f0_npkg) / free**2,
        v0_mps=np.asarray(runner.v0_mps) / free,
    )
    return fit_friction(
        stretched,
        load_kg=[trial.sled_kg or 0.0 for trial in trials],
        distance_m=distances,
        time_s=times * sled,
        timing_sd_s=profile.around.timing_sd_s,
        behind_m=(first.behind_m or 0.0) if first.clock == "behind" else 0.0,
        profile_covariance=covariance,
    )


def _gates(trials: Sequence[Trial]) -> tuple[FloatArray, FloatArray]:
    """Give distances (k,) and times (n, k) from the start of the clock, NaN where a gate is missing."""
    distances = sorted({split.distance_m for trial in trials for split in trial.splits})
    times: NDArray[np.float64] = np.full((len(trials), len(distances)), np.nan)
    for row, trial in enumerate(trials):
        early = (trial.reaction_s or 0.0) if trial.clock == "gun" else 0.0
        for split in trial.splits:
            times[row, distances.index(split.distance_m)] = split.time_s - early
    return np.array(distances), times


def _pooled(found: Iterable[SledFriction]) -> tuple[PooledFriction, ...]:
    """Weight each athlete by what their runs know; athletes who differ by more than that widen the error."""
    surfaces: dict[str, list[SledFriction]] = {}
    for one in found:
        surfaces.setdefault(one.surface, []).append(one)
    return tuple(_pool(surface, those) for surface, those in sorted(surfaces.items()))


def _pool(surface: str, those: Sequence[SledFriction]) -> PooledFriction:
    values = np.array([one.value for one in those])
    weights = np.array([one.se**-2.0 for one in those])
    mean = float((weights * values).sum() / weights.sum())
    excess = float((weights * (values - mean) ** 2).sum()) / max(1, len(those) - 1)
    athletes = tuple(dict.fromkeys(one.athlete for one in those))
    se = math.sqrt(max(1.0, excess) / float(weights.sum()))
    return PooledFriction(surface, athletes, sum(one.runs for one in those), mean, se)
