"""Load: bounded averages, scale-free monotony, a taper that is solved back."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from speedloom.science.statistics.load import monotony, strain, weekly_load, weighted_average
from speedloom.science.statistics.taper import taper_decay_days, taper_mean_share

WEEKS = st.lists(st.integers(0, 1500), min_size=7, max_size=7)
SEASONS = st.lists(st.floats(0.0, 1500.0), min_size=2, max_size=120)


@given(WEEKS, st.floats(0.1, 10.0))
def test_monotony_does_not_depend_on_the_unit(week: list[int], factor: float) -> None:
    one, other = float(monotony(week)), float(monotony(factor * np.array(week)))
    if len(set(week)) == 1:
        assert np.isnan(one)
    else:
        assert other == pytest.approx(one, rel=1e-9)
        assert float(strain(week)) == pytest.approx(float(weekly_load(week)) * one)


@given(WEEKS)
def test_monotony_is_highest_for_the_most_even_week(week: list[int]) -> None:
    if len(set(week)) > 1:
        assert float(monotony(week)) == pytest.approx(np.mean(week) / np.std(week, ddof=1), rel=1e-12)


@given(SEASONS, st.floats(1.0, 60.0))
def test_weighted_average_follows_its_recursion_and_stays_inside(season: list[float], days: float) -> None:
    line = weighted_average(season, days=days)
    share = 2 / (days + 1)
    value = season[0]
    for load, ours in zip(season, line, strict=True):
        value = share * load + (1 - share) * value
        assert float(ours) == pytest.approx(value, abs=1e-8)
    assert min(season) - 1e-9 <= line.min() <= line.max() <= max(season) + 1e-9


@given(st.floats(0.1, 0.95), st.integers(5, 28))
def test_taper_is_solved_back(share: float, days: int) -> None:
    assert taper_mean_share(days, decay_days=taper_decay_days(share, days)) == pytest.approx(share, abs=1e-10)
