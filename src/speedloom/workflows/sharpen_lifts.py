"""Logged sets to a sharper 1RM: one set a day, weighed against the test, never from another bar."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from speedloom.planning.plates import nearest_loadable
from speedloom.science.constants import BAND_90_SD
from speedloom.science.statistics.pooling import Pooled, pool_correlated
from speedloom.science.strength.one_rep_max import REPETITIONS_TO_FAILURE, estimate_one_rep_max
from speedloom.science.strength.repetitions import CHART_ROW, share_of_one_rep_max
from speedloom.science.strength.tracking import (
    LiftSpreads,
    repetitions_to_failure,
    set_spread,
    tracking_covariance,
)
from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Exercise
from speedloom.training.measurement import Lift
from speedloom.training.programme import Node, Prescription, Session
from speedloom.training.rule import Rulebook
from speedloom.workflows.explain import Step
from speedloom.workflows.log_questions import questions
from speedloom.workflows.sharpen_printed import Figure, Moved
from speedloom.workflows.sharpen_proposal import News, Proposal, Scene
from speedloom.workflows.standing_log import StandingEntry

RULE = "one_rep_max_update"
ROUNDS = 3
BARS = frozenset({"barbell", "trap_bar"})


@dataclass(frozen=True)
class DaySet:
    """A set that a maximum is read from; the entry is None for a test."""

    date: date
    load_kg: float
    reps: int
    rir: int
    entry: str | None = None

    @property
    def to_failure(self) -> int:
        """Repetitions done and left."""
        return self.reps + self.rir

    @property
    def one_rep_max(self) -> float:
        """What the set says by itself [kg]."""
        return float(estimate_one_rep_max(self.load_kg, self.reps, reps_in_reserve=self.rir).value)


def lift_spreads(rulebook: Rulebook) -> LiftSpreads:
    """Read the spreads of rule one_rep_max_update."""

    def read(name: str) -> float:
        return rulebook.number(RULE, name)

    return LiftSpreads(
        day=read("day_spread"),
        relation_per_rep=read("relation_spread_per_rep"),
        reserve_reps=read("reserve_spread_reps"),
        reserve_far_reps=read("reserve_spread_far_reps"),
        near_reps=read("near_reps"),
        change_week=read("change_week"),
    )


def followed(sets: Sequence[DaySet], *, on: date, spreads: LiftSpreads) -> Pooled:
    """Pool tests and sets into ln 1RM [ln kg] on a day, with its standard error.

    A set weighs by the repetitions its load should allow, not by those it gave: else a lucky set, which
    looks lighter, would count for less than an unlucky one, and the maximum would come out too low.
    """
    loads, reps, rir = (np.array([getattr(one, name) for one in sets]) for name in ("load_kg", "reps", "rir"))
    ages = [(on - one.date).days for one in sets]
    values = np.log([one.one_rep_max for one in sets])
    single = (reps == 1) & (rir == 0)
    pooled = Pooled(float(np.median(values)), 0.0, np.ones(len(sets)))
    for _ in range(ROUNDS):
        expected = np.where(single, 1.0, repetitions_to_failure(loads, math.exp(pooled.value)))
        judged = set_spread(reps, np.maximum(expected - reps, 0.0), spreads=spreads)
        pooled = pool_correlated(values, tracking_covariance(judged, expected, ages, spreads=spreads))
    return pooled


def known_maximum(scene: Scene, athlete: Athlete, exercise: str) -> float | None:
    """Give the 1RM [kg] that planning reads from the brief now, or None."""
    own = [lift for lift in athlete.lifts if lift.exercise == exercise and lift.date <= scene.on]
    found = _standing(scene, own, _most(scene))
    return found.value if found else None


def lift_proposals(scene: Scene) -> Iterator[Proposal]:
    """Propose a 1RM for every athlete and lift whose loads in kilograms it would change."""
    for athlete in scene.brief.athletes:
        if scene.young(athlete) or athlete.level.get("maximal_strength", "novice") == "novice":
            # They lift by reps in reserve: a maximum would be a number nobody asked for (rule youth_load).
            continue
        for exercise in _lifted(scene, athlete):
            proposal = _proposal(scene, athlete, exercise)
            if proposal is not None:
                yield proposal


def _lifted(scene: Scene, athlete: Athlete) -> list[Exercise]:
    refs = sorted({one.entry.exercise or "" for one in scene.known(athlete.ref)})
    known = [found for ref in refs if (found := scene.catalogue.get(ref)) is not None]
    return [one for one in known if one.method == "maximal_strength" and one.load_kind in BARS]


def _proposal(scene: Scene, athlete: Athlete, exercise: Exercise) -> Proposal | None:
    own = [lift for lift in athlete.lifts if lift.exercise == exercise.ref and lift.date <= scene.on]
    most = _most(scene)
    tested = _tested([lift for lift in own if lift.se_kg is None and lift.reps + lift.rir <= most])
    before = _standing(scene, own, most)
    known = [tested.one_rep_max] if tested else []
    known += [before.value] if before else []
    logged = _logged(scene, athlete, exercise, known=known)
    logged = [one for one in logged if not tested or one.date > tested.date]
    if not logged:
        return None
    sets = [*([tested] if tested else []), *logged]
    pooled = followed(sets, on=scene.on, spreads=lift_spreads(scene.rulebook))
    after = _figure(pooled.value, pooled.se)
    moved = _moved_lines(scene, athlete, exercise, after)
    if not moved:
        return None
    return Proposal(
        id=f"{athlete.ref}/{exercise.ref}/one_rep_max",
        athlete=athlete.ref,
        kind="one_rep_max",
        what=exercise.ref,
        before=before,
        after=after,
        reason="logged_sets" if tested else "logged_sets_alone",
        values=_values(scene, moved, logged, pooled),
        steps=_steps(exercise.ref, sets, after),
        entries=tuple(one.entry or "" for one in logged),
        news=News(lift=_row(exercise.ref, after, pooled.se, scene.on)),
    )


def _values(
    scene: Scene, moved: Sequence[Moved], logged: Sequence[DaySet], pooled: Pooled
) -> dict[str, object]:
    first = moved[0]
    days = {line.ref: one.date for _, one in scene.programme.sessions() for line in one.prescriptions}
    return {
        "sets": len(logged),
        "weight": float(pooled.weights[-len(logged) :].sum()),
        "lines": len({one.line.ref for one in moved}),
        "line": first.line.ref,
        "date": days[first.line.ref].isoformat(),
        "load_before_kg": first.line.load_kg,
        "load_after_kg": first.after,
        "moved_kg": {one.line.ref: one.after for one in moved},
    }


def _row(exercise: str, after: Figure, se: float, on: date) -> Lift:
    # A maximum is stored as the single it stands for; its error says that nobody has lifted it.
    return Lift(date=on, exercise=exercise, load_kg=after.value, reps=1, rir=0, se_kg=se * after.value)


def _most(scene: Scene) -> float:
    return min(scene.number("one_rep_max_repetitions", "reps"), REPETITIONS_TO_FAILURE.high)


def _tested(lifts: Sequence[Lift]) -> DaySet | None:
    """Give the newest day's best set, as planning does."""
    sets = [DaySet(one.date, one.load_kg, one.reps, one.rir) for one in lifts]
    return max(sets, key=lambda one: (one.date, one.one_rep_max), default=None)


