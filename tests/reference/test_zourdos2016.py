"""Zourdos et al. 2016, J Strength Cond Res 30:267-275: rating of exertion by repetitions in reserve.

RPE 7-10 second-hand, RPE 5-6 memory; the lookup in the load chart is common practice, derived.
"""

import pytest

from speedloom.science.strength.repetitions import rir_from_rpe, rpe_from_rir, share_of_one_rep_max

LOWEST_RPE_OF_THE_BAND, FEWEST_AND_MOST_IN_RESERVE = (5, 6), (4, 6)


def test_whole_ratings() -> None:
    assert rir_from_rpe([10, 9, 8, 7]).tolist() == [0, 1, 2, 3]
    assert rpe_from_rir([0, 1, 2, 3]).tolist() == [10, 9, 8, 7]


def test_half_ratings_lie_inside_the_published_band() -> None:
    # 8.5 = 1-2 in reserve, 7.5 = 2-3 in reserve.
    one_or_two, two_or_three = rir_from_rpe([8.5, 7.5])
    assert 1 < one_or_two < 2 < two_or_three < 3


def test_low_ratings_lie_inside_their_wide_band() -> None:
    low, high = FEWEST_AND_MOST_IN_RESERVE
    assert all(low <= reserve <= high for reserve in rir_from_rpe(LOWEST_RPE_OF_THE_BAND))


def test_five_repetitions_at_eight_of_a_150_kg_lifter() -> None:
    share = share_of_one_rep_max(5, reps_in_reserve=rir_from_rpe(8))
    assert float(share) == 0.83
    assert float(150 * share) == pytest.approx(124.5)
