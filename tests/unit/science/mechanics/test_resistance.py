import numpy as np
import pytest
from scipy.optimize import brentq

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics.resistance import (
    decrement_at_distance,
    fit_friction,
    load_for_decrement_at_distance,
    load_for_steady_decrement,
    slope_for_decrement_at_distance,
    steady_decrement,
    time_decrement_at_distance,
)
from speedloom.science.mechanics.sprint import Course, Runner, speed_at_distance, time_to_distance

ATHLETE = Runner(8.0, 9.5, 80.0, 0.29)


def squad(size: int) -> tuple[Runner, np.random.Generator]:
    rng = np.random.default_rng(8)
    draw = rng.uniform
    return Runner(draw(5, 10, size), draw(6, 12, size), draw(40, 100, size), draw(0.2, 0.4, size)), rng


def test_steady_load_and_decrement_are_inverse_to_the_last_digits() -> None:
    runners, rng = squad(5000)
    wanted, friction = rng.uniform(0.0, 0.9, 5000), rng.uniform(0.2, 0.6, 5000)
    load = load_for_steady_decrement(runners, decrement=wanted, friction=friction)
    assert np.abs(steady_decrement(runners, load_kg=load, friction=friction) - wanted).max() < 5e-15


def test_load_and_decrement_at_a_distance_are_inverse() -> None:
    runners, rng = squad(5000)
    wanted, friction, distance = (
        rng.uniform(0, 0.9, 5000),
        rng.uniform(0.2, 0.6, 5000),
        rng.uniform(5, 60, 5000),
    )
    load = load_for_decrement_at_distance(runners, decrement=wanted, friction=friction, distance_m=distance)
    got = decrement_at_distance(runners, load_kg=load, friction=friction, distance_m=distance)
    assert np.abs(got - wanted).max() < 1e-12


def test_no_decrement_is_no_load() -> None:
    load = load_for_decrement_at_distance(ATHLETE, decrement=0.0, friction=0.4, distance_m=20.0)
    assert float(load) == pytest.approx(0.0, abs=1e-9)


def test_an_athletes_load_does_not_depend_on_the_others() -> None:
    runners, _ = squad(50)
    many = load_for_decrement_at_distance(runners, decrement=0.3, friction=0.4, distance_m=20.0)
    parts = (runners.f0_npkg, runners.v0_mps, runners.mass_kg, runners.drag_kgpm)
    one = Runner(*(np.asarray(part)[7] for part in parts))
    single = load_for_decrement_at_distance(one, decrement=0.3, friction=0.4, distance_m=20.0)
    assert many[7] == single


def test_a_sled_costs_less_early_in_the_run_than_at_top_speed() -> None:
    # The steady decrement belongs to top speed; after 10 m the free athlete has not got there either.
    load = 30.0
    at_10 = decrement_at_distance(ATHLETE, load_kg=load, friction=0.4, distance_m=10.0)
    steady = steady_decrement(ATHLETE, load_kg=load, friction=0.4)
    assert float(at_10) != pytest.approx(float(steady), rel=0.02)
    far = decrement_at_distance(ATHLETE, load_kg=load, friction=0.4, distance_m=500.0)
    assert float(far) == pytest.approx(float(steady), rel=1e-9)


def test_time_decrement_is_the_loss_of_mean_speed() -> None:
    towed = Course(load_kg=30.0, friction=0.4)
    free, slow = time_to_distance(ATHLETE, 20.0), time_to_distance(ATHLETE, 20.0, course=towed)
    got = time_decrement_at_distance(ATHLETE, load_kg=30.0, friction=0.4, distance_m=20.0)
    assert float(got) == pytest.approx(1.0 - float(free / slow), rel=1e-14)


