import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import DECREMENT, VMAX, Range


def test_a_message_says_what_was_expected_what_came_and_what_to_do() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        VMAX.check([9.0, 31.0], "were the splits in yards?")
    assert str(caught.value) == "Expected vmax in [3, 13] m/s, got 31; were the splits in yards?"


def test_a_quantity_without_unit_has_none_in_its_message() -> None:
    with pytest.raises(OutOfRangeError, match=r"^Expected velocity decrement in \[0, 0.99\], got 25$"):
        DECREMENT.check(25.0)


def test_not_a_number_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="got nan"):
        VMAX.check(float("nan"))


def test_the_ends_belong_to_the_range() -> None:
    ends = Range("x", -1.0, 1.0, "m")
    assert ends.check([-1.0, 1.0]).tolist() == [-1.0, 1.0]
    assert ends.contains([-1.1, 0.0, np.nan]).tolist() == [False, True, False]
