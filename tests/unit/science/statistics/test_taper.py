"""Taper: refusals and the day count."""

import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.taper import exponential_taper_volume, taper_decay_days, taper_mean_share


def test_day_zero_is_the_last_full_day() -> None:
    assert float(exponential_taper_volume(320.0, 0, decay_days=5.0)) == 320.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: exponential_taper_volume(1.0, -1, decay_days=5.0), "day of the taper"),
        (lambda: exponential_taper_volume(1.0, 1, decay_days=0.0), "decay time"),
        (lambda: taper_decay_days(50, 14), "per cent"),
        (lambda: taper_mean_share(0, decay_days=5.0), "1 day or more"),
    ],
)
def test_unusable_inputs_are_named(call, words) -> None:  # noqa: ANN001
    with pytest.raises(OutOfRangeError, match=words):
        call()
