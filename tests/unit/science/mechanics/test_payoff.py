from functools import partial

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics.payoff import (
    flying_speed,
    flying_speed_sensitivity,
    leading_share,
    speed_sensitivity,
    time_sensitivity,
)
from speedloom.science.mechanics.sprint import Course, Runner, speed_at_distance, time_to_distance

ATHLETE = Runner(8.0, 9.5, 75.0, 0.28)
COURSES = [
    Course(),
    Course(wind_mps=-2.0),
    Course(wind_mps=3.0),
    Course(load_kg=20.0, friction=0.4, slope_rad=0.02, wind_mps=1.5),
    Course(wind_mps=9.0, parachute_kgpm=4.0),
]


def changed(force: float, speed: float) -> Runner:
    return Runner(8.0 * np.exp(force), 9.5 * np.exp(speed), 75.0, 0.28)


def slope_of(target: object, *, lever: int) -> float:
    """Return a derivative by Richardson's extrapolation of central differences, good to about 1e-10."""
    assert callable(target)

    def central(step: float) -> float:
        moved = (step, 0.0) if lever == 0 else (0.0, step)
        back = (-step, 0.0) if lever == 0 else (0.0, -step)
        return float(target(changed(*moved)) - target(changed(*back))) / (2.0 * step)

    return (4.0 * central(5e-4) - central(1e-3)) / 3.0


@pytest.mark.parametrize("course", COURSES)
@pytest.mark.parametrize("distance", [5.0, 30.0, 100.0])
def test_time_sensitivity_is_the_derivative(course: Course, distance: float) -> None:
    pays = time_sensitivity(ATHLETE, distance, course=course)
    target = partial(time_to_distance, distance_m=distance, course=course)
    assert float(pays.start_force) == pytest.approx(slope_of(target, lever=0), rel=1e-8, abs=1e-10)
    assert float(pays.top_speed) == pytest.approx(slope_of(target, lever=1), rel=1e-8, abs=1e-10)


@pytest.mark.parametrize("course", COURSES)
def test_speed_sensitivity_is_the_derivative(course: Course) -> None:
    pays = speed_sensitivity(ATHLETE, 30.0, course=course)
    target = partial(speed_at_distance, distance_m=30.0, course=course)
    assert float(pays.start_force) == pytest.approx(slope_of(target, lever=0), rel=1e-8, abs=1e-9)
    assert float(pays.top_speed) == pytest.approx(slope_of(target, lever=1), rel=1e-8, abs=1e-9)


def test_flying_speed_sensitivity_is_the_derivative() -> None:
    pays = flying_speed_sensitivity(ATHLETE, 20.0, 10.0)
    target = partial(flying_speed, run_in_m=20.0, zone_m=10.0)
    assert float(pays.start_force) == pytest.approx(slope_of(target, lever=0), rel=1e-8)
    assert float(pays.top_speed) == pytest.approx(slope_of(target, lever=1), rel=1e-8)


def test_start_force_pays_early_and_top_speed_late() -> None:
    pays = time_sensitivity(ATHLETE, np.array([5.0, 100.0]))
    ratio = pays.start_force / pays.top_speed
    assert ratio[0] > 1.0 > ratio[1]


def test_nothing_is_gained_at_the_start_line() -> None:
    assert [float(part) for part in time_sensitivity(ATHLETE, 0.0)] == [0.0, 0.0]


@pytest.mark.parametrize(("distance", "share"), [(5.0, 1.0), (100.0, 0.0)])
def test_clear_cases_lead_in_every_draw(distance: float, share: float) -> None:
    target = partial(time_sensitivity, distance_m=distance)
    pays = leading_share(0.03, 0.03, target, np.diag([9e-4, 1e-4]), runner=ATHLETE, seed=1)
    assert float(pays.share[0]) == share


def test_a_close_case_is_a_share_between() -> None:
    target = partial(time_sensitivity, distance_m=14.0)
    pays = leading_share(0.03, 0.03, target, np.diag([9e-4, 1e-4]), runner=ATHLETE, seed=1)
    assert 0.05 < float(pays.share[0]) < 0.95
    assert abs(pays.start_force_gain[0] / pays.top_speed_gain[0] - 1.0) < 0.1


def test_the_same_seed_gives_the_same_share_whoever_else_is_asked() -> None:
    target, spread = partial(time_sensitivity, distance_m=14.0), np.diag([9e-4, 1e-4])
    pair = Runner(np.array([7.0, 8.0]), np.array([8.5, 9.5]), 75.0, 0.28)
    both = leading_share(0.03, 0.03, target, spread, runner=pair, seed=5, draws=500)
    alone = leading_share(0.03, 0.03, target, spread, runner=ATHLETE, seed=5, draws=500)
    assert both.share[1] == alone.share[0]


def test_a_covariance_has_two_rows() -> None:
    with pytest.raises(OutOfRangeError, match="covariance"):
        leading_share(
            0.03, 0.03, partial(time_sensitivity, distance_m=20.0), np.eye(3), runner=ATHLETE, seed=1
        )


@pytest.mark.parametrize("spread", [np.zeros((2, 2)), np.diag([4.0, 4.0])])
def test_a_profile_known_exactly_or_not_at_all_still_gives_a_share(spread: np.ndarray) -> None:
    target = partial(time_sensitivity, distance_m=14.0)
    pays = leading_share(0.03, 0.03, target, spread, runner=ATHLETE, seed=1)
    assert 0.0 <= float(pays.share[0]) <= 1.0
    assert (float(pays.share[0]) in {0.0, 1.0}) == (not spread.any())
