"""Which of a day's trials a profile rests on, and the profile fitted to them (formula `profile.fit`)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import lru_cache
from math import sqrt
from typing import Literal

from speedloom.science.mechanics.plausible import why_impossible
from speedloom.science.mechanics.prior import Prior
from speedloom.science.mechanics.profile import ExponentialFit, fit_exponential
from speedloom.training.kept import of_people
from speedloom.training.measurement import Trial
from speedloom.training.rule import Rulebook
from speedloom.training.words import Timing

Start = Literal["movement", "unknown", "behind"]
TrialRule = Literal["best", "mean"]


@dataclass(frozen=True)
class Runs:
    """Split times ready for a fit: distances (m), times (s), and how the clock started."""

    distances_m: tuple[float, ...]
    times_s: tuple[float, ...]
    start: Start
    behind_m: float | None
    reaction_s: float | None
    wind_mps: float
    timing: Timing

    @property
    def spare(self) -> int:
        """Gates beyond the unknowns."""
        return len(self.times_s) - (3 if self.start == "unknown" else 2)


def chosen_runs(trials: Sequence[Trial], *, rule: TrialRule) -> Runs | None:
    """Give the times a profile rests on, or None where no trial can be used."""
    usable = [trial for trial in trials if not trial.sled_kg and trial.start != "flying" and _possible(trial)]
    if not usable:
        return None
    best = min(usable, key=lambda trial: (-_gates(trial)[-1], _times(trial)[-1], trial.trial))
    if rule == "best":
        return _runs([best])
    alike = [trial for trial in usable if _setting(trial) == _setting(best)]
    return _runs([best, *(trial for trial in alike if trial is not best)])


def _runs(trials: Sequence[Trial]) -> Runs:
    first = trials[0]
    columns = zip(*(_times(trial) for trial in sorted(trials, key=lambda trial: trial.trial)), strict=True)
    return Runs(
        distances_m=_gates(first),
        times_s=tuple(sum(column) / len(column) for column in columns),
        start=_start(first),
        behind_m=first.behind_m if _start(first) == "behind" else None,
        reaction_s=first.reaction_s if first.clock == "gun" else None,
        wind_mps=sum(trial.wind_mps or 0.0 for trial in trials) / len(trials),
        timing=first.timing,
    )


def _setting(trial: Trial) -> tuple[object, ...]:
    return (trial.clock, trial.behind_m, _start(trial), _gates(trial))


def _start(trial: Trial) -> Start:
    if trial.clock != "gun":
        return trial.clock
    return "unknown" if trial.reaction_s is None else "movement"


def _gates(trial: Trial) -> tuple[float, ...]:
    return tuple(sorted(split.distance_m for split in trial.splits))


def _times(trial: Trial) -> tuple[float, ...]:
    """Give the split times (s), counted from the first movement where the reaction time is known."""
    early = (trial.reaction_s or 0.0) if trial.clock == "gun" else 0.0
    return tuple(split.time_s - early for split in sorted(trial.splits, key=lambda split: split.distance_m))


def _possible(trial: Trial) -> bool:
    start = _start(trial)
    behind = (trial.behind_m or 0.0) if start == "behind" else 0.0
    wrong = why_impossible(_gates(trial), _times(trial), moves_at_zero=start != "unknown", behind_m=behind)
    return wrong is None


@lru_cache(maxsize=8)
def _prior_of(*numbers: float) -> Prior:
    return Prior(*numbers)


def population_prior(book: Rulebook) -> Prior:
    """Read the population prior from the rulebook."""
    return _prior_of(*(book.number("population_prior", field.name) for field in fields(Prior)))


def needs_prior(runs: Runs, book: Rulebook) -> bool:
    """Say whether the gates are too few for a fit without a prior."""
    return runs.spare < book.number("population_prior", "spare_gates")


def tells_tau(fit: ExponentialFit, book: Rulebook) -> bool:
    """Say whether the gates alone are certain enough of tau to do without a prior."""
    spread = sqrt(float(fit.working_covariance[0, 1, 1]))
    most = book.number("population_prior", "lean_above") * book.number("population_prior", "log_tau_sd")
    return spread <= most


@of_people
@lru_cache(maxsize=512)
def motion_of(runs: Runs, timing_sd_s: float, prior: Prior | None) -> ExponentialFit:
    """Fit the motion of some runs, once: a site checks the same athletes' programmes again and again."""
    return fit_exponential(
        runs.distances_m,
        runs.times_s,
        timing_sd_s=timing_sd_s,
        start=runs.start,
        behind_m=runs.behind_m,
        prior=prior,
    )
