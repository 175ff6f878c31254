import numpy as np
import pytest

from speedloom.errors import CannotStartError, OutOfRangeError
from speedloom.science.mechanics.sprint import (
    Course,
    Runner,
    distance_at_speed,
    distance_at_time,
    motion,
    speed_at_distance,
    speed_at_time,
    terminal_speed,
    time_to_distance,
    time_to_speed,
)

ATHLETE = Runner(8.0, 9.5, 80.0, 0.29)


def test_a_load_that_cannot_be_started_is_an_error_with_its_numbers() -> None:
    with pytest.raises(CannotStartError) as caught:
        time_to_distance(ATHLETE, 20.0, course=Course(load_kg=200.0, friction=0.4))
    assert "8 N/kg × 80 kg = 640 N against 785 N of sled friction (200 kg, friction 0.4)" in str(caught.value)


def test_one_stuck_athlete_of_many_is_named() -> None:
    with pytest.raises(CannotStartError, match="180 kg"):
        terminal_speed(ATHLETE, course=Course(load_kg=np.array([20.0, 180.0]), friction=0.4))


def test_a_wall_cannot_be_climbed() -> None:
    with pytest.raises(CannotStartError, match=r"90\.00°"):
        terminal_speed(ATHLETE, course=Course(slope_rad=np.pi / 2))


def test_degrees_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="give radians"):
        Course(slope_rad=3.0)


@pytest.mark.parametrize(
    "values", [(80.0, 9.5, 80.0, 0.3), (8.0, 0.0, 80.0, 0.3), (8.0, 9.5, 5.0, 0.3), (8.0, 9.5, 80.0, -0.1)]
)
def test_senseless_runners_are_refused(values: tuple[float, float, float, float]) -> None:
    with pytest.raises(OutOfRangeError):
        Runner(*values)


def test_rest_at_the_start() -> None:
    assert float(time_to_distance(ATHLETE, 0.0)) == 0.0
    assert float(speed_at_distance(ATHLETE, 0.0)) == 0.0
    assert float(distance_at_time(ATHLETE, 0.0)) == 0.0


def test_terminal_speed_is_never_reached() -> None:
    top = terminal_speed(ATHLETE)
    assert float(time_to_speed(ATHLETE, top)) == np.inf
    assert float(distance_at_speed(ATHLETE, top + 1.0)) == np.inf
    assert float(speed_at_time(ATHLETE, 300.0)) == pytest.approx(float(top), rel=1e-15)


def test_everything_broadcasts() -> None:
    loads = np.array([0.0, 10.0, 20.0])[:, None]
    times = time_to_distance(ATHLETE, [10.0, 20.0], course=Course(load_kg=loads, friction=0.4))
    assert times.shape == (3, 2)
    single = time_to_distance(ATHLETE, 20.0, course=Course(load_kg=20.0, friction=0.4))
    assert times[2, 1] == single


@pytest.mark.parametrize(("parachute", "wind"), [(4.0, 2.0), (15.0, 4.0)])
def test_a_parachute_in_a_tail_wind_pulls_at_the_start(parachute: float, wind: float) -> None:
    # Here the roots of the first segment are complex and the tangent form is at work.
    course = Course(parachute_kgpm=parachute, wind_mps=wind)
    assert bool(motion(ATHLETE, course).first.swings)
    assert float(speed_at_time(ATHLETE, 0.1, course=course)) > float(speed_at_time(ATHLETE, 0.1))


def test_a_parachute_in_still_air_brakes() -> None:
    assert float(terminal_speed(ATHLETE, course=Course(parachute_kgpm=1.0))) < float(terminal_speed(ATHLETE))


def test_real_and_complex_roots_meet() -> None:
    # λ² = 0 at a drag of (B/2)²/(A + B·w): on both sides and on it the motion is the same to the last digits.
    push, slope, wind = 8.0, -8.0 / 9.5, 2.0
    edge = 80.0 * (0.5 * slope) ** 2 / (push + slope * wind)
    chutes = edge - 0.29 + np.array([-1e-9, -1e-13, 0.0, 1e-13, 1e-9])
    course = Course(wind_mps=wind, parachute_kgpm=chutes)
    times = time_to_distance(ATHLETE, 30.0, course=course)
    assert motion(ATHLETE, course).first.swings.tolist()[::4] == [False, True]
    assert times == pytest.approx(np.full(5, times[2]), abs=1e-8)
    assert times[1:4] == pytest.approx(np.full(3, times[2]), abs=1e-12)
