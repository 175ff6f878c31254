"""Timed sled runs in training to a sharper friction of that sled on that floor, over all who ran."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import block_diag

from speedloom.errors import CannotStartError
from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.sprint import Course, Runner
from speedloom.science.mechanics.updating import clock_times
from speedloom.science.ranges import FloatArray
from speedloom.science.statistics.pooling import Pooled, pool_correlated
from speedloom.training.athlete import Athlete
from speedloom.training.kit import Friction, Kit
from speedloom.training.programme import Node
from speedloom.workflows.explain import Step
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sharpen_form import (
    Form,
    Standing,
    TimedRun,
    aged,
    form_of,
    hidden,
    profiles_of,
    runs_of,
    standing,
    trials_of,
)
from speedloom.workflows.sharpen_printed import Figure, Moved
from speedloom.workflows.sharpen_proposal import News, Proposal, Scene

RULE = "training_runs"
ROUNDS = 3
LEAST = 0.05
_STEP = 0.005


@dataclass(frozen=True)
class Towing:
    """One athlete's runs with a sled, beside the free profile they are held against."""

    athlete: str
    standing: Standing
    runs: tuple[TimedRun, ...]


def sled_proposals(scene: Scene) -> Iterator[Proposal]:
    """Propose the friction of every sled whose runs were timed like a free profile on the same floor."""
    profiles = profiles_of(scene)
    for kit in scene.brief.kit:
        if kit.kind != "sled" or (kit.friction and kit.friction.value is not None and not kit.friction.se):
            continue
        prior = _prior(scene, kit)
        found = (_towing(scene, kit, athlete, profiles, prior) for athlete in scene.brief.athletes)
        towing = tuple(one for one in found if one is not None)
        if towing:
            yield from _proposed(scene, kit, prior, towing)


def _proposed(scene: Scene, kit: Kit, prior: Figure, towing: Sequence[Towing]) -> Iterator[Proposal]:
    pooled = pooled_friction(towing, prior=prior, form=form_of(scene))
    after = _figure(pooled.value, pooled.se)
    moved = _moved(scene, kit, after)
    if not moved or pooled.value <= 0.0:
        return
    athletes = [one.athlete for one in towing]
    entries = dict.fromkeys(entry for one in towing for run in one.runs for entry in run.entries)
    now = kit.friction
    before = prior
    if now is not None and now.value is not None and now.se is not None:
        before = _figure(now.value, now.se)
    yield Proposal(
        id=f"{kit.ref}/friction",
        athlete=athletes[0] if len(athletes) == 1 else None,
        kind="friction",
        what=kit.ref,
        before=before,
        after=after,
        reason="sled_runs",
        values={
            "runs": sum(len(one.runs) for one in towing),
            "athletes": athletes,
            "surface": towing[0].standing.profile.surface,
            "weight": 1.0 - float(pooled.weights[0]),
            "lines": len({one.line.ref for one in moved}),
        },
        steps=_steps(prior, towing, after),
        entries=tuple(entries),
        news=News(kit=kit.ref, friction=_friction(prior, pooled)),
    )


def _friction(prior: Figure, pooled: Pooled) -> Friction:
    # The range before any run stays beside the value: the next update starts from it, with all runs again.
    low, high = max(0.01, prior.low or 0.0), min(1.5, prior.high or 1.5)
    return Friction(value=round(pooled.value, 4), se=round(max(pooled.se, 1e-4), 4), low=low, high=high)


def _prior(scene: Scene, kit: Kit) -> Figure:
    """Give what was known before any run in training: a range, or runs timed for a test."""
    known = kit.friction
    if known is not None and known.low is not None and known.high is not None:
        low, high = known.low, known.high
    elif known is not None and known.value is not None:
        spread = BAND_90_SD * (known.se or 0.0)
        low, high = known.value - spread, known.value + spread
    else:
        low, high = (scene.number("sled_dose", f"friction_{end}") for end in ("low", "high"))
    return Figure((low + high) / 2, low, high, "1")


def _figure(value: float, se: float) -> Figure:
    return Figure(round(value, 4), round(value - BAND_90_SD * se, 4), round(value + BAND_90_SD * se, 4), "1")


def _moved(scene: Scene, kit: Kit, after: Figure) -> list[Moved]:
    lines = [
        line
        for athlete in scene.brief.athletes
        for _, _, line in scene.ahead(athlete.ref)
        if line.kit == kit.ref
    ]
    return scene.printed.moved(lines, "friction", after)


def _towing(
    scene: Scene, kit: Kit, athlete: Athlete, profiles: Sequence[FittedProfile], prior: Figure
) -> Towing | None:
    surface = next((place.surface for place in scene.brief.places if place.ref == kit.place), None)
    alike = [one for one in profiles if one.athlete == athlete.ref and one.surface == surface]
    profile = max(alike, key=lambda one: (one.date, one.gates), default=None)
    if surface is None or profile is None or hidden(scene, profile):
        return None
    beside = standing(profile, trials_of(scene, profile), rule=scene.brief.trial, form=form_of(scene))
    runs = tuple(
        run
        for one, run in runs_of(scene, athlete, profile)
        if run.load_kg
        and _of_kit(scene, kit, one.line.kit if one.line else None, one.entry.exercise, surface)
        if _believable(scene, run, beside, prior)
    )
    return Towing(athlete.ref, aged(beside, runs, form=form_of(scene)), runs) if runs else None


