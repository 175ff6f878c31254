"""Maturity offset: always a band, never for adults."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.growth import mirwald_offset, moore_offset


def test_every_offset_comes_with_its_band() -> None:
    ages = np.array([11.0, 13.0, 15.0])
    for offset in (
        mirwald_offset(ages, sex="female", height_m=1.6, sitting_height_m=0.82, mass_kg=48),
        moore_offset(ages, sex="male", height_m=1.6, sitting_height_m=0.82),
    ):
        assert offset.high - offset.low == pytest.approx(np.full(3, 2.0))
        assert (offset.low + offset.high) / 2 == pytest.approx(offset.years)
        assert offset.peak_age == pytest.approx(ages - offset.years)


@pytest.mark.parametrize(
    ("age", "height", "sitting", "words"),
    [(25.0, 1.7, 0.9, "youths"), (13.0, 160.0, 0.82, "centimetres"), (13.0, 1.2, 1.25, "below the height")],
)
def test_adults_and_wrong_units_are_refused(age: float, height: float, sitting: float, words: str) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        mirwald_offset(age, sex="male", height_m=height, sitting_height_m=sitting, mass_kg=48)
    with pytest.raises(OutOfRangeError, match=words):
        moore_offset(age, sex="male", height_m=height, sitting_height_m=sitting)
