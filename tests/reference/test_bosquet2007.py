"""Bosquet et al. 2007, Med Sci Sports Exerc 39:1358-1365: two weeks, volume down 41-60 %, exponential (read).

The decay that cuts half on average was computed apart from our code (recomputed).
"""

import pytest

from speedloom.science.statistics.taper import exponential_taper_volume, taper_decay_days, taper_mean_share


def test_half_the_volume_over_two_weeks() -> None:
    assert taper_decay_days(0.5, 14) == pytest.approx(9.6230, abs=5e-4)
    assert taper_mean_share(14, decay_days=9.6230) == pytest.approx(0.5, abs=5e-5)


def test_share_left_on_single_days() -> None:
    left = exponential_taper_volume(100.0, [1, 7, 14], decay_days=9.623)
    assert left == pytest.approx([90.1, 48.3, 23.3], abs=0.06)


@pytest.mark.parametrize("cut", [0.41, 0.60])
@pytest.mark.parametrize("days", [8, 14])
def test_ends_of_the_published_cut_are_reached(cut: float, days: int) -> None:
    assert 1 - taper_mean_share(days, decay_days=taper_decay_days(1 - cut, days)) == pytest.approx(
        cut, abs=1e-12
    )