def _standing(scene: Scene, lifts: Sequence[Lift], most: float) -> Figure | None:
    """Give the maximum that planning reads from the brief now, accepted or tested."""
    usable = [lift for lift in lifts if lift.reps + lift.rir <= most]
    sets = [(DaySet(lift.date, lift.load_kg, lift.reps, lift.rir), lift.se_kg) for lift in usable]
    if not sets:
        return None
    newest, error = max(sets, key=lambda one: (one[0].date, one[0].one_rep_max))
    alone = followed([newest], on=scene.on, spreads=lift_spreads(scene.rulebook))
    se = alone.se if error is None else error / newest.load_kg
    return _figure(alone.value, se)


def _logged(scene: Scene, athlete: Athlete, exercise: Exercise, *, known: Sequence[float]) -> list[DaySet]:
    """Give one set a day: the first at the day's heaviest load, before tiredness and not by luck.

    Where no maximum is known that a set could be held against, a load that is asked about says nothing.
    """
    asked = () if known else questions(scene.log, rulebook=scene.rulebook)
    slips = {id(one.result) for one in asked if one.field == "load_kg"}
    days: dict[date, list[DaySet]] = {}
    for one in scene.known(athlete.ref):
        if one.entry.exercise == exercise.ref and one.entry.reason not in {"pain", "illness"}:
            days.setdefault(one.entry.date, []).extend(
                found for found in _readable(scene, one, slips=slips) if _believable(scene, found, known)
            )
    first = (max(sets, key=lambda one: one.load_kg) for sets in days.values() if sets)
    return sorted(first, key=lambda one: one.date)


