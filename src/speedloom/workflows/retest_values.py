"""What a test day gave: one value a measure and athlete, with the trials behind it and how it was tested."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from speedloom.science.mechanics.jump import FLIGHT, HEIGHT, height_from_flight
from speedloom.science.mechanics.plausible import why_impossible
from speedloom.science.ranges import VMAX
from speedloom.science.statistics.best_of import best_shift, best_spread, mean_spread
from speedloom.science.strength.one_rep_max import REPETITIONS_TO_FAILURE, estimate_one_rep_max
from speedloom.training.measurement import Jump, Lift, Measurements, Trial
from speedloom.training.typical_error import MeasureKind
from speedloom.workflows.sprint_runs import TrialRule, why_refused

Setting = tuple[tuple[str, str], ...]
"""How it was tested, as pairs of field and word; only equal settings are compared (rule T2)."""
UNITS: dict[MeasureKind, str] = {
    "split_time": "s",
    "vmax": "m/s",
    "f0": "N/kg",
    "jump_height": "m",
    "reactive_strength": "m/s",
    "one_rep_max": "kg",
}
_ORDER = list(UNITS)


@dataclass(frozen=True)
class Measure:
    """One thing that is tested."""

    kind: MeasureKind
    distance_m: float | None = None
    exercise: str | None = None
    added_kg: float = 0.0

    @property
    def ref(self) -> str:
        """A readable name for files, such as `split_time/30m`."""
        more = {
            "split_time": f"/{self.distance_m or 0:g}m",
            "one_rep_max": f"/{self.exercise}",
            "jump_height": f"/+{self.added_kg:g}kg" if self.added_kg else "",
        }
        return f"{self.kind}{more.get(self.kind, '')}"

    @property
    def unit(self) -> str:
        """The unit of values, errors and changes."""
        return UNITS[self.kind]

    @property
    def sign(self) -> float:
        """1 where more is better, -1 for times."""
        return -1.0 if self.kind == "split_time" else 1.0

    @property
    def place(self) -> tuple[object, ...]:
        """Where it stands in a list: times by distance, speed, force, jumps, lifts."""
        return (_ORDER.index(self.kind), self.distance_m or 0.0, self.exercise or "", self.added_kg)


@dataclass(frozen=True)
class DayValue:
    """One athlete's trials of one measure on one day, tested in one way.

    `rule` is how the trials become one value. `fitted` is a value fitted to all trials together (top speed,
    start force); `trials` are then the fits of single trials. `formula_sd` is what the formula for a 1RM is
    unsure by, with `to_failure` repetitions.
    """

    athlete: str
    date: date
    measure: Measure
    setting: Setting
    trials: tuple[float, ...]
    rule: TrialRule
    fitted: float | None = None
    formula_sd: float = 0.0
    to_failure: float | None = None

    @property
    def value(self) -> float:
        """The best trial, the mean, or the fitted value."""
        if self.fitted is not None:
            return self.fitted
        if self.rule == "mean":
            return sum(self.trials) / len(self.trials)
        return max(self.trials) if self.measure.sign > 0 else min(self.trials)

    @property
    def spread(self) -> float:
        """The SD of the value, the best or the mean of so many, in typical errors of one trial [1]."""
        count = len(self.trials)
        return mean_spread(count) if self.rule == "mean" else best_spread(count)

    @property
    def head_start(self) -> float:
        """How far the best of so many trials lies on the good side of one, in typical errors [1]."""
        return 0.0 if self.rule == "mean" else best_shift(len(self.trials))


@dataclass(frozen=True)
class Refused:
    """A result that cannot be true: whose, when, which trial, and the id of why."""

    athlete: str
    date: date
    trial: int | None
    what: Literal["run", "jump", "lift"]
    why: str


def plain_values(
    measurements: Measurements, *, rule: TrialRule
) -> tuple[tuple[DayValue, ...], tuple[Refused, ...]]:
    """Give the values that need no fit: times at each distance, jumps and lifts; and what was refused."""
    found: dict[tuple[object, ...], list[tuple[int, float]]] = {}
    refused: list[Refused] = []
    _times(measurements.trials, found, refused)
    _jumps(measurements.jumps, found, refused)
    values = [
        DayValue(
            athlete=str(athlete), date=day, measure=measure, setting=setting, rule=rule,
            trials=tuple(value for _, value in sorted(trials)),
        )
        for (athlete, day, measure, setting), trials in found.items()
        if isinstance(day, date) and isinstance(measure, Measure) and isinstance(setting, tuple)
    ]  # fmt: skip
    values += _lifts(measurements.lifts, refused)
    return tuple(values), tuple(sorted(refused, key=lambda one: (one.athlete, one.date, one.trial or 0)))


def sprint_setting(trial: Trial) -> Setting:
    """Say how a run was timed, in all that must not change from one test to the other."""
    behind = trial.behind_m if trial.clock == "behind" else None
    reaction = trial.clock == "gun" and trial.reaction_s is not None
    return (
        ("timing", trial.timing),
        ("clock", "gun with reaction time" if reaction else trial.clock),
        ("behind_m", "" if behind is None else f"{behind:g} m"),
        ("start", trial.start),
        ("surface", trial.surface or ""),
    )


def usable_runs(trials: Iterable[Trial]) -> Iterator[Trial]:
    """Give the free runs that can be true, flying ones too."""
    return (trial for trial in trials if not trial.sled_kg and why_untrue(trial) is None)


def why_untrue(trial: Trial) -> str | None:
    """Give the id of why a run cannot be true; a flying run is judged by its speed."""
    why = why_refused(trial)
    if why != "flying_start":
        return why
    splits = sorted((split.distance_m, split.time_s) for split in trial.splits)
    far, took = [one for one, _ in splits], [one for _, one in splits]
    fastest = max((at / time for at, time in splits if time > 0), default=0.0)
    return why_impossible(far, took, moves_at_zero=False) or (
        "faster_than_anyone" if fastest > VMAX.high else None
    )


def _times(
    trials: Iterable[Trial], found: dict[tuple[object, ...], list[tuple[int, float]]], refused: list[Refused]
) -> None:
    for trial in trials:
        if trial.sled_kg:
            continue
        why = why_untrue(trial)
        if why is not None:
            refused.append(Refused(trial.athlete, trial.date, trial.trial, "run", why))
            continue
        early = (trial.reaction_s or 0.0) if trial.clock == "gun" else 0.0
        for split in trial.splits:
            measure = Measure("split_time", distance_m=split.distance_m)
            key = (trial.athlete, trial.date, measure, sprint_setting(trial))
            found.setdefault(key, []).append((trial.trial, split.time_s - early))


def _jumps(
    jumps: Iterable[Jump], found: dict[tuple[object, ...], list[tuple[int, float]]], refused: list[Refused]
) -> None:
    for jump in jumps:
        known = FLIGHT.contains(jump.flight_s) if jump.flight_s else HEIGHT.contains(jump.height_m or 0.0)
        if not known.all():
            refused.append(Refused(jump.athlete, jump.date, jump.trial, "jump", "impossible_jump"))
            continue
        height = float(height_from_flight(jump.flight_s)) if jump.flight_s else (jump.height_m or 0.0)
        setting = (
            ("height from", "flight time" if jump.flight_s else "height"),
            ("jump", "rebound" if jump.contact_s else "single"),
        )
        who = (jump.athlete, jump.date)
        tall = Measure("jump_height", added_kg=jump.added_kg)
        found.setdefault((*who, tall, setting), []).append((jump.trial, height))
        if jump.contact_s:
            strength = (jump.trial, height / jump.contact_s)
            found.setdefault((*who, Measure("reactive_strength"), setting), []).append(strength)


def _lifts(lifts: Iterable[Lift], refused: list[Refused]) -> Iterator[DayValue]:
    best: dict[tuple[str, date, str], tuple[float, float, float]] = {}
    for lift in lifts:
        who, to_failure = lift.athlete or "", float(lift.reps + lift.rir)
        if to_failure > REPETITIONS_TO_FAILURE.high:
            refused.append(Refused(who, lift.date, None, "lift", "too_many_repetitions"))
            continue
        estimate = estimate_one_rep_max(lift.load_kg, lift.reps, reps_in_reserve=lift.rir)
        found = (float(estimate.value), float(estimate.formula_sd), to_failure)
        key = (who, lift.date, lift.exercise)
        best[key] = max(best.get(key, found), found)
    for (who, day, exercise), (value, formula_sd, to_failure) in best.items():
        yield DayValue(
            athlete=who, date=day, measure=Measure("one_rep_max", exercise=exercise), setting=(), rule="mean",
            trials=(value,), formula_sd=formula_sd, to_failure=to_failure,
        )  # fmt: skip
