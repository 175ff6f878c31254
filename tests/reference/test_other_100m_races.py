"""Split times of other 100 m finals: Seoul 1988 men (array read), women (memory); fits recomputed."""

import numpy as np
import pytest

from speedloom.science.mechanics.profile import fit_exponential

GATES = np.arange(10, 101, 10)
SEOUL_MEN = [1.83, 2.87, 3.80, 4.66, 5.50, 6.33, 7.17, 8.02, 8.89, 9.79]
SEOUL_SECOND = [1.89, 2.96, 3.90, 4.79, 5.65, 6.48, 7.33, 8.18, 9.04, 9.92]
SEOUL_WOMEN = [2.00, 3.09, 4.09, 5.04, 5.97, 6.89, 7.80, 8.71, 9.62, 10.54]


@pytest.mark.parametrize(
    ("splits", "reaction", "vmax", "tau", "largest"),
    [
        (SEOUL_MEN, 0.132, 11.790, 1.133, 0.043),
        (SEOUL_SECOND, 0.136, 11.742, 1.251, 0.054),
        (SEOUL_WOMEN, 0.131, 10.926, 1.262, 0.027),
    ],
)
def test_fit_in_time(splits: list[float], reaction: float, vmax: float, tau: float, largest: float) -> None:
    fit = fit_exponential(GATES, np.array(splits) - reaction, timing_sd_s=0.01, start="movement")
    assert fit.vmax_mps[0] == pytest.approx(vmax, abs=6e-4)
    assert fit.tau_s[0] == pytest.approx(tau, abs=6e-4)
    assert np.abs(fit.residual_s).max() == pytest.approx(largest, abs=6e-4)
