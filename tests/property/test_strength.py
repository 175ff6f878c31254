"""Lifts: monotone, bounded, consistent, whatever the numbers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from speedloom.science.strength.one_rep_max import ESTIMATORS, combine_one_rep_max, estimate_one_rep_max
from speedloom.science.strength.repetitions import (
    repetitions_at_share,
    rir_from_rpe,
    rpe_from_rir,
    share_of_one_rep_max,
)

LOADS = st.floats(1.0, 500.0)
REPETITIONS = st.floats(1.0, 10.0)
SETS = st.lists(st.tuples(LOADS, st.floats(0.5, 50.0), st.floats(0.0, 200.0)), min_size=1, max_size=8)


@given(LOADS, REPETITIONS, REPETITIONS)
def test_more_repetitions_never_mean_a_lower_maximum(load: float, some: float, more: float) -> None:
    few, many = sorted((some, more))
    for estimator in ESTIMATORS:
        assert estimator(load, few) <= estimator(load, many)
    low, high = estimate_one_rep_max(load, few), estimate_one_rep_max(load, many)
    assert low.value <= high.value


@given(LOADS, REPETITIONS)
def test_estimate_is_ordered_and_never_below_the_load(load: float, repetitions: float) -> None:
    estimate = estimate_one_rep_max(load, repetitions)
    assert load * (1 - 1e-12) <= estimate.low <= estimate.value <= estimate.high
    assert estimate.sd >= 0.042 * estimate.value * (1 - 1e-12)


@given(LOADS, REPETITIONS, st.floats(0.1, 10.0))
def test_estimate_scales_with_the_load(load: float, repetitions: float, factor: float) -> None:
    one, scaled = (
        estimate_one_rep_max(load, repetitions),
        estimate_one_rep_max(min(load * factor, 1000), repetitions),
    )
    ratio = min(load * factor, 1000) / load
    assert float(scaled.value) == pytest.approx(ratio * float(one.value), rel=1e-12)
    assert float(scaled.sd) == pytest.approx(ratio * float(one.sd), rel=1e-9)


@given(st.floats(1.0, 12.0))
def test_chart_round_trip(repetitions: float) -> None:
    assert float(repetitions_at_share(share_of_one_rep_max(repetitions))) == pytest.approx(
        repetitions, abs=1e-9
    )


@given(st.integers(1, 11), st.integers(0, 10))
def test_one_more_in_reserve_is_never_heavier(repetitions: int, reserve: int) -> None:
    if repetitions + reserve < 12:
        heavier = share_of_one_rep_max(repetitions, reps_in_reserve=reserve)
        assert share_of_one_rep_max(repetitions, reps_in_reserve=reserve + 1) < heavier
        assert share_of_one_rep_max(repetitions + 1, reps_in_reserve=reserve) < heavier


@given(st.floats(0.0, 5.0))
def test_effort_round_trip(reserve: float) -> None:
    assert float(rir_from_rpe(rpe_from_rir(reserve))) == pytest.approx(reserve, abs=1e-12)


@given(SETS)
def test_combined_estimate_lies_among_its_sets(sets: list[tuple[float, float, float]]) -> None:
    values, sds, ages = map(np.array, zip(*sets, strict=True))
    combined = combine_one_rep_max(values, sds, ages)
    assert values.min() * (1 - 1e-9) <= combined.value <= values.max() * (1 + 1e-9)
    assert combined.prior_share == 0.0
    aged = sds * 2 ** (ages / 56)
    assert combined.sd <= aged.min() * (1 + 1e-9)


@given(SETS, LOADS, st.floats(0.5, 50.0), st.floats(0.0, 20.0))
def test_prior_pulls_towards_itself_and_narrows(
    sets: list[tuple[float, float, float]], prior: float, prior_sd: float, shared: float
) -> None:
    values, sds, ages = map(np.array, zip(*sets, strict=True))
    alone = combine_one_rep_max(values, sds, ages, shared_sd_kg=shared)
    drawn = combine_one_rep_max(values, sds, ages, shared_sd_kg=shared, prior_kg=prior, prior_sd_kg=prior_sd)
    assert abs(drawn.value - prior) <= abs(alone.value - prior) * (1 + 1e-9)
    assert drawn.sd <= min(float(alone.sd), prior_sd) * (1 + 1e-9)
    assert 0.0 < drawn.prior_share < 1.0


@given(SETS, st.floats(0.1, 100.0))
def test_older_news_is_less_sure(sets: list[tuple[float, float, float]], days: float) -> None:
    values, sds, ages = map(np.array, zip(*sets, strict=True))
    now, later = combine_one_rep_max(values, sds, ages), combine_one_rep_max(values, sds, ages + days)
    assert float(later.value) == pytest.approx(float(now.value), rel=1e-9)
    assert later.sd > now.sd