def test_two_athletes_with_the_same_30_m_time_need_different_sleds() -> None:
    force = Runner(9.0, 8.5, 75.0, 0.28)
    same = float(time_to_distance(force, 30.0))
    v0 = brentq(lambda v: float(time_to_distance(Runner(7.0, v, 75.0, 0.28), 30.0)) - same, 7.0, 14.0)
    speed = Runner(7.0, v0, 75.0, 0.28)
    loads = [
        float(load_for_decrement_at_distance(one, decrement=0.4, friction=0.4, distance_m=20.0))
        for one in (force, speed)
    ]
    assert float(time_to_distance(speed, 30.0)) == pytest.approx(same, abs=1e-9)
    assert abs(loads[0] - loads[1]) > 2.5


def test_a_sled_without_friction_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="a sled that holds back"):
        load_for_steady_decrement(ATHLETE, decrement=0.2, friction=0.0)


def test_percent_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="velocity decrement"):
        load_for_steady_decrement(ATHLETE, decrement=25.0, friction=0.4)


def test_hills_are_found_for_many() -> None:
    runners, rng = squad(500)
    wanted, distance = rng.uniform(0.0, 0.3, 500), rng.uniform(10, 40, 500)
    slope = slope_for_decrement_at_distance(runners, decrement=wanted, distance_m=distance)
    climbed = speed_at_distance(runners, distance, course=Course(slope_rad=slope))
    assert np.abs(1.0 - climbed / speed_at_distance(runners, distance) - wanted).max() < 1e-12


def timed(friction: float, distance: np.ndarray, behind: float = 0.0) -> np.ndarray:
    course = Course(load_kg=32.0, friction=friction)
    times = time_to_distance(ATHLETE, distance + behind, course=course)
    return np.asarray(times - time_to_distance(ATHLETE, behind, course=course))


@pytest.mark.parametrize("behind", [0.0, 0.5])
@pytest.mark.parametrize("friction", [0.2, 0.4, 0.6])
def test_friction_comes_back_from_a_timed_sled_run(friction: float, behind: float) -> None:
    gates = np.array([10.0, 20.0])
    fit = fit_friction(
        ATHLETE,
        load_kg=32.0,
        distance_m=gates,
        time_s=timed(friction, gates, behind),
        timing_sd_s=0.01,
        behind_m=behind,
    )
    assert float(fit.value[0]) == pytest.approx(friction, rel=1e-9)
    assert fit.inside[0]


def test_friction_error_is_the_scatter_of_repeated_runs() -> None:
    rng = np.random.default_rng(3)
    times = timed(0.4, np.array([20.0])) + rng.normal(0.0, 0.02, (3000, 1))
    fit = fit_friction(ATHLETE, load_kg=32.0, distance_m=20.0, time_s=times, timing_sd_s=0.02)
    assert fit.value.std() == pytest.approx(fit.se.mean(), rel=0.05)


def test_the_profiles_own_error_can_be_carried_into_the_friction() -> None:
    rng = np.random.default_rng(6)
    spread = np.array([[4e-4, -1e-4], [-1e-4, 1e-4]])
    away = rng.multivariate_normal([0.0, 0.0], spread, 3000)
    believed = Runner(8.0 * np.exp(away[:, 0]), 9.5 * np.exp(away[:, 1]), 80.0, 0.29)
    times = np.tile(timed(0.4, np.array([20.0])), (3000, 1))
    fit = fit_friction(believed, load_kg=32.0, distance_m=20.0, time_s=times, timing_sd_s=1e-4)
    stated = fit_friction(
        ATHLETE,
        load_kg=32.0,
        distance_m=20.0,
        time_s=times[0],
        timing_sd_s=1e-4,
        profile_covariance=spread,
    )
    assert fit.value.std() == pytest.approx(float(stated.se[0]), rel=0.05)


def test_a_sled_run_faster_than_free_is_flagged() -> None:
    fit = fit_friction(ATHLETE, load_kg=32.0, distance_m=20.0, time_s=2.5, timing_sd_s=0.01)
    assert not fit.inside[0]
