"""Hopkins 2000, Sports Med 30:1-15 and 2004, Sportscience 8:1-7: typical error and change (formulas read).

Numbers recomputed apart from our code.
"""

import numpy as np
import pytest

from speedloom.science.statistics.change import change_chances, change_verdict, smallest_worthwhile_change
from speedloom.science.statistics.reliability import typical_error

FIRST = [3.10, 3.05, 3.20, 3.15, 3.00, 3.25]
SECOND = [3.12, 3.03, 3.18, 3.19, 3.02, 3.22]


def test_typical_error_of_six_sprinters() -> None:
    assert float(np.std(np.subtract(FIRST, SECOND), ddof=1)) == pytest.approx(0.0285774, abs=5e-8)
    assert float(typical_error(FIRST, SECOND)) == pytest.approx(0.0202073, abs=5e-8)


def test_smallest_worthwhile_change_of_six_sprinters() -> None:
    assert float(smallest_worthwhile_change(FIRST)) == pytest.approx(0.0187083, abs=5e-8)


def test_a_jump_that_rose() -> None:
    chances = change_chances(0.05, typical_error=0.03, smallest_worthwhile=0.02, higher_is_better=True)
    parts = [float(part) for part in (chances.better, chances.trivial, chances.worse)]
    assert parts == pytest.approx([0.7602, 0.1903, 0.0495], abs=5e-5)


def test_a_time_that_fell() -> None:
    chances = change_chances(-0.06, typical_error=0.02, smallest_worthwhile=0.018, higher_is_better=False)
    parts = [float(part) for part in (chances.better, chances.trivial, chances.worse)]
    assert parts == pytest.approx([0.9312, 0.0659, 0.0029], abs=5e-5)
    # The thresholds of rule T1 (common practice).
    assert change_verdict(chances, likely=0.75, unlikely=0.05) == "better"
