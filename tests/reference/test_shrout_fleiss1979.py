"""Shrout and Fleiss 1979, Psychol Bull 86:420-428, Table 2: six intraclass correlations (read).

Published .17 .29 .71 .44 .62 .91; five digits recomputed twice apart from our code.
"""

import numpy as np
import pytest

from published import column
from speedloom.science.statistics.reliability import intraclass_correlations, mean_squares

RATINGS = np.stack([column("icc_shrout_fleiss_1979", judge) for judge in ("j1", "j2", "j3", "j4")], axis=-1)
FORMS = [
    ("one_random", 0.17, 0.16574),
    ("one_agreement", 0.29, 0.28976),
    ("one_consistency", 0.71, 0.71484),
    ("mean_random", 0.44, 0.44280),
    ("mean_agreement", 0.62, 0.62005),
    ("mean_consistency", 0.91, 0.90932),
]


@pytest.mark.parametrize(("form", "published", "recomputed"), FORMS)
def test_six_forms(form: str, published: float, recomputed: float) -> None:
    value = float(getattr(intraclass_correlations(RATINGS), form))
    assert round(value, 2) == published
    assert value == pytest.approx(recomputed, abs=5e-6)


def test_mean_squares() -> None:
    ms = mean_squares(RATINGS)
    values = [float(part) for part in (ms.targets, ms.within, ms.judges, ms.residual)]
    assert values == pytest.approx([11.2417, 6.2639, 32.4861, 1.0194], abs=5e-5)
