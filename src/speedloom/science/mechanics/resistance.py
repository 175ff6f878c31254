"""Sled, hill and what they cost: two decrements, loads for them, friction from a timed sled run.

The *steady* decrement compares top speeds, the decrement *at a distance* compares the speeds at one distance;
loads are prescribed by the second. Friction belongs to one sled on one surface.
"""

from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science import ranges
from speedloom.science.mechanics import sprint
from speedloom.science.mechanics._damped import NormalPrior, fit_damped
from speedloom.science.mechanics._roots import bracketed_root
from speedloom.science.mechanics._towed_times import TowedTimes
from speedloom.science.mechanics.sprint import FLAT, Course, Runner
from speedloom.science.ranges import FloatArray

# A load or slope this close below the one at which nothing moves any more still starts, very slowly.
_ALMOST = 1.0 - 1e-9


class FrictionFit(NamedTuple):
    """Friction (no unit), its standard error, and whether it lies inside what physics allows, arrays (n,)."""

    value: FloatArray
    se: FloatArray
    inside: NDArray[np.bool_]


def steady_decrement(
    runner: Runner, *, load_kg: ArrayLike, friction: ArrayLike, course: Course = FLAT
) -> FloatArray:
    """Return the loss of top speed by a towed load (kg), as a share of the free top speed on the course.

    >>> boy = Runner(8.0, 9.5, 80.0, 0.29)
    >>> round(float(steady_decrement(boy, load_kg=32.0, friction=0.45)), 3)
    0.214
    """
    free = sprint.terminal_speed(runner, course=course)
    towed = replace(course, load_kg=load_kg, friction=friction)
    return np.asarray(1.0 - sprint.terminal_speed(runner, course=towed) / free)


def load_for_steady_decrement(
    runner: Runner, *, decrement: ArrayLike, friction: ArrayLike, course: Course = FLAT
) -> FloatArray:
    """Return the load (kg) that costs a share of top speed, in closed form (balance of forces).

    Raises:
        OutOfRangeError: decrement or friction outside its range, or friction 0 on level ground.

    >>> float(load_for_steady_decrement(Runner(8.0, 9.5, 80.0, 0.29), decrement=0.25, friction=0.4))
    41.95
    """
    share = ranges.DECREMENT.check(decrement)
    speed = (1.0 - share) * sprint.terminal_speed(runner, course=course)
    return np.asarray(_spare_force(runner, speed, course) / _force_per_kg(friction, course))


def _spare_force(runner: Runner, speed: FloatArray, course: Course) -> FloatArray:
    """Return the force (N) left to pull with at a steady speed (m/s)."""
    mass = np.asarray(runner.mass_kg, dtype=np.float64)
    air = speed - np.asarray(course.wind_mps)
    drag = (np.asarray(runner.drag_kgpm) + np.asarray(course.parachute_kgpm)) * air * np.abs(air)
    push = mass * np.asarray(runner.f0_npkg) * (1.0 - speed / np.asarray(runner.v0_mps))
    return np.asarray(push - drag - mass * course.gravity_mps2 * np.sin(course.slope_rad))


def _force_per_kg(friction: ArrayLike, course: Course) -> FloatArray:
    """Return what one towed kilogram holds back (N/kg)."""
    mu = ranges.FRICTION.check(friction)
    slope = np.asarray(course.slope_rad, dtype=np.float64)
    held = course.gravity_mps2 * (mu * np.cos(slope) + np.sin(slope))
    if not np.all(held > 0.0):
        raise OutOfRangeError(
            f"Expected a sled that holds back, got friction {float(np.min(mu)):g}; "
            "without friction no load brings a steady decrement: time a sled run to find it"
        )
    return np.asarray(held)


def _towed(runner: Runner, distance_m: ArrayLike, towed: Course) -> tuple[FloatArray, FloatArray]:
    """Return speed (m/s) at and time (s) to a distance."""
    run = sprint.motion(runner, towed)
    time = run.time_to_distance(ranges.DISTANCE.check(distance_m))
    return run.state(time).speed, time


def decrement_at_distance(
    runner: Runner,
    *,
    load_kg: ArrayLike,
    friction: ArrayLike,
    distance_m: ArrayLike,
    course: Course = FLAT,
) -> FloatArray:
    """Return the loss of speed at a distance (m), as a share of the free speed there: 1 − v_towed/v_free.

    >>> athlete = Runner(8.0, 9.5, 80.0, 0.29)
    >>> float(decrement_at_distance(athlete, load_kg=32.0, friction=0.45, distance_m=20.0))
    0.2252
    """
    free, _ = _towed(runner, distance_m, course)
    slow, _ = _towed(runner, distance_m, replace(course, load_kg=load_kg, friction=friction))
    return np.asarray(1.0 - slow / free)


def time_decrement_at_distance(
    runner: Runner,
    *,
    load_kg: ArrayLike,
    friction: ArrayLike,
    distance_m: ArrayLike,
    course: Course = FLAT,
) -> FloatArray:
    """Return the loss of mean speed over a distance (m) as a share: 1 − t_free/t_towed.

    >>> athlete = Runner(8.0, 9.5, 80.0, 0.29)
    >>> float(time_decrement_at_distance(athlete, load_kg=32.0, friction=0.45, distance_m=20.0))
    0.2386
    """
    _, free = _towed(runner, distance_m, course)
    _, slow = _towed(runner, distance_m, replace(course, load_kg=load_kg, friction=friction))
    return np.asarray(1.0 - free / slow)


