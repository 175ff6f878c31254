"""The load chart, effort, velocity loss and progression."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.strength.repetitions import (
    SHARE_BY_REPETITIONS,
    repetitions_at_share,
    rir_from_rpe,
    rpe_from_rir,
    share_of_one_rep_max,
    two_for_two,
    velocity_loss,
)


def test_chart_rows_come_back_exactly() -> None:
    rows = np.array(list(SHARE_BY_REPETITIONS))
    assert share_of_one_rep_max(rows).tolist() == list(SHARE_BY_REPETITIONS.values())


def test_reserve_moves_down_the_chart() -> None:
    assert share_of_one_rep_max(5, reps_in_reserve=[0, 1, 2, 3]).tolist() == [0.87, 0.85, 0.83, 0.80]


def test_half_a_repetition_lies_between_rows() -> None:
    assert share_of_one_rep_max(5, reps_in_reserve=1.5) == pytest.approx(0.84)


def test_rows_beyond_twelve_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"reps in reserve in \[1, 12\], got 13; the load chart ends"):
        share_of_one_rep_max(10, reps_in_reserve=3)


def test_per_cent_instead_of_a_share_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="per cent"):
        repetitions_at_share(80)


def test_chart_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        SHARE_BY_REPETITIONS[1] = 0.5  # type: ignore[index]


def test_effort_scale_ends_at_five_in_reserve() -> None:
    assert rpe_from_rir([0, 2, 5]).tolist() == [10.0, 8.0, 5.0]
    assert rir_from_rpe([10, 9.5, 8]).tolist() == [0.0, 0.5, 2.0]
    with pytest.raises(OutOfRangeError, match="got 6"):
        rpe_from_rir(6)
    with pytest.raises(OutOfRangeError, match="got 4"):
        rir_from_rpe(4)


def test_velocity_loss_needs_a_moving_bar() -> None:
    assert velocity_loss(0.8, [0.8, 0.72, 0.88]) == pytest.approx([0.0, 0.1, -0.1])
    with pytest.raises(OutOfRangeError, match="above 0 m/s"):
        velocity_loss(0.0, 0.5)


def test_load_goes_up_after_two_sessions_two_over() -> None:
    assert two_for_two(8, [10, 12, 10, 9], [10, 10, 9, 12]).tolist() == [True, True, False, False]
