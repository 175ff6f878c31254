"""Athletes whose truth is known, for tests and benchmarks: what they run and lift on a given day.

Written from the equations of docs/science and apart from the planner: only `science.mechanics` gives times.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from hashlib import sha256

import numpy as np

from speedloom.science.mechanics.sprint import FLAT, Course, Runner, time_to_distance
from speedloom.training.programme import Node, Prescription, Programme

TIMING_S = {"gates": 0.01, "hand": 0.08, "radar": 0.03, "laser": 0.02, "video": 0.02, "encoder": 0.02}
"""Noise of one time (SD, s) by method; made up for tests, near what docs/science says."""


@dataclass(frozen=True)
class Spread:
    """How much a true athlete varies; all standard deviations, shares unless the name has a unit."""

    day: float = 0.006
    repetition: float = 0.006
    timing_s: Mapping[str, float] = field(default_factory=lambda: TIMING_S)
    lift_day: float = 0.02
    reserve_reps: float = 0.7
    effort: float = 0.7
    minutes: float = 0.06


EXACT = Spread(0.0, 0.0, dict.fromkeys(TIMING_S, 0.0), 0.0, 0.0, 0.0, 0.0)
"""Nothing varies and nothing is misread."""


@dataclass(frozen=True)
class Person:
    """The truth about one athlete on the programme's first day, and what each week adds (shares).

    `endurance` stretches repetitions at a share of 1RM s: 1 + 36·endurance·(1 − s), Brzycki's line at 1.
    """

    f0_npkg: float
    v0_mps: float
    mass_kg: float = 65.0
    drag_kgpm: float = 0.25
    offset_s: float = 0.0
    lifts: Mapping[str, float] = field(default_factory=dict)
    f0_a_week: float = 0.0
    v0_a_week: float = 0.0
    lifts_a_week: float = 0.0
    endurance: float = 1.0

    def on(self, weeks: float) -> Person:
        """Give the athlete as they truly are some weeks later."""
        grown = {name: kg * (1 + self.lifts_a_week) ** weeks for name, kg in self.lifts.items()}
        f0 = self.f0_npkg * (1 + self.f0_a_week) ** weeks
        return replace(self, f0_npkg=f0, v0_mps=self.v0_mps * (1 + self.v0_a_week) ** weeks, lifts=grown)

    def runner(self, faster: float = 1.0) -> Runner:
        """Give the athlete as a force–speed line, on a day on which all speeds are `faster` times as high."""
        # Force with the square, so that time at every distance shrinks by the same share without air.
        return Runner(self.f0_npkg * faster**2, self.v0_mps * faster, self.mass_kg, self.drag_kgpm)

    def repetitions(self, exercise: str, load_kg: float, *, stronger: float = 1.0) -> float | None:
        """Give the repetitions to failure, broken ones too; None for a lift whose truth nobody set."""
        if exercise not in self.lifts or load_kg <= 0:
            return None
        return 1.0 + 36.0 * self.endurance * (1.0 - load_kg / (self.lifts[exercise] * stronger))


@dataclass(frozen=True)
class Truth:
    """Everybody's truth, the sleds' friction by ref of the kit, and how much things vary."""

    people: Mapping[str, Person]
    friction: Mapping[str, float] = field(default_factory=dict)
    spread: Spread = field(default_factory=Spread)


def true_time(
    person: Person, line: Prescription, clock: str, *, friction: float, faster: float = 1.0
) -> float:
    """Give the time a clock without noise would show for one repetition of a line (s).

    `clock` is spelt as `expect.clock`: `gates/movement`, `gates/behind/0.5`, `gates/unknown`, `gates/flying`.
    """
    runner = person.runner(faster)
    course = Course(load_kg=line.load_kg or 0.0, friction=friction) if line.load_kg else FLAT
    _, kind, *behind = clock.split("/")
    before = line.run_in_m or (float(behind[0]) if behind else 0.0)
    late = person.offset_s if kind in {"unknown", "gun"} and not line.run_in_m else 0.0
    ends = time_to_distance(runner, np.array([before, before + (line.distance_m or 0.0)]), course=course)
    return float(ends[1] - ends[0]) / (line.effort or 1.0) + late


def drawer(*key: object) -> np.random.Generator:
    """Make a source of random numbers from what they are for, so that no draw depends on another."""
    return np.random.default_rng(int.from_bytes(sha256("/".join(map(str, key)).encode()).digest()[:8], "big"))


def weeks_since(programme: Programme, day: date) -> float:
    """Give the weeks from a programme's first Monday to a day."""
    first = min(week.monday for own in programme.programmes for week in own.weeks)
    return (day - first).days / 7


def estimated(programme: Programme) -> Truth:
    """Make the truth what the programme believes: its profiles, 1RMs and friction."""
    return Truth(dict(_people(programme)), dict(_sleds(programme)))


def astray(truth: Truth, *, seed: int, share: float = 0.03) -> Truth:
    """Move every true number away from what is believed, by a share (SD) drawn from a seed."""

    def moved(value: float, *key: object) -> float:
        return value * float(np.exp(share * drawer("astray", seed, *key).standard_normal()))

    people = {
        ref: replace(
            one,
            f0_npkg=moved(one.f0_npkg, ref, "f0"),
            v0_mps=moved(one.v0_mps, ref, "v0"),
            lifts={name: moved(kg, ref, name) for name, kg in one.lifts.items()},
        )
        for ref, one in truth.people.items()
    }
    return replace(truth, people=people, friction={kit: moved(mu, kit) for kit, mu in truth.friction.items()})


def _people(programme: Programme) -> Iterator[tuple[str, Person]]:
    brief, basis = programme.brief.content, programme.basis
    fits = {
        (node.inputs["trials"].removeprefix("test:").partition("/")[0], node.quantity): node
        for node in basis.values()
        if node.by == "profile.fit"
    }
    for athlete in brief.athletes if brief else ():
        f0, v0 = fits.get((athlete.ref, "f0")), fits.get((athlete.ref, "v0"))
        if f0 is None or v0 is None:
            continue
        mass, drag = (basis[f0.inputs[name]] for name in ("mass_kg", "drag_kgpm"))
        offset = fits.get((athlete.ref, "offset"))
        lifts = {
            node.quantity.removeprefix("1RM "): _number(node)
            for node in basis.values()
            if node.by == "one_rep_max.estimate" and f".{athlete.ref}." in node.inputs.get("load_kg", "")
        }
        values = (_number(f0), _number(v0), _number(mass), _number(drag), _number(offset) if offset else 0.0)
        yield athlete.ref, Person(*values, lifts=lifts)


def _sleds(programme: Programme) -> Iterator[tuple[str, float]]:
    for kit in programme.brief.content.kit if programme.brief.content else ():
        if kit.friction is not None:
            ends = (kit.friction.low or 0.0, kit.friction.high or 0.0)
            yield kit.ref, kit.friction.value or sum(ends) / 2


def _number(node: Node) -> float:
    return float(node.value or 0.0)
