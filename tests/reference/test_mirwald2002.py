"""Mirwald et al. 2002, Med Sci Sports Exerc 34:689-694: maturity offset (read, recomputed)."""

import pytest

from speedloom.science.growth import Sex, mirwald_offset

EXAMPLES = [
    ("male", 13.0, 1.60, 0.82, 48.0, -0.8104),
    ("male", 14.5, 1.72, 0.88, 60.0, 0.7474),
    ("female", 12.0, 1.52, 0.79, 42.0, -0.0401),
    ("female", 13.2, 1.62, 0.85, 52.0, 1.2904),
]


@pytest.mark.parametrize(("sex", "age", "height", "sitting", "mass", "expected"), EXAMPLES)
def test_worked_offsets(
    sex: Sex, age: float, height: float, sitting: float, mass: float, expected: float
) -> None:
    offset = mirwald_offset(age, sex=sex, height_m=height, sitting_height_m=sitting, mass_kg=mass)
    assert float(offset.years) == pytest.approx(expected, abs=5e-5)
    assert float(offset.peak_age) == pytest.approx(age - expected, abs=5e-5)


def test_ratio_is_times_one_hundred() -> None:
    # One page drops the factor and would give -1.4911 for the first boy.
    offset = mirwald_offset(13.0, sex="male", height_m=1.60, sitting_height_m=0.82, mass_kg=48.0)
    assert float(offset.years) - -1.4911 == pytest.approx(0.02292 * 99 * 48 / 160, abs=1e-4)


@pytest.mark.parametrize("published_error", [0.59, 0.57])
def test_band_covers_the_published_standard_error(published_error: float) -> None:
    offset = mirwald_offset(13.0, sex="male", height_m=1.60, sitting_height_m=0.82, mass_kg=48.0)
    assert (
        float(offset.high - offset.years) == float(offset.years - offset.low) == 1.0 > 1.6 * published_error
    )
