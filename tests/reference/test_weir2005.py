"""Weir 2005, J Strength Cond Res 19:231-240: error of measurement, minimal difference.

Formulas from memory, numbers recomputed.
"""

import pytest

from speedloom.science.statistics.change import minimal_detectable_change, standard_error_of_measurement


@pytest.mark.parametrize(("error", "expected"), [(0.020, 0.0554), (0.03, 0.08316)])
def test_minimal_detectable_change(error: float, expected: float) -> None:
    assert float(minimal_detectable_change(error)) == pytest.approx(expected, abs=5e-5)


def test_standard_error_of_measurement() -> None:
    assert float(standard_error_of_measurement(0.080, 0.95)) == pytest.approx(0.01789, abs=5e-6)
