"""The closed form against an ODE solver that knows only the equation, and against itself."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from speedloom.science.mechanics.sprint import (
    Course,
    Runner,
    distance_at_speed,
    distance_at_time,
    speed_at_distance,
    speed_at_time,
    terminal_speed,
    time_to_distance,
    time_to_speed,
)

GRAVITY = 9.80665
RUNNERS = st.builds(
    Runner, st.floats(5.0, 11.0), st.floats(6.0, 13.0), st.floats(35.0, 110.0), st.floats(0.0, 0.5)
)
COURSES = st.builds(
    Course,
    st.one_of(st.just(0.0), st.floats(0.0, 40.0)),
    st.floats(0.0, 0.4),
    st.floats(-0.1, 0.05),
    st.one_of(st.just(0.0), st.floats(-4.0, 6.0)),
    st.one_of(st.just(0.0), st.floats(0.0, 6.0)),
)
DISTANCES = st.floats(0.5, 100.0)


def starts(runner: Runner, course: Course) -> bool:
    return acceleration(runner, course, 0.0) > 0.1


def acceleration(runner: Runner, course: Course, speed: float) -> float:
    """Return the equation of motion as the module states it (m/s²)."""
    f0, v0, m, k = (float(part) for part in (runner.f0_npkg, runner.v0_mps, runner.mass_kg, runner.drag_kgpm))
    load, mu, theta, wind, chute = (
        float(part)
        for part in (
            course.load_kg,
            course.friction,
            course.slope_rad,
            course.wind_mps,
            course.parachute_kgpm,
        )
    )
    air = (k + chute) * (speed - wind) * abs(speed - wind)
    weight = mu * load * GRAVITY * np.cos(theta) + (m + load) * GRAVITY * np.sin(theta)
    return float((m * f0 * (1.0 - speed / v0) - air - weight) / (m + load))


def oracle(runner: Runner, course: Course, distance: float) -> tuple[float, float]:
    """Return time to and speed at a distance by DOP853, split where the runner outruns a tail wind."""

    def arrived(_: float, state: np.ndarray) -> float:
        return float(state[0] - distance)

    def outran(_: float, state: np.ndarray) -> float:
        return float(state[1] - float(course.wind_mps))

    arrived.terminal = outran.terminal = True  # type: ignore[attr-defined]

    def right_side(_: float, state: np.ndarray) -> list[float]:
        return [state[1], acceleration(runner, course, state[1])]

    time, state, splits = 0.0, np.zeros(2), float(course.wind_mps) > 0.0
    for events in ([arrived, outran], [arrived]) if splits else ([arrived],):
        run = solve_ivp(
            right_side, [time, time + 500.0], state, method="DOP853", rtol=1e-13, atol=1e-14, events=events
        )
        if len(run.t_events[0]):
            return float(run.t_events[0][0]), float(run.y_events[0][0][1])
        time, state = run.t[-1], run.y[:, -1]
    raise AssertionError((runner, course, distance))


@settings(max_examples=60)
@given(RUNNERS, COURSES, DISTANCES)
@example(Runner(8.0, 9.5, 80.0, 0.29), Course(wind_mps=2.0, parachute_kgpm=4.0), 30.0)
@example(Runner(8.0, 9.5, 80.0, 0.29), Course(wind_mps=4.0, parachute_kgpm=15.0), 2.0)
@example(Runner(8.0, 9.5, 80.0, 0.29), Course(wind_mps=12.0), 60.0)
def test_time_and_speed_agree_with_an_ode_solver(runner: Runner, course: Course, distance: float) -> None:
    if not starts(runner, course):
        return
    time, speed = oracle(runner, course, distance)
    assert float(time_to_distance(runner, distance, course=course)) == pytest.approx(time, abs=1e-9)
    assert float(speed_at_distance(runner, distance, course=course)) == pytest.approx(speed, abs=1e-9)


def crowd(size: int = 100_000) -> tuple[Runner, Course, np.ndarray]:
    rng = np.random.default_rng(12)
    draw = rng.uniform
    runner = Runner(draw(7, 11, size), draw(6, 13, size), draw(40, 110, size), draw(0.0, 0.5, size))
    chute = draw(0, 6, size) * (rng.random(size) < 0.2)
    wind = draw(-4, 9, size) * (rng.random(size) < 0.8)
    course = Course(draw(0, 40, size), 0.4, draw(-0.1, 0.05, size), wind, chute)
    return runner, course, draw(0.0, 100.0, size)


def test_the_distance_of_the_time_to_a_distance_is_that_distance() -> None:
    runner, course, distance = crowd()
    time = time_to_distance(runner, distance, course=course)
    assert np.abs(distance_at_time(runner, time, course=course) - distance).max() <= 1e-12


def test_the_speed_of_the_time_to_a_speed_is_that_speed() -> None:
    runner, course, distance = crowd()
    speed = terminal_speed(runner, course=course) * distance / 101.0
    time = time_to_speed(runner, speed, course=course)
    assert np.abs(speed_at_time(runner, time, course=course) - speed).max() <= 1e-12
    where = distance_at_speed(runner, speed, course=course)
    again = speed_at_distance(runner, where, course=course)
    # Near the start speed grows as the root of distance, so its last digits go with 1/√x.
    assert np.abs(again - speed).max() <= 1e-7
    assert np.abs(again - speed)[where > 0.1].max() <= 1e-11


@given(RUNNERS, DISTANCES)
def test_no_drag_is_the_limit_of_little_drag(runner: Runner, distance: float) -> None:
    without = Runner(runner.f0_npkg, runner.v0_mps, runner.mass_kg, 0.0)
    little = Runner(runner.f0_npkg, runner.v0_mps, runner.mass_kg, 1e-13)
    assert abs(float(time_to_distance(little, distance) - time_to_distance(without, distance))) <= 1e-12


@given(RUNNERS, DISTANCES, st.floats(0.5, 9.0), st.sampled_from([0.0, 3.0]))
def test_nothing_jumps_where_the_runner_is_as_fast_as_the_wind(
    runner: Runner, distance: float, wind: float, chute: float
) -> None:
    course = Course(wind_mps=wind, parachute_kgpm=chute)
    switch = float(time_to_speed(runner, wind, course=course))
    if not np.isfinite(switch):
        return
    before, after = switch * (1.0 - 1e-14), switch * (1.0 + 1e-14)
    for quantity in (speed_at_time, distance_at_time):
        jump = quantity(runner, after, course=course) - quantity(runner, before, course=course)
        assert abs(float(jump)) <= 1e-12 * max(1.0, distance)


@given(RUNNERS, DISTANCES)
def test_no_wind_is_the_limit_of_little_wind(runner: Runner, distance: float) -> None:
    calm = float(time_to_distance(runner, distance))
    for wind in (-1e-13, 1e-13):
        assert float(time_to_distance(runner, distance, course=Course(wind_mps=wind))) == pytest.approx(
            calm, abs=1e-11
        )


@given(RUNNERS, COURSES, DISTANCES)
def test_help_is_faster_and_load_is_slower(runner: Runner, course: Course, distance: float) -> None:
    if not starts(runner, course):
        return
    here = float(time_to_distance(runner, distance, course=course))
    parts = (course.friction, course.slope_rad, course.wind_mps, course.parachute_kgpm)
    mu, theta, wind, chute = (float(part) for part in parts)
    tail = Course(course.load_kg, mu, theta, wind + 0.5, chute)
    assert float(time_to_distance(runner, distance, course=tail)) <= here + 1e-12
    down = Course(course.load_kg, mu, theta - 0.02, wind, chute)
    assert float(time_to_distance(runner, distance, course=down)) < here
