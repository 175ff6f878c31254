"""What pays: how much a target gains from more start force and from more top speed.

Exact derivatives of the closed-form motion; body mass is never a lever.
"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from speedloom.errors import OutOfRangeError
from speedloom.science import ranges
from speedloom.science.mechanics import sprint
from speedloom.science.mechanics._motion import Motion
from speedloom.science.mechanics.sprint import FLAT, Course, Runner
from speedloom.science.ranges import FloatArray


class Sensitivity(NamedTuple):
    """Derivatives of a target by ln F0 and by ln v0, in the target's unit, arrays of one shape."""

    start_force: FloatArray
    top_speed: FloatArray


class LeadingShare(NamedTuple):
    """Share of draws in which start force leads, and the two gains at the estimate (target's unit), (n,)."""

    share: FloatArray
    start_force_gain: FloatArray
    top_speed_gain: FloatArray


def _run(runner: Runner, course: Course) -> tuple[Motion, list[tuple[FloatArray, FloatArray]]]:
    """Return the motion and the derivatives of (B, A) by ln F0 and by ln v0."""
    run, slope = sprint.motion(runner, course), sprint.forces(runner, course).slope
    push = -slope * np.asarray(runner.v0_mps)
    return run, [(slope, push), (-slope, np.zeros_like(push))]


def time_sensitivity(runner: Runner, distance_m: ArrayLike, *, course: Course = FLAT) -> Sensitivity:
    """Return d t/d ln F0 and d t/d ln v0 (s) of the time from the first movement to a distance (m).

    >>> pays = time_sensitivity(Runner(8.0, 9.5, 75.0, 0.28), 30.0)
    >>> bool(pays.top_speed < pays.start_force < 0.0)
    True
    """
    distance = ranges.DISTANCE.check(distance_m)
    run, parameters = _run(runner, course)
    time = run.time_to_distance(distance)
    speed = run.state(time).speed
    moving = speed > 0.0
    safe = np.where(moving, speed, 1.0)
    changes = [run.sensitivity(time, *parameter).distance for parameter in parameters]
    return Sensitivity(*(np.where(moving, -change / safe, 0.0) for change in changes))


def speed_sensitivity(runner: Runner, distance_m: ArrayLike, *, course: Course = FLAT) -> Sensitivity:
    """Return the derivatives (m/s) of the speed at a distance (m) by ln F0 and ln v0.

    >>> float(speed_sensitivity(Runner(8.0, 9.5, 75.0, 0.28), 30.0).top_speed)
    7.328
    """
    run, parameters = _run(runner, course)
    time = run.time_to_distance(ranges.DISTANCE.check(distance_m))
    _, speed, acceleration = run.state(time)
    changes = [run.sensitivity(time, *parameter) for parameter in parameters]
    moving = speed > 0.0
    rate = np.where(moving, acceleration / np.where(moving, speed, 1.0), 0.0)
    return Sensitivity(*(change.speed - rate * change.distance for change in changes))


def flying_speed(
    runner: Runner, run_in_m: ArrayLike, zone_m: ArrayLike, *, course: Course = FLAT
) -> FloatArray:
    """Return the mean speed (m/s) through a zone (m) after a run-in (m).

    >>> float(flying_speed(Runner(8.0, 9.5, 75.0, 0.28), 20.0, 10.0))
    8.824
    """
    run_in, zone = ranges.DISTANCE.check(run_in_m), ranges.GATE_DISTANCE.check(zone_m)
    run = sprint.motion(runner, course)
    return np.asarray(zone / (run.time_to_distance(run_in + zone) - run.time_to_distance(run_in)))


