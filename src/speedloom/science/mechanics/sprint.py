"""Sprint motion in closed form: a linear force–speed line, air, sled, slope and wind.

The equation (force–speed line and drag of `samozino_2016`):
(m + M)·v' = m·f0·(1 − v/v0) − k·(v − w)·|v − w| − μ·M·g·cosθ − (m + M)·g·sinθ.
Everything broadcasts: give floats for one athlete or arrays for many athletes, loads and distances.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import CannotStartError
from speedloom.science import ranges
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics._motion import Forces, Motion, solve

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Runner:
    """An athlete as a force–speed line with mass and air drag; floats or arrays of one shape.

    Attributes:
        f0_npkg: start force per body mass (N/kg).
        v0_mps: theoretical top speed without any resistance (m/s).
        mass_kg: body mass (kg).
        drag_kgpm: drag constant k = ½·ρ·Af·Cd (kg/m, the same as N·s²/m²).
    """

    f0_npkg: ArrayLike
    v0_mps: ArrayLike
    mass_kg: ArrayLike
    drag_kgpm: ArrayLike

    def __post_init__(self) -> None:
        ranges.START_FORCE.check(self.f0_npkg)
        ranges.TOP_SPEED_V0.check(self.v0_mps)
        ranges.BODY_MASS.check(self.mass_kg)
        ranges.DRAG.check(self.drag_kgpm)


@dataclass(frozen=True)
class Course:
    """What the athlete runs on and against; floats or arrays of one shape.

    Attributes:
        load_kg: towed mass (kg).
        friction: friction of sled and floor (no unit).
        slope_rad: slope, uphill positive (rad).
        wind_mps: wind, tail wind positive (m/s).
        parachute_kgpm: drag constant of a parachute, added to the runner's (kg/m).
        gravity_mps2: acceleration of free fall (m/s²).
    """

    load_kg: ArrayLike = 0.0
    friction: ArrayLike = 0.0
    slope_rad: ArrayLike = 0.0
    wind_mps: ArrayLike = 0.0
    parachute_kgpm: ArrayLike = 0.0
    gravity_mps2: float = STANDARD_GRAVITY_MPS2

    def __post_init__(self) -> None:
        ranges.SLED_LOAD.check(self.load_kg)
        ranges.FRICTION.check(self.friction)
        ranges.SLOPE.check(self.slope_rad, "give radians, not degrees or per cent")
        ranges.WIND.check(self.wind_mps)
        ranges.PARACHUTE_DRAG.check(self.parachute_kgpm)
        ranges.GRAVITY.check(self.gravity_mps2)


class EquivalentSlope(NamedTuple):
    """The hill that costs what an acceleration costs: angle (rad) and grade (share)."""

    angle_rad: FloatArray
    grade: FloatArray


FLAT = Course()
"""Level ground, still air, nothing towed."""


def forces(runner: Runner, course: Course = FLAT) -> Forces:
    """Return the coefficients of the equation of motion (m/s², 1/s, 1/m, m/s) per moved mass.

    >>> float(forces(Runner(8.0, 9.5, 75.0, 0.28)).push)
    8.00
    """
    f0, v0 = np.asarray(runner.f0_npkg, float), np.asarray(runner.v0_mps, float)
    mass, load = np.asarray(runner.mass_kg, float), np.asarray(course.load_kg, float)
    slope, g = np.asarray(course.slope_rad, float), course.gravity_mps2
    share, towed = mass / (mass + load), load / (mass + load)
    resistance = np.asarray(course.friction, float) * towed * g * np.cos(slope) + g * np.sin(slope)
    drag = (np.asarray(runner.drag_kgpm, float) + np.asarray(course.parachute_kgpm, float)) / (mass + load)
    return Forces(share * f0 - resistance, -share * f0 / v0, drag, np.asarray(course.wind_mps, float))


def motion(runner: Runner, course: Course = FLAT) -> Motion:
    """Return the closed-form motion (m, m/s, m/s² by s) of a runner on a course.

    Raises:
        CannotStartError: the resistance at rest is not below the start force, for at least one element.

    >>> bool(motion(Runner(8.0, 9.5, 75.0, 0.28)).terminal < 9.5)
    True
    """
    acting = forces(runner, course)
    start = acting.start_acceleration()
    if not np.all(start > 0.0):
        raise CannotStartError(_why_no_start(runner, course, start))
    return solve(acting)


def _why_no_start(runner: Runner, course: Course, start: FloatArray) -> str:
    names = ("f0_npkg", "mass_kg", "drag_kgpm")
    parts = [getattr(runner, name) for name in names]
    parts += [course.load_kg, course.friction, course.slope_rad, course.wind_mps]
    shaped = np.broadcast_arrays(start, *parts)
    worst = int(np.argmax(~(start > 0.0)))
    acc, f0, mass, drag, load, friction, slope, wind = (float(part.flat[worst]) for part in shaped)
    sled = friction * load * course.gravity_mps2 * np.cos(slope)
    hill = (mass + load) * course.gravity_mps2 * np.sin(slope)
    return (
        f"Expected a start force above the resistance at rest, got {f0:g} N/kg × {mass:g} kg = "
        f"{f0 * mass:.0f} N against {sled:.0f} N of sled friction ({load:g} kg, friction {friction:g}), "
        f"{hill:.0f} N of slope ({np.degrees(slope):.2f}°) and wind of {wind:g} m/s (drag {drag:g} kg/m), "
        f"a start at {acc:.2f} m/s²; take a lighter load or a flatter hill"
    )


def speed_at_time(runner: Runner, time_s: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the speed (m/s) at a time (s) after the first movement.

    >>> float(speed_at_time(Runner(8.0, 9.5, 75.0, 0.28), 1.0))
    5.37...
    """
    return motion(runner, course).state(ranges.TIME.check(time_s)).speed