def _of_kit(scene: Scene, kit: Kit, named: str | None, exercise: str | None, surface: str) -> bool:
    """Say whether a run was with this sled; one whose line is gone only where the floor has one sled."""
    known = scene.catalogue.get(exercise or "")
    if known is None or known.load_kind != "sled":
        return False
    if named is not None:
        return named == kit.ref
    floors = {place.ref: place.surface for place in scene.brief.places}
    return [
        one.ref for one in scene.brief.kit if one.kind == "sled" and floors.get(one.place) == surface
    ] == [kit.ref]


def _believable(scene: Scene, run: TimedRun, beside: Standing, prior: Figure) -> bool:
    """Say whether a time can be a sled run at all, with the friction known before."""
    one = Towing("", beside, (run,))
    slack = 1.0 + scene.number(RULE, "usable_share")
    try:
        low, high = (
            float(_expected(one, beside.runner, end)[0])
            for end in (prior.low or 0.0, (prior.high or 0.0) * slack)
        )
    except CannotStartError:
        # The model has this athlete at a standstill with such a load: the run says nothing it could use.
        return False
    return low / slack <= run.times_s[-1] <= high * slack


def pooled_friction(towing: Sequence[Towing], *, prior: Figure, form: Form) -> Pooled:
    """Pool what was known and every run's own friction, with all the errors that runs share.

    Runs of one athlete share the free profile's error, runs of one day that day's form.
    """
    width = ((prior.high or prior.value) - (prior.low or prior.value)) / 2.0 / BAND_90_SD
    pooled = Pooled(prior.value, width, np.ones(1))
    for _ in range(ROUNDS):
        # All runs are read at one friction: a run's own would weigh lucky runs otherwise than unlucky ones.
        near = max(LEAST, pooled.value)
        values, blocks = zip(*(_runs_of_one(one, near, form) for one in towing), strict=True)
        covariance = block_diag([[width**2]], *blocks)
        pooled = pool_correlated(np.concatenate([[prior.value], *values]), covariance)
    return pooled


def _runs_of_one(towing: Towing, friction: float, form: Form) -> tuple[FloatArray, FloatArray]:
    """Give the friction of each run (n,), read near a friction, and the covariance of their errors (n, n)."""
    runner, runs = towing.standing.runner, towing.runs
    shown = np.array([run.times_s[-1] for run in runs])
    expected = _expected(towing, runner, friction)
    slope = (_expected(towing, runner, friction + _STEP) - _expected(towing, runner, friction - _STEP)) / (
        2 * _STEP
    )
    by_time = expected / slope
    by_profile = np.stack([_by_profile(towing, friction, name) for name in ("f0_npkg", "v0_mps")], axis=1)
    by_profile = by_profile / slope[:, None]
    days = np.array([run.date.toordinal() for run in runs])
    timing = towing.standing.profile.around.timing_sd_s / slope
    own = np.diag(timing**2 + (by_time * form.repetition) ** 2)
    same_day = np.outer(by_time, by_time) * form.day**2 * (days[:, None] == days)
    shared = by_profile @ towing.standing.covariance @ by_profile.T
    return friction + (shown - expected) / slope, own + same_day + shared


def _by_profile(towing: Towing, friction: float, name: str) -> FloatArray:
    """Give the change of each run's time [s] by the logarithm of a profile's number (n,)."""
    runner = towing.standing.runner
    there = float(np.asarray(getattr(runner, name)))
    ends = [
        _expected(towing, replace(runner, **{name: there * math.exp(step)}), friction)
        for step in (_STEP, -_STEP)
    ]
    return np.asarray((ends[0] - ends[1]) / (2 * _STEP))


def _expected(towing: Towing, runner: Runner, friction: float) -> FloatArray:
    """Give the times a clock would show for the runs [s], (n,)."""
    course = Course(load_kg=np.array([run.load_kg for run in towing.runs]), friction=friction)
    distances = np.array([run.distances_m[-1] for run in towing.runs])
    return clock_times(runner, distances, behind_m=towing.standing.profile.behind_m or 0.0, course=course)


def _steps(prior: Figure, towing: Sequence[Towing], after: Figure) -> tuple[Step, ...]:
    first = Node(
        quantity="friction",
        value=prior.value,
        unit="1",
        low=prior.low,
        high=prior.high,
        by="friction.middle",
        inputs={"low": f"literal:{prior.low:g}", "high": f"literal:{prior.high:g}"},
        source="linthorne_2013",
        mark="read",
    )
    steps = [Step("s1", first)]
    for number, one in enumerate(towing, start=2):
        inputs = {"trials": f"test:{one.standing.profile.ref}"}
        inputs |= {f"run_{n}": f"literal:{run.times_s[-1]:g}" for n, run in enumerate(one.runs, start=1)}
        node = Node(
            quantity="friction", value=None, unit="1", by=RULE, inputs=inputs, mark="computed",
            reason=f"{len(one.runs)} runs of {one.athlete}",
        )  # fmt: skip
        steps.append(Step(f"s{number}", node))
    inputs = {f"part_{number}": step.id for number, step in enumerate(steps, start=1)}
    last = Node(
        quantity="friction",
        value=after.value,
        unit="1",
        low=after.low,
        high=after.high,
        by=RULE,
        inputs=inputs,
        source="aitken_1935",
        mark="memory",
    )
    return (*steps, Step(f"s{len(steps) + 1}", last))
