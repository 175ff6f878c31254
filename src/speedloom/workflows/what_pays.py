"""What a block could be worth: start force against top speed, with the profile's uncertainty in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

import numpy as np

from speedloom.science.mechanics.payoff import flying_speed_sensitivity, leading_share, time_sensitivity
from speedloom.science.mechanics.sprint import Runner
from speedloom.science.ranges import FloatArray
from speedloom.training.brief import Goal
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_fit import FittedProfile

GENERAL_DISTANCE_M = 30.0
SEED = 0


@dataclass(frozen=True)
class Payoff:
    """What two changes would do to one athlete's target, from the model; no promise.

    Attributes:
        athlete: reference.
        distance_m: run or run-in the target is about [m].
        zone_m: the zone of a flying speed [m], None for a time.
        start_force_change: change of F0 that is looked at [share].
        top_speed_change: change of v0 that is looked at [share].
        start_force_gain: what it gains on the target, above 0 = faster [s, or m/s].
        top_speed_gain: the same for v0.
        start_force_leads: share of draws of the profile in which start force gains more [0..1].
    """

    athlete: str
    distance_m: float
    zone_m: float | None
    start_force_change: float
    top_speed_change: float
    start_force_gain: float
    top_speed_gain: float
    start_force_leads: float

    @property
    def unit(self) -> str:
        """Unit of the gains."""
        return "s" if self.zone_m is None else "m/s"


def what_pays(profiles: tuple[FittedProfile, ...], *, goal: Goal, rulebook: Rulebook) -> tuple[Payoff, ...]:
    """Compare the two changes for each profile; body mass is never one of them.

    Args:
        profiles: fitted profiles, one an athlete.
        goal: the coach's target; a general goal is read as a 30 m time.
        rulebook: holds the changes that a block could make (`what_pays`).
    """
    if not profiles:
        return ()
    distance = goal.distance_m or GENERAL_DISTANCE_M
    zone = rulebook.number("what_pays", "flying_zone_m") if goal.kind == "flying_speed" else None
    target = (
        partial(time_sensitivity, distance_m=distance)
        if zone is None
        else partial(flying_speed_sensitivity, run_in_m=distance, zone_m=zone)
    )
    changes = (rulebook.number("what_pays", "start_force"), rulebook.number("what_pays", "top_speed"))
    found = leading_share(
        *changes,
        target,
        np.stack([log_covariance(profile) for profile in profiles]),
        runner=runners(profiles),
        seed=SEED,
    )
    return tuple(
        Payoff(profile.athlete, distance, zone, *changes, float(force), float(speed), float(share))
        for profile, force, speed, share in zip(
            profiles, found.start_force_gain, found.top_speed_gain, found.share, strict=True
        )
    )


def runners(profiles: Iterable[FittedProfile]) -> Runner:
    """Give fitted profiles as the runners of the equations, arrays (n,)."""
    columns = [
        (profile.f0_npkg.value, profile.v0_mps.value, profile.mass_kg, profile.drag_kgpm)
        for profile in profiles
    ]
    return Runner(*np.array(columns).T)


def log_covariance(profile: FittedProfile) -> FloatArray:
    """Give the covariance of (ln F0, ln v0), no unit, (2, 2)."""
    force = profile.f0_npkg.sd / profile.f0_npkg.value
    speed = profile.v0_mps.sd / profile.v0_mps.value
    shared = profile.correlation * force * speed
    return np.array([[force**2, shared], [shared, speed**2]])
