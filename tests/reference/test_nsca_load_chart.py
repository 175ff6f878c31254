"""Load chart of a strength textbook, share of 1RM by repetitions (rows 1-10 second-hand, 11-12 memory)."""

import pytest

from speedloom.science.strength.repetitions import repetitions_at_share, share_of_one_rep_max

SECOND_HAND = [100, 95, 93, 90, 87, 85, 83, 80, 77, 75]
MEMORY = [70, 67]


def test_rows_one_to_ten() -> None:
    assert share_of_one_rep_max(range(1, 11)) * 100 == pytest.approx(SECOND_HAND, rel=1e-14)


def test_rows_eleven_and_twelve() -> None:
    # Memory; two pages give 12 -> 70 and one 11 -> 73, so these two rows are no more than a start.
    assert share_of_one_rep_max([11, 12]) * 100 == pytest.approx(MEMORY, rel=1e-14)


@pytest.mark.parametrize(("per_cent", "repetitions"), [(85, 6), (67, 12)])
def test_goal_bands_sit_on_the_chart(per_cent: int, repetitions: int) -> None:
    # Strength: 85 % and more, six and fewer; hypertrophy down to 67 %, twelve (second-hand).
    assert float(repetitions_at_share(per_cent / 100)) == pytest.approx(repetitions)