def flying_speed_sensitivity(
    runner: Runner, run_in_m: ArrayLike, zone_m: ArrayLike, *, course: Course = FLAT
) -> Sensitivity:
    """Return the derivatives (m/s) of the mean speed through a zone (m) after a run-in (m).

    >>> float(flying_speed_sensitivity(Runner(8.0, 9.5, 75.0, 0.28), 20.0, 10.0).start_force)
    1.016
    """
    run_in, zone = ranges.DISTANCE.check(run_in_m), ranges.GATE_DISTANCE.check(zone_m)
    before = time_sensitivity(runner, run_in, course=course)
    after = time_sensitivity(runner, run_in + zone, course=course)
    factor = flying_speed(runner, run_in, zone, course=course) ** 2 / zone
    return Sensitivity(*(-factor * (late - early) for early, late in zip(before, after, strict=True)))


def leading_share(
    f0_change: ArrayLike,
    v0_change: ArrayLike,
    sensitivities: Callable[[Runner], Sensitivity],
    covariance: ArrayLike,
    *,
    runner: Runner,
    seed: int,
    draws: int = 4000,
) -> LeadingShare:
    """Return how often (share) a change of start force gains more than a change of top speed.

    The profile is drawn from its uncertainty, and each draw is asked which of the two changes, each one an
    athlete could make in a block, moves the target more.

    Args:
        f0_change: reachable change of F0 as a share of it, (n,) or a number.
        v0_change: reachable change of v0 as a share of it, (n,) or a number.
        sensitivities: the target, such as ``partial(time_sensitivity, distance_m=30.0)``; it is called with
            runners of shape (draws, n).
        covariance: covariance of (ln F0, ln v0), (2, 2) or (n, 2, 2).
        runner: the n athletes.
        seed: of the draws; the same seed gives the same share.
        draws: how many.

    Raises:
        OutOfRangeError: fewer than 1 draw or a covariance of another shape.

    >>> from functools import partial
    >>> target = partial(time_sensitivity, distance_m=15.0)
    >>> athlete, spread = Runner(8.0, 9.5, 75.0, 0.28), [[9e-4, 0.0], [0.0, 1e-4]]
    >>> pays = leading_share(0.03, 0.03, target, spread, runner=athlete, seed=1)
    >>> float(pays.share[0])
    0.12
    """
    spread = np.asarray(covariance, dtype=np.float64)
    if draws < 1 or spread.shape[-2:] != (2, 2):
        raise OutOfRangeError(
            f"Expected 1 draw or more and a covariance (…, 2, 2), got {draws} and {spread.shape}"
        )
    f0, v0, mass, drag = (
        np.atleast_1d(np.asarray(part, dtype=np.float64))
        for part in (runner.f0_npkg, runner.v0_mps, runner.mass_kg, runner.drag_kgpm)
    )
    # One stream for all athletes: an athlete's share does not depend on who else is asked.
    normal = np.random.Generator(np.random.PCG64(seed)).standard_normal((draws, 1, 2))
    # The tiny diagonal lets a profile be known exactly; a draw beyond any athlete is the outermost one.
    away = (np.linalg.cholesky(spread + 1e-18 * np.eye(2)) * normal[:, :, None, :]).sum(axis=-1)
    force_drawn = np.clip(f0 * np.exp(away[..., 0]), ranges.START_FORCE.low, ranges.START_FORCE.high)
    speed_drawn = np.clip(v0 * np.exp(away[..., 1]), ranges.TOP_SPEED_V0.low, ranges.TOP_SPEED_V0.high)
    drawn = Runner(force_drawn, speed_drawn, mass, drag)
    force, speed = _gains(sensitivities(drawn), f0_change, v0_change)
    here = _gains(sensitivities(Runner(f0, v0, mass, drag)), f0_change, v0_change)
    return LeadingShare((force > speed).mean(axis=0), *here)


def _gains(pays: Sensitivity, f0_change: ArrayLike, v0_change: ArrayLike) -> tuple[FloatArray, FloatArray]:
    return (
        np.abs(pays.start_force * np.log1p(f0_change)),
        np.abs(pays.top_speed * np.log1p(v0_change)),
    )
