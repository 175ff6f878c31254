"""A squad's changes together, and the best of several trials, against exact values and simulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import norm, t

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.best_of import best_shift, best_spread, mean_spread
from speedloom.science.statistics.change import change_chances
from speedloom.science.statistics.squad_change import error_factors, lone_chances, squad_change


def test_best_of_two_and_three_in_closed_form() -> None:
    # Exact: mean 1/√π and 3/(2√π); variance 1 - 1/π and 1 + √3/(2π) - 9/(4π).
    assert best_shift(2) == pytest.approx(1 / math.sqrt(math.pi), abs=1e-9)
    assert best_shift(3) == pytest.approx(1.5 / math.sqrt(math.pi), abs=1e-9)
    assert best_spread(2) ** 2 == pytest.approx(1 - 1 / math.pi, abs=1e-9)
    assert best_spread(3) ** 2 == pytest.approx(
        1 + math.sqrt(3) / (2 * math.pi) - 9 / (4 * math.pi), abs=1e-9
    )
    assert (best_shift(1), best_spread(1), mean_spread(1)) == pytest.approx((0, 1, 1), abs=1e-9)


def test_best_of_many_against_draws() -> None:
    draws = np.random.default_rng(3).standard_normal((200_000, 6)).max(axis=1)
    assert best_shift(6) == pytest.approx(draws.mean(), abs=0.005)
    assert best_spread(6) == pytest.approx(draws.std(), abs=0.005)


@pytest.mark.parametrize("count", [0, -1, 1001])
def test_no_such_number_of_trials(count: int) -> None:
    for function in (best_shift, best_spread, mean_spread):
        with pytest.raises(OutOfRangeError, match="Expected 1 to 1000 trials"):
            function(count)


def test_a_lone_athlete_with_a_known_error_is_read_as_hopkins_reads() -> None:
    lone = lone_chances([0.06, -0.01], error_sd=0.02 * math.sqrt(2), smallest_worthwhile=0.018)
    plain = change_chances(
        [0.06, -0.01], typical_error=0.02, smallest_worthwhile=0.018, higher_is_better=True
    )
    for name in ("better", "trivial", "worse"):
        assert getattr(lone, name) == pytest.approx(getattr(plain, name), abs=1e-12)


def test_an_error_of_few_repeats_makes_a_student_of_the_normal() -> None:
    lone = lone_chances(0.06, error_sd=0.03, smallest_worthwhile=0.018, freedom=10)
    assert float(lone.better) == pytest.approx(t.cdf(1.4, 10), abs=0.004)
    assert float(lone.better) < norm.cdf(1.4)
    assert error_factors(np.inf).tolist() == [1.0]


def test_squad_against_a_plain_sum_over_the_model() -> None:
    gains, errors, scale, smallest = np.array([0.08, 0.01, -0.02, 0.05]), 0.03, 0.06, 0.02
    # Importance sampling of the model as it is written, with no formula in common.
    rng = np.random.default_rng(8)
    mean = scale * rng.standard_normal(400_000)
    spread = scale * np.abs(rng.standard_normal(400_000))
    true = mean[:, None] + spread[:, None] * rng.standard_normal((400_000, 4))
    weight = np.exp(-0.5 * ((gains - true) / errors) ** 2).prod(axis=1)
    weight /= weight.sum()
    found = squad_change(gains, error_sds=errors, smallest_worthwhile=smallest, scale=scale)
    assert found.gain == pytest.approx(weight @ true, abs=0.001)
    assert found.sd == pytest.approx(np.sqrt(weight @ true**2 - (weight @ true) ** 2), abs=0.001)
    assert found.chances.better == pytest.approx(weight @ (true >= smallest), abs=0.01)
    assert found.chances.worse == pytest.approx(weight @ (true <= -smallest), abs=0.01)
    assert found.squad_mean == pytest.approx(float(weight @ mean), abs=0.001)
    assert found.spread == pytest.approx(float(weight @ spread), abs=0.001)


def test_what_is_noisier_is_drawn_further_and_order_means_nothing() -> None:
    gains = np.array([0.10, 0.00, 0.02, -0.04, 0.01])
    noisy = np.array([0.06, 0.01, 0.01, 0.01, 0.01])
    even = squad_change(gains, error_sds=0.01, smallest_worthwhile=0.02, scale=0.06)
    found = squad_change(gains, error_sds=noisy, smallest_worthwhile=0.02, scale=0.06)
    assert found.gain[0] < even.gain[0] < gains[0]
    turned = squad_change(gains[::-1], error_sds=noisy[::-1], smallest_worthwhile=0.02, scale=0.06)
    assert turned.gain[::-1] == pytest.approx(found.gain)
    whole = found.chances.better + found.chances.trivial + found.chances.worse
    assert whole == pytest.approx(np.ones(5))


@pytest.mark.parametrize(
    ("gains", "error", "scale"), [([0.1], 0.02, 0.06), ([0.1, 0.0], 0.0, 0.06), ([0.1, 0.0], 0.02, 0.0)]
)
def test_what_cannot_be_a_squad(gains: list[float], error: float, scale: float) -> None:
    with pytest.raises(OutOfRangeError, match="Expected"):
        squad_change(gains, error_sds=error, smallest_worthwhile=0.02, scale=scale)
    with pytest.raises(OutOfRangeError, match="degrees of freedom"):
        error_factors(0.0)


def test_the_spread_of_a_large_change_known_well_does_not_round_below_nothing() -> None:
    # As a difference of squares (1e12 less 1e12) the variance 1e-8 was rounded away, now and then below 0.
    found = squad_change([1e6, 1e6 + 1e-3], error_sds=1e-4, smallest_worthwhile=0.02, scale=0.06)
    assert found.sd == pytest.approx([1e-4, 1e-4], rel=0.05)
    assert found.squad_sd > 0
