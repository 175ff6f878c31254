"""Runs of a day that has runs already: the same run is not counted twice, another takes the next number."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from speedloom.training.measurement import Trial


@dataclass(frozen=True)
class Renumbered:
    """A run that took another number, because its own was taken by a different run."""

    trial: Trial
    before: int


@dataclass(frozen=True)
class NumberedAfter:
    """New runs ready to be stored; `same` are stored already under some number."""

    trials: tuple[Trial, ...]
    same: tuple[Trial, ...]
    renumbered: tuple[Renumbered, ...]


def numbered_after(new: Iterable[Trial], *, stored: Iterable[Trial]) -> NumberedAfter:
    """Number runs after those that are stored of the same athlete, day and timing method."""
    known: dict[str, list[Trial]] = {}
    for one in stored:
        known.setdefault(one.session, []).append(one)
    taken = {session: {one.trial for one in runs} for session, runs in known.items()}
    trials, same, renumbered = [], [], []
    for trial in new:
        if any(_alike(trial, other) for other in known.get(trial.session, ())):
            same.append(trial)
            continue
        numbers = taken.setdefault(trial.session, set())
        placed = trial
        if trial.trial in numbers:
            placed = trial.model_copy(update={"trial": max(numbers) + 1})
            renumbered.append(Renumbered(placed, trial.trial))
        numbers.add(placed.trial)
        trials.append(placed)
    return NumberedAfter(tuple(trials), tuple(same), tuple(renumbered))


def _alike(one: Trial, other: Trial) -> bool:
    """Say whether two runs are one; a single time can come twice, a row of splits hardly ever."""
    equal = (one.splits, one.sled_kg, one.start) == (other.splits, other.sled_kg, other.start)
    return equal and (one.trial == other.trial or len(one.splits) > 1)
