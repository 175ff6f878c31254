"""Two-for-two rule of Baechle and Earle's textbook (second-hand): two over, last set, twice running."""

import pytest

from speedloom.science.strength.repetitions import two_for_two


@pytest.mark.parametrize(
    ("last", "before", "expected"),
    [(10, 10, "up"), (11, 10, "up"), (10, 8, "stay"), (9, 10, "stay"), (9, 9, "stay")],
)
def test_three_sets_of_six_to_eight(last: int, before: int, expected: str) -> None:
    assert ("up" if two_for_two(8, last, before) else "stay") == expected