def distance_at_time(runner: Runner, time_s: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the distance (m) covered a time (s) after the first movement.

    >>> float(distance_at_time(Runner(8.0, 9.5, 75.0, 0.28), 3.0))
    17.85
    """
    return motion(runner, course).state(ranges.TIME.check(time_s)).distance


def acceleration_at_time(runner: Runner, time_s: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the acceleration (m/s²) at a time (s) after the first movement.

    >>> float(acceleration_at_time(Runner(8.0, 9.5, 75.0, 0.28), 0.0))
    8.00
    """
    return motion(runner, course).state(ranges.TIME.check(time_s)).acceleration


def terminal_speed(runner: Runner, *, course: Course = FLAT) -> FloatArray:
    """Return the speed (m/s) at which push and resistance balance.

    >>> float(terminal_speed(Runner(8.0, 9.5, 75.0, 0.28)))
    9.13
    """
    return motion(runner, course).terminal


def time_to_distance(runner: Runner, distance_m: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the time (s) from the first movement to a distance (m), exact to 1e-12 m.

    >>> float(time_to_distance(Runner(8.0, 9.5, 75.0, 0.28), 30.0))
    4.38...
    """
    return motion(runner, course).time_to_distance(ranges.DISTANCE.check(distance_m))


def time_to_speed(runner: Runner, speed_mps: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the time (s) at which a speed (m/s) is reached; infinite from the terminal speed on.

    >>> float(time_to_speed(Runner(8.0, 9.5, 75.0, 0.28), 8.0))
    2.332
    """
    return motion(runner, course).time_to_speed(ranges.SPEED.check(speed_mps))


def speed_at_distance(runner: Runner, distance_m: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the speed (m/s) at a distance (m) from the start.

    >>> athlete = Runner(8.0, 9.5, 80.0, 0.29)
    >>> sled = Course(load_kg=20.0, friction=0.4)
    >>> float(speed_at_distance(Runner(8.0, 9.5, 75.0, 0.28), 30.0, course=sled))
    7.765
    """
    run = motion(runner, course)
    return run.state(run.time_to_distance(ranges.DISTANCE.check(distance_m))).speed


def distance_at_speed(runner: Runner, speed_mps: ArrayLike, *, course: Course = FLAT) -> FloatArray:
    """Return the distance (m) at which a speed (m/s) is reached; infinite from the terminal speed on.

    >>> float(distance_at_speed(Runner(8.0, 9.5, 75.0, 0.28), 8.0))
    12.31
    """
    run = motion(runner, course)
    time = run.time_to_speed(ranges.SPEED.check(speed_mps))
    reached = np.isfinite(time)
    return np.where(reached, run.state(np.where(reached, time, 0.0)).distance, np.inf)


def equivalent_slope(
    acceleration_mps2: ArrayLike, *, gravity_mps2: float = STANDARD_GRAVITY_MPS2
) -> EquivalentSlope:
    """Return the uphill slope (rad) and grade (share) that an acceleration (m/s²) is worth: arctan(a/g).

    Source: `di_prampero_2005` (read).

    >>> float(equivalent_slope(4.75).grade)
    0.484
    """
    grade = ranges.ACCELERATION.check(acceleration_mps2) / gravity_mps2
    return EquivalentSlope(np.arctan(grade), grade)
