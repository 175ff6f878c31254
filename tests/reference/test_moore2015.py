"""Moore et al. 2015, Med Sci Sports Exerc 47:1755-1764: maturity offset (read, recomputed)."""

import pytest

from speedloom.science.growth import moore_offset


def test_boy_with_sitting_height() -> None:
    offset = moore_offset(13.0, sex="male", height_m=1.60, sitting_height_m=0.82)
    # 0.0070346 * 13 * 82 - 8.128741 by hand.
    assert float(offset.years) == pytest.approx(-0.6298574, abs=1e-7)
    assert (float(offset.low), float(offset.high)) == pytest.approx((-1.6298574, 0.3701426), abs=1e-7)


def test_misprinted_constant_is_not_used() -> None:
    # One journal table prints -8.125741: three thousandths of a year higher.
    offset = moore_offset(13.0, sex="male", height_m=1.60, sitting_height_m=0.82)
    assert float(offset.years) != pytest.approx(-0.6268574, abs=1e-4)


def test_girl_and_boy_by_standing_height() -> None:
    # 0.0042232 * 12 * 152 - 7.709133 and 0.0036124 * 13 * 160 - 7.999994 by hand.
    assert float(moore_offset(12.0, sex="female", height_m=1.52).years) == pytest.approx(-0.0060162, abs=1e-7)
    assert float(moore_offset(13.0, sex="male", height_m=1.60).years) == pytest.approx(-0.486202, abs=1e-7)
