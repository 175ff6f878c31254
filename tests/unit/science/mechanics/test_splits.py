import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.mechanics.splits import impossible_splits

GATES = [10.0, 20.0, 30.0, 40.0]


@pytest.mark.parametrize(
    ("times", "bad"),
    [
        ([1.9, 3.1, 4.2, 5.3], [False, False, False, False]),
        ([1.9, 3.1, 3.0, 5.3], [False, False, True, False]),
        ([1.9, 3.1, 3.5, 5.3], [False, False, True, False]),
        ([1.9, np.nan, 4.2, 4.3], [False, False, False, True]),
        ([9.9, 3.1, 4.2, 5.3], [False, True, True, True]),
    ],
)
def test_the_later_of_two_gates_is_named(times: list[float], bad: list[bool]) -> None:
    assert impossible_splits(GATES, times).tolist() == [bad]


def test_rows_are_judged_on_their_own() -> None:
    found = impossible_splits(GATES, [[1.9, 3.1, 4.2, 5.3], [2.11, 3.48, 4.74, 0.5]])
    assert found.tolist() == [[False] * 4, [False, False, False, True]]


def test_gates_stand_in_order() -> None:
    with pytest.raises(OutOfRangeError, match="order of the run"):
        impossible_splits([10.0, 30.0, 20.0], [1.9, 3.1, 4.2])
