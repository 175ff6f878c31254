"""Hand times: rounding up without floating-point surprises."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.hand_timing import displayed_automatic_time, rounded_hand_time


def test_every_tenth_stays_itself() -> None:
    tenths = np.arange(20, 500) / 10
    assert (rounded_hand_time(tenths) == tenths).all()


def test_every_hundredth_above_goes_up() -> None:
    tenths = np.arange(20, 500) / 10
    assert rounded_hand_time(tenths + 0.01) == pytest.approx(tenths + 0.1, abs=1e-12)


@pytest.mark.parametrize(
    ("watch", "distance", "words"), [(5100.0, 40, "Expected"), (5.1, 0, "distance up to")]
)
def test_impossible_readings_are_refused(watch: float, distance: float, words: str) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        displayed_automatic_time(watch * 10 if distance else watch, distance)