def _readable(scene: Scene, one: StandingEntry, *, slips: Container[int]) -> Iterator[DaySet]:
    for result in sorted(scene.log.usable_results(one), key=lambda result: (result.set, result.rep or 0)):
        if not result.load_kg or not result.reps or result.rir is None or result.time_s is not None:
            continue
        if result.reps + result.rir <= _most(scene) and id(result) not in slips:
            yield DaySet(one.entry.date, result.load_kg, result.reps, result.rir, one.entry.id)


def _believable(scene: Scene, one: DaySet, known: Sequence[float]) -> bool:
    """Say whether a set is near enough to any maximum known [kg]."""
    limit = math.log1p(scene.number(RULE, "usable_share"))
    return not known or any(abs(math.log(one.one_rep_max / value)) <= limit for value in known)


def _figure(log_kg: float, se: float) -> Figure:
    low, value, high = (math.exp(log_kg + step * se) for step in (-BAND_90_SD, 0.0, BAND_90_SD))
    return Figure(round(value, 1), round(low, 1), round(high, 1), "kg")


def _moved_lines(scene: Scene, athlete: Athlete, exercise: Exercise, after: Figure) -> list[Moved]:
    """Give the lines ahead whose printed load the maximum changes by a plate or more, with the new load."""
    ahead = [(session, line) for _, session, line in scene.ahead(athlete.ref)]
    moved = scene.printed.moved([line for _, line in ahead], f"1RM {exercise.ref}", after)
    return [*moved, *_loaded_lines(scene, exercise, ahead, after.value)]


def _loaded_lines(
    scene: Scene, exercise: Exercise, ahead: Sequence[tuple[Session, Prescription]], one_rep_max: float
) -> Iterator[Moved]:
    """Give the lines ahead that would have kilograms at last, about so many."""
    for session, line in ahead:
        bare = line.exercise == exercise.ref and line.load_kg is None and line.rir is not None
        bars = (
            kit for kit in scene.brief.kit if kit.kind == exercise.load_kind and kit.place == session.place
        )
        bar = next(bars, None) if bare else None
        if bar is not None:
            row = min(line.reps + (line.rir or 0), CHART_ROW.high)
            share = float(share_of_one_rep_max(row))
            yield Moved(line, "load_kg", 0.0, nearest_loadable(one_rep_max * share, kit=bar))


def _steps(exercise: str, sets: Sequence[DaySet], after: Figure) -> tuple[Step, ...]:
    steps = []
    for number, one in enumerate(sets, start=1):
        inputs = {name: f"literal:{getattr(one, name):g}" for name in ("load_kg", "reps", "rir")}
        if one.entry is not None:
            inputs["entry"] = f"log:{one.entry}"
        node = Node(
            quantity=f"1RM {exercise}",
            value=one.one_rep_max,
            unit="kg",
            by="one_rep_max.estimate",
            inputs=inputs,
            source="nsca_formulas",
            mark="read",
            reason=f"{'tested' if one.entry is None else 'logged'} {one.date}",
        )
        steps.append(Step(f"s{number}", node))
    final = Node(
        quantity=f"1RM {exercise}",
        value=after.value,
        unit="kg",
        low=after.low,
        high=after.high,
        by=RULE,
        inputs={f"set_{number}": f"s{number}" for number in range(1, len(sets) + 1)},
        source="aitken_1935",
        mark="memory",
    )
    return (*steps, Step(f"s{len(sets) + 1}", final))
