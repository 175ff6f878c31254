"""Which of a day's trials a profile rests on: refused ones named, then the best one or the mean."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from speedloom.science.mechanics.plausible import SLOWEST_MPS, why_impossible
from speedloom.science.ranges import VMAX
from speedloom.training.measurement import Trial
from speedloom.training.profile import RefusedSplit, RefusedTrial
from speedloom.training.words import Clock

TrialRule = Literal["best", "mean"]
StartModel = Literal["movement", "unknown", "behind"]


@dataclass(frozen=True)
class Runs:
    """Times ready for a fit: one athlete, date and timing method.

    `times_s` count from the first movement where a gun's reaction time is known (`early_s` was taken off).
    """

    first: Trial
    used: tuple[int, ...]
    distances_m: tuple[float, ...]
    times_s: tuple[float, ...]
    model: StartModel
    early_s: float
    wind_mps: float

    @property
    def clock(self) -> Clock:
        """How the clock was started."""
        return self.first.clock

    @property
    def behind_m(self) -> float | None:
        """Metres behind the first beam, for clock `behind` only [m]."""
        return self.first.behind_m if self.model == "behind" else None

    @property
    def unknowns(self) -> int:
        """How many numbers the fit looks for."""
        return 3 if self.model == "unknown" else 2


@dataclass(frozen=True)
class SprintDay:
    """One athlete's sprint trials of one date and timing method."""

    ref: str
    trials: tuple[Trial, ...]
    refused: tuple[RefusedTrial, ...]
    runs: Runs | None


def sprint_days(trials: Iterable[Trial], *, trial_rule: TrialRule) -> tuple[SprintDay, ...]:
    """Sort trials into days by athlete, date and timing method; runs with a sled are left out."""
    days: dict[str, list[Trial]] = {}
    for trial in sorted(trials, key=lambda one: (one.athlete, one.date, one.timing, one.trial)):
        if not trial.sled_kg:
            days.setdefault(trial.session, []).append(trial)
    return tuple(_day(ref, tuple(those), trial_rule) for ref, those in days.items())


def why_refused(trial: Trial) -> str | None:
    """Give the id of why a trial cannot be used, or None."""
    if trial.start == "flying" and trial.splits:
        return "flying_start"
    model = _model(trial)
    splits = sorted((split.distance_m, split.time_s) for split in trial.splits)
    return why_impossible(
        [distance for distance, _ in splits],
        [time - _early(trial) for _, time in splits],
        moves_at_zero=model != "unknown",
        behind_m=(trial.behind_m or 0.0) if model == "behind" else 0.0,
    )


def _day(ref: str, trials: tuple[Trial, ...], rule: TrialRule) -> SprintDay:
    why = {trial.trial: why_refused(trial) for trial in trials}
    refused = tuple(
        RefusedTrial(trial=trial.trial, why=reason, splits=_telling(trial, reason))
        for trial in trials
        if (reason := why[trial.trial])
    )
    usable = [trial for trial in trials if why[trial.trial] is None]
    return SprintDay(ref, trials, refused, _chosen(usable, rule) if usable else None)


def _telling(trial: Trial, why: str) -> tuple[RefusedSplit, ...]:
    """Give the first split that cannot be true and the one before it; nothing where no split is wrong."""
    splits = [
        RefusedSplit(distance_m=split.distance_m, time_s=split.time_s)
        for split in sorted(trial.splits, key=lambda split: split.distance_m)
    ]
    if why not in {"splits_not_increasing", "faster_than_anyone", "slower_than_a_walk"} or not splits:
        return ()
    return next(((one, two) for one, two in pairwise(splits) if _cannot_be(one, two)), (splits[0],))


def _cannot_be(one: RefusedSplit, two: RefusedSplit) -> bool:
    took = two.time_s - one.time_s
    return took <= 0 or not SLOWEST_MPS <= (two.distance_m - one.distance_m) / took <= VMAX.high


def _chosen(usable: Sequence[Trial], rule: TrialRule) -> Runs:
    best = min(usable, key=lambda trial: (-_splits(trial)[-1][0], _splits(trial)[-1][1], trial.trial))
    alike = [trial for trial in usable if _setting(trial) == _setting(best)] if rule == "mean" else [best]
    gates = list(zip(*(_splits(trial) for trial in alike), strict=True))
    return Runs(
        first=best,
        used=tuple(trial.trial for trial in alike),
        distances_m=tuple(gate[0][0] for gate in gates),
        times_s=tuple(sum(time for _, time in gate) / len(gate) for gate in gates),
        model=_model(best),
        early_s=sum(_early(trial) for trial in alike) / len(alike),
        wind_mps=sum(trial.wind_mps or 0.0 for trial in alike) / len(alike),
    )


def _setting(trial: Trial) -> tuple[object, ...]:
    return (trial.clock, trial.behind_m, _model(trial), tuple(distance for distance, _ in _splits(trial)))


def _splits(trial: Trial) -> list[tuple[float, float]]:
    """Give distances and times, a known reaction time taken off."""
    early = _early(trial)
    return sorted((split.distance_m, split.time_s - early) for split in trial.splits)


def _early(trial: Trial) -> float:
    return trial.reaction_s if trial.clock == "gun" and trial.reaction_s is not None else 0.0


def _model(trial: Trial) -> StartModel:
    if trial.clock == "gun":
        return "unknown" if trial.reaction_s is None else "movement"
    return trial.clock