def load_for_decrement_at_distance(
    runner: Runner,
    *,
    decrement: ArrayLike,
    friction: ArrayLike,
    distance_m: ArrayLike,
    course: Course = FLAT,
) -> FloatArray:
    """Return the load (kg) that costs a share of the free speed at a distance (m), by a bracketed root.

    Raises:
        OutOfRangeError: decrement or friction outside its range, or friction 0 on level ground.

    >>> athlete = Runner(8.0, 9.5, 80.0, 0.29)
    >>> load = load_for_decrement_at_distance(athlete, decrement=0.25, friction=0.4, distance_m=20.0)
    >>> back = decrement_at_distance(athlete, load_kg=load, friction=0.4, distance_m=20.0)
    >>> bool(abs(back - 0.25) < 1e-12)
    True
    """
    share, distance = ranges.DECREMENT.check(decrement), ranges.DISTANCE.check(distance_m)
    free, _ = _towed(runner, distance, course)
    heaviest = _ALMOST * _spare_force(runner, np.zeros(()), course) / _force_per_kg(friction, course)
    wanted = (1.0 - share) * free
    shape = np.broadcast(wanted, heaviest).shape

    def miss(load: FloatArray) -> FloatArray:
        speed, _ = _towed(runner, distance, replace(course, load_kg=load, friction=friction))
        return speed - wanted

    return bracketed_root(miss, np.zeros(shape), np.broadcast_to(heaviest, shape))


def slope_for_decrement_at_distance(
    runner: Runner, *, decrement: ArrayLike, distance_m: ArrayLike, course: Course = FLAT
) -> FloatArray:
    """Return the uphill slope (rad) that costs a share of the level speed at a distance (m).

    NaN where even the steepest slope the equation allows costs less.

    >>> float(slope_for_decrement_at_distance(Runner(8.0, 9.5, 80.0, 0.29), decrement=0.1, distance_m=20.0))
    0.0937
    """
    share, distance = ranges.DECREMENT.check(decrement), ranges.DISTANCE.check(distance_m)
    level, _ = _towed(runner, distance, replace(course, slope_rad=0.0))
    push = np.asarray(runner.f0_npkg, dtype=np.float64) / course.gravity_mps2
    steepest = np.arcsin(np.minimum(_ALMOST * push, 1.0))
    wanted = (1.0 - share) * level
    shape = np.broadcast(wanted, steepest).shape

    def miss(slope: FloatArray) -> FloatArray:
        speed, _ = _towed(runner, distance, replace(course, slope_rad=slope))
        return speed - wanted

    return bracketed_root(miss, np.zeros(shape), np.broadcast_to(steepest, shape))


def optimal_load(runner: Runner, *, friction: ArrayLike, course: Course = FLAT) -> FloatArray:
    """Return the load (kg) at which steady towing gives most power.

    The towed top speed is then v0/2 (`cross_2017`; read).

    >>> float(optimal_load(Runner(8.0, 9.5, 80.0, 0.29), friction=0.45))
    71.03
    """
    half = 0.5 * np.asarray(runner.v0_mps, dtype=np.float64)
    return np.asarray(_spare_force(runner, half, course) / _force_per_kg(friction, course))


def fit_friction(
    runner: Runner,
    *,
    load_kg: ArrayLike,
    distance_m: ArrayLike,
    time_s: ArrayLike,
    timing_sd_s: float,
    behind_m: float = 0.0,
    profile_covariance: ArrayLike | None = None,
) -> FrictionFit:
    """Fit the friction of one sled on one surface to timed sled runs of n athletes.

    Args:
        runner: the athletes, floats or arrays (n,).
        load_kg: towed mass with the sled itself (kg), a number or (n,).
        distance_m: distance of each time (m), a number, (k,) or (n, k).
        time_s: times (s), a number, (k,) or (n, k), NaN = missing; the clock starts with the athlete, or at a
            beam `behind_m` ahead of the athlete.
        timing_sd_s: known noise of one time (SD, s).
        behind_m: distance from the standing athlete to the beam that starts the clock (m).
        profile_covariance: covariance of (ln f0, ln v0) of the profile, (2, 2) or (n, 2, 2), carried into the
            standard error; None: timing noise only.

    Raises:
        OutOfRangeError: a number makes no sense.

    >>> athlete = Runner(8.0, 9.5, 80.0, 0.29)
    >>> fit = fit_friction(athlete, load_kg=32.0, distance_m=20.0, time_s=3.9, timing_sd_s=0.01)
    >>> float(fit.value[0])
    0.226
    """
    times = np.atleast_2d(np.asarray(time_s, dtype=np.float64))
    used = np.isfinite(times)
    ranges.TIME.check(np.where(used, times, 0.0))
    noise = float(ranges.TIMING_SD.check(timing_sd_s))
    model = TowedTimes.of(runner, load_kg, distance_m, behind_m, times.shape)
    weight = np.where(used, 1.0 / noise**2, 0.0)
    nothing = NormalPrior(np.zeros(1), np.zeros((1, 1)))
    most = _ALMOST * model.largest_friction()[:, None]
    fit = fit_damped(
        model.predict,
        np.where(used, times, 0.0),
        weight,
        prior=nothing,
        limits=(np.zeros(1), most),
        start=np.minimum(0.4, 0.8 * most),
    )
    variance = 1.0 / fit.information[:, 0, 0]
    if profile_covariance is not None:
        variance = variance + model.carried_variance(fit.theta, weight, np.asarray(profile_covariance))
    inside = fit.converged & (fit.theta[:, 0] > 0.0) & (fit.theta[:, 0] < most[:, 0])
    return FrictionFit(fit.theta[:, 0], np.sqrt(variance), inside)
