"""Williams et al. 2017, Br J Sports Med 51:209-210: exponentially weighted averages.

Formula read, numbers recomputed.
"""

import numpy as np
import pytest

from speedloom.science.statistics.load import smoothing_share, weighted_average


def test_weights_of_the_two_lines() -> None:
    assert smoothing_share(7) == 0.25
    assert smoothing_share(28) == pytest.approx(0.0689655, abs=5e-8)


def test_seven_day_line_seeded_by_its_first_day() -> None:
    line = weighted_average([400, 0, 600, 300, 0, 500, 0], days=7)
    assert line.tolist() == [400, 300, 375, 356.25, 267.1875, 325.390625, 244.04296875]


def test_doubled_week_after_three_steady_ones() -> None:
    loads = np.repeat([300.0, 600.0], [21, 7])
    acute, chronic = (float(weighted_average(loads, days=days)[-1]) for days in (7, 28))
    # Closed form; the worked example prints 559.9548338, two units too low in its last digit.
    assert acute == pytest.approx(600 - 300 * 0.75**7, rel=1e-13)
    assert acute == pytest.approx(559.9548338, abs=5e-7)
    assert chronic == pytest.approx(418.0795094, abs=5e-8)
    # The published ratio of such lines, 1.34 here, is milder than 600/375 = 1.6 of plain means.
    assert acute / chronic == pytest.approx(1.3393501, abs=5e-8)
