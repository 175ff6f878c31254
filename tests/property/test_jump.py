"""Jumps: round trips, and an optimum no other profile beats."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from speedloom.science.mechanics.jump import flight_from_height, height_from_flight, squat_jump
from speedloom.science.mechanics.jump_profile import (
    fit_jump_profile,
    jump_height_from_profile,
    optimal_jump_profile,
)

G = 9.80665
PUSH_OFFS = st.floats(0.2, 0.6)


@given(st.floats(0.1, 1.0))
def test_height_and_flight_round_trip(flight: float) -> None:
    assert float(flight_from_height(height_from_flight(flight))) == pytest.approx(flight, rel=1e-12)


@given(st.floats(5.0, 80.0), PUSH_OFFS)
def test_optimum_identities(pmax: float, push_off: float) -> None:
    best = optimal_jump_profile(pmax, push_off)
    a = -float(best.slope)
    cubic = (
        pmax * push_off**2 * a**3,
        -((G * push_off * a) ** 2),
        -4 * pmax * G * push_off * a,
        -4 * pmax**2,
    )
    assert sum(cubic) == pytest.approx(0.0, abs=1e-11 * max(map(abs, cubic)))
    assert float(best.f0_npkg * best.v0_mps) == pytest.approx(4 * pmax, rel=1e-12)
    height = jump_height_from_profile(best.f0_npkg, best.v0_mps, push_off)
    assert float(height) == pytest.approx(float(best.height_m), rel=1e-11)


@given(st.floats(5.0, 80.0), PUSH_OFFS, st.floats(0.3, 3.0))
def test_no_profile_of_equal_power_jumps_higher(pmax: float, push_off: float, factor: float) -> None:
    best = optimal_jump_profile(pmax, push_off)
    f0 = float(best.f0_npkg) * factor
    if f0 > G * 1.001:
        height = jump_height_from_profile(f0, 4 * pmax / f0, push_off)
        assert float(height) <= float(best.height_m) * (1 + 1e-12)


@given(st.floats(25.0, 50.0), st.floats(2.2, 4.5), st.floats(0.25, 0.5), st.floats(45.0, 110.0))
def test_profile_is_found_back_from_the_jumps_it_makes(
    f0: float, v0: float, push_off: float, mass: float
) -> None:
    added = mass * np.array([0.0, 0.2, 0.4, 0.6])
    # The same line per kg of moved mass: force shrinks by the share that is body.
    share = mass / (mass + added)
    heights = jump_height_from_profile(f0 * share, v0, push_off)
    fit = fit_jump_profile(heights, added, mass_kg=mass, push_off_m=push_off)
    assert float(fit.f0_npkg) == pytest.approx(f0, rel=1e-8)
    assert float(fit.v0_mps) == pytest.approx(v0, rel=1e-8)


@given(st.floats(40.0, 120.0), st.floats(0.1, 0.6), PUSH_OFFS)
def test_push_off_work_lifts_the_body_over_push_off_and_jump(
    mass: float, height: float, push_off: float
) -> None:
    jump = squat_jump(mass, height, push_off)
    assert float(jump.force_n * push_off) == pytest.approx(mass * G * (push_off + height), rel=1e-12)
