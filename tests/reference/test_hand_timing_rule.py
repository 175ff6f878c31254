"""Hand to automatic times: the rule of masters' track rankings and combined events (read)."""

import pytest

from published import column, rows
from speedloom.errors import OutOfRangeError
from speedloom.science.hand_timing import displayed_automatic_time, rounded_hand_time

EXAMPLES = "hand_timing_examples"


def test_watch_readings_are_rounded_up() -> None:
    # 12.32 -> 12.4 read, the others recomputed.
    assert rounded_hand_time(column(EXAMPLES, "watch_s")) == pytest.approx(
        column(EXAMPLES, "hand_s"), abs=1e-12
    )


def test_shown_times_over_100_m() -> None:
    shown = displayed_automatic_time(column(EXAMPLES, "watch_s"), 100)
    assert shown == pytest.approx(column(EXAMPLES, "auto_equiv_s"), abs=1e-9)


@pytest.mark.parametrize(("distance", "row"), [(40, 0), (200, 0), (400, 1), (800, 2)])
def test_what_is_added_by_distance(distance: float, row: int) -> None:
    added = float(rows("hand_timing")[row]["add_s"])
    assert float(displayed_automatic_time(50.0, distance)) == pytest.approx(50.0 + added, abs=1e-9)


def test_where_sources_differ_nothing_is_shown() -> None:
    with pytest.raises(OutOfRangeError, match="sources differ in between"):
        displayed_automatic_time(40.0, 300)
