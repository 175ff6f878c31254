"""Bland and Altman 1986, Lancet i:307-310, Table 1: peak flow of 17 people, twice on two meters (read)."""

import numpy as np
import pytest

from published import column
from speedloom.science.statistics.reliability import (
    intraclass_correlations,
    limits_of_agreement,
    repeatability_coefficient,
    typical_error,
)

TABLE = "retest_bland_altman_1986"
WRIGHT = column(TABLE, "wright1"), column(TABLE, "wright2")
MINI = column(TABLE, "mini1"), column(TABLE, "mini2")


def test_method_comparison() -> None:
    # Published bias -2.1 and SD 38.8 l/min (read); limits -79.7 and 75.5 with two SDs follow from them.
    agreement = limits_of_agreement(WRIGHT[0], MINI[0], multiplier=2.0)
    assert round(float(agreement.mean), 1) == -2.1
    assert round(float(agreement.sd), 1) == 38.8
    assert (float(agreement.low), float(agreement.high)) == pytest.approx((-79.7, 75.5), abs=0.15)


@pytest.mark.parametrize(("trials", "published"), [(WRIGHT, 43.2), (MINI, 56.4)])
def test_repeatability(trials: tuple[np.ndarray, np.ndarray], published: float) -> None:
    # The paper doubles an SD already rounded to 0.1, so 0.1 is all that is known (43.29 and 56.32 exact).
    assert float(repeatability_coefficient(*trials)) == pytest.approx(published, abs=0.1)


@pytest.mark.parametrize(
    ("trials", "mean", "sd", "error", "icc"),
    [(WRIGHT, -4.9412, 21.7240, 15.3612, 0.98305), (MINI, 2.8824, 28.8723, 20.4158, 0.96690)],
)
def test_retest(
    trials: tuple[np.ndarray, np.ndarray], mean: float, sd: float, error: float, icc: float
) -> None:
    # Recomputed apart from our code.
    first, second = trials
    difference = limits_of_agreement(second, first)
    assert float(difference.mean) == pytest.approx(mean, abs=5e-5)
    assert float(difference.sd) == pytest.approx(sd, abs=5e-5)
    assert float(typical_error(*trials)) == pytest.approx(error, abs=5e-5)
    assert float(intraclass_correlations(np.stack(trials, axis=-1)).one_consistency) == pytest.approx(
        icc, abs=5e-6
    )
