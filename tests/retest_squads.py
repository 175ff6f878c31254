"""Invented squads, tested and tested again, whose true changes are known: does the retest say so?

The stated model: a squad's mean change is normal about 0 with SD 3 smallest worthwhile changes, athletes
differ from it by a spread that is half-normal with the same scale, and every trial has a normal error. A
verdict "better" is right when the true change is at least the smallest worthwhile change that the page
states.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from scipy.special import ndtri

from speedloom.training.measurement import Measurements, Split, Trial
from speedloom.training.rule import load_rulebook
from speedloom.workflows.retest import Retest, retest
from speedloom.workflows.sprint_runs import TrialRule

FIRST, LAST = date(2026, 1, 8), date(2026, 4, 2)
USUAL_S, BETWEEN_S = 4.5, 0.10
DISTANCE_M = 30.0


@dataclass(frozen=True)
class Squads:
    """What is drawn: how many squads, how large, how noisy, how many trials, and how a day is read."""

    squads: int
    athletes: int = 14
    error_s: float = 0.025
    trials: tuple[int, int] = (3, 3)
    rule: TrialRule = "best"
    seed: int = 1
    fixed: tuple[float, float] | None = None


@dataclass(frozen=True)
class Rates:
    """Of those told one thing: how many, the mean stated chance, and the share for whom it is true."""

    all: int
    told: int
    stated: float
    true: float

    def __str__(self) -> str:
        return (
            f"{self.told:6d} of {self.all} told, stated {100 * self.stated:5.1f} %, "
            f"true {100 * self.true:5.1f} %, apart {100 * (self.true - self.stated):+5.1f}"
        )


def drawn_changes(wanted: Squads) -> tuple[np.ndarray, np.random.Generator]:
    """Draw true changes [s], (squads, athletes); their means and spreads spread evenly over the model."""
    rng = np.random.default_rng(wanted.seed)
    if wanted.fixed is not None:
        mean, spread = (np.full(wanted.squads, one) for one in wanted.fixed)
    else:
        scale = 3.0 * 0.2 * BETWEEN_S
        even = (np.arange(wanted.squads) + 0.5) / wanted.squads
        mean = scale * ndtri(rng.permutation(even))
        spread = scale * ndtri(0.5 + 0.5 * rng.permutation(even))
    own = rng.standard_normal((wanted.squads, wanted.athletes))
    return mean[:, None] + spread[:, None] * own, rng


def retested(changes: np.ndarray, rng: np.random.Generator, wanted: Squads) -> Retest:
    """Time one squad on two days and compare, through the workflow that the command uses."""
    usual = USUAL_S + BETWEEN_S * rng.standard_normal(changes.size)
    days = ((FIRST, usual, wanted.trials[0]), (LAST, usual + changes, wanted.trials[1]))
    trials = [
        Trial(
            athlete=f"a{athlete:02d}",
            date=day,
            trial=number + 1,
            timing="gates",
            clock="unknown",
            splits=(Split(distance_m=DISTANCE_M, time_s=float(time)),),
        )
        for day, true, count in days
        for athlete, times in enumerate(
            true[:, None] + wanted.error_s * rng.standard_normal((true.size, count))
        )
        for number, time in enumerate(times)
    ]
    return retest(
        Measurements(trials=tuple(trials)), trial_rule=wanted.rule, rulebook=load_rulebook(), people={}
    )


def simulated(wanted: Squads) -> dict[str, Rates]:
    """Tell every athlete of every squad, and compare what was said with what is true."""
    changes, rng = drawn_changes(wanted)
    said: dict[str, list[tuple[float, bool]]] = {"better": [], "worse": [], "trivial": []}
    for own in changes:
        panel = next(one for one in retested(own, rng, wanted).panels if one.measure.kind == "split_time")
        assert panel.smallest is not None
        smallest = panel.smallest.value
        for true, change in zip(own, panel.changes, strict=True):
            is_true = {
                "better": true <= -smallest,
                "worse": true >= smallest,
                "trivial": abs(true) < smallest,
            }
            if change.verdict in said and change.chance is not None:
                said[change.verdict].append((change.chance, bool(is_true[change.verdict])))
    every = [pair for pairs in said.values() for pair in pairs]
    return {verdict: _rates(pairs, changes.size) for verdict, pairs in {**said, "all": every}.items()}


def _rates(pairs: list[tuple[float, bool]], count: int) -> Rates:
    if not pairs:
        return Rates(count, 0, float("nan"), float("nan"))
    stated, true = np.mean(np.array(pairs, dtype=np.float64), axis=0)
    return Rates(count, len(pairs), float(stated), float(true))
