"""A line before the solver: everything but the number of repetitions or sets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from speedloom.planning.formulas import line_minutes, step_up
from speedloom.planning.ledger import Tag
from speedloom.training.exercise import Exercise
from speedloom.training.words import SPRINTS

HALF_MINUTE = 0.5
Finish = Callable[[Tag], tuple[dict[str, Any], dict[str, Tag]]]


@dataclass(frozen=True)
class Cost:
    """What it costs to take units off a line: down to `floor` at one rank, below it at another."""

    rank: int
    floor: int = 0
    below_rank: int = 9
    drop_rank: int | None = None
    over: int = 3

    def of(self, proposed: int, count: int) -> int:
        """Cost of choosing a count when another was proposed."""
        if count >= proposed:
            return self.over * (count - proposed)
        if count == 0 and self.drop_rank is not None:
            return _rank_cost(self.drop_rank)
        cheap = max(0, proposed - max(count, self.floor))
        dear = max(0, min(proposed, self.floor) - count)
        return cheap * _rank_cost(self.rank) + dear * _rank_cost(self.below_rank)


# Sets of exercises that stand side by side stay alike: one more costs more than the week's volume gains.
OVER_ALIKE = 60
RANK_BASE = 8


def _rank_cost(rank: int) -> int:
    # Base 8: a session rarely holds eight units of one rank, so a later rank is hardly ever the cheaper one.
    cost: int = 10 * RANK_BASE ** (rank - 1)
    return cost


@dataclass(frozen=True)
class Timing:
    """Seconds that a line costs, as nodes."""

    work: Tag
    rest_reps: Tag | None = None
    rest: Tag | None = None
    change_over: Tag | None = None
    ramp_up: Tag | None = None
    turns: Tag | None = None
    runs_on: bool = False


@dataclass(frozen=True)
class Draft:
    """One line whose count (repetitions of a run, sets of anything else) is still open."""

    key: str
    method: str
    exercise: Exercise | None
    exercise_ref: str
    counted: Literal["reps", "sets"]
    other: Tag
    proposed: Tag
    fewest: int
    most: int
    cost: Cost
    timing: Timing
    volume: str | None = None
    each: Tag | None = None
    per_unit: float = 1.0
    wanted: Tag | None = None
    optional: bool = False
    beyond_m: float = 0.0
    purpose: str = "work"
    fields: dict[str, Any] = field(default_factory=dict)
    basis: dict[str, Tag] = field(default_factory=dict)
    minutes: float | None = None
    finish: Finish | None = None
    by_coach: bool = False

    def counts(self) -> tuple[int, ...]:
        """Give the counts the solver may choose from; 0 = the line is dropped."""
        chosen = tuple(range(self.fewest, self.most + 1))
        return (0, *chosen) if self.optional else chosen

    def minutes_for(self, count: int) -> float:
        """Give the line's minutes, up to the half minute, for a count."""
        if count == 0:
            return 0.0
        if self.minutes is not None:
            return self.minutes
        sets, reps = (
            (round(self.other.value), count) if self.counted == "reps" else (count, float(self.other.value))
        )
        timing = self.timing
        raw = line_minutes(
            sets=sets,
            reps=1 if timing.runs_on else reps,
            work_s=_value(timing.work),
            rest_reps_s=_value(timing.rest_reps),
            rest_s=_value(timing.rest),
            change_over_s=_value(timing.change_over),
            ramp_up_s=_value(timing.ramp_up),
            turns=_value(timing.turns) or 1,
        )
        return step_up(float(f"{raw:.6g}"), HALF_MINUTE)

    @property
    def sets_of_runs(self) -> int:
        """The sets that repetitions of a run are counted in: one, unless the coach has made more."""
        return round(self.other.value) if self.counted == "reps" else 1

    def amount_for(self, count: int) -> tuple[str, float]:
        """Give what a count adds to the week as a whole: metres run (run-ins too), or sets lifted."""
        if self.method in SPRINTS:
            run_in = self.sets_of_runs * float(self.fields.get("run_in_m") or 0.0)
            return "m", count * (self.per_unit + run_in)
        kinds = {"plyometric": "jumps", "hamstring_groin_calf": "support"}
        return kinds.get(self.method, "sets"), float(count)

    def units_for(self, count: int) -> float:
        """Give the line's part of the week's volume for a count."""
        return count * self.per_unit


def _value(tag: Tag | None) -> float:
    return 0.0 if tag is None else float(tag.value)
