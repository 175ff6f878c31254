"""The jump profile: batches and refusals."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics.jump_profile import (
    fit_jump_profile,
    jump_height_from_profile,
    optimal_jump_profile,
    profile_imbalance,
)

HEIGHTS, ADDED = np.array([0.36, 0.28, 0.215]), np.array([0.0, 20.0, 40.0])


def test_a_squad_is_fitted_as_each_athlete() -> None:
    squad = fit_jump_profile([HEIGHTS, 0.9 * HEIGHTS], ADDED, mass_kg=[80.0, 65.0], push_off_m=[0.40, 0.36])
    one = fit_jump_profile(0.9 * HEIGHTS, ADDED, mass_kg=65.0, push_off_m=0.36)
    assert squad.f0_npkg.shape == (2,)
    assert float(squad.f0_npkg[1]) == pytest.approx(float(one.f0_npkg), rel=1e-12)
    assert float(squad.slope[1]) == pytest.approx(float(one.slope), rel=1e-12)


def test_one_load_is_no_profile() -> None:
    with pytest.raises(OutOfRangeError, match="2 loads or more, got 1"):
        fit_jump_profile([0.36], [0.0], mass_kg=80.0, push_off_m=0.4)


@pytest.mark.parametrize("heights", [HEIGHTS[::-1], np.full(3, 0.3)])
def test_swapped_or_copied_heights_are_refused(heights: np.ndarray) -> None:
    with pytest.raises(OutOfRangeError, match="matched"):
        fit_jump_profile(heights, ADDED, mass_kg=80.0, push_off_m=0.4)


def test_too_little_force_does_not_leave_the_ground() -> None:
    with pytest.raises(OutOfRangeError, match="F0 above g"):
        jump_height_from_profile(9.0, 3.0, 0.4)


def test_watts_instead_of_watts_per_kilogram_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"Pmax .* was it in W\?"):
        optimal_jump_profile(2000.0, 0.4)


def test_slopes_need_their_sign() -> None:
    with pytest.raises(OutOfRangeError, match="without its sign"):
        profile_imbalance(12.25, -14.0)
    assert float(profile_imbalance(-14.0, -14.0)) == 0.0
