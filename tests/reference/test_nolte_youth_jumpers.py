"""Youth jumpers of Germany, doi 10.5281/zenodo.18886568 (CC BY 4.0): 300 rows, read.

Age and offset are printed to 0.01 year, so rounding explains 0.005 year and 0.004 year.
All 300 rows agree to that: the authors used this equation, so it checks our coding, not its truth.
"""

import numpy as np
import pytest

from published import rows
from speedloom.science.growth import Sex, mirwald_offset, moore_offset

ROUNDING_YEARS = 0.005 + 0.004


def measured(sex: Sex) -> dict[str, np.ndarray]:
    letter = sex[0]
    table = [row for row in rows("youth_jumpers_nolte") if row["sex"] == letter]
    return {key: np.array([float(row[key]) for row in table]) for key in ("CA", "BH", "SH", "BM", "dAPHV")}


@pytest.mark.parametrize(("sex", "count"), [("male", 125), ("female", 175)])
def test_every_row_agrees_within_its_rounding(sex: Sex, count: int) -> None:
    table = measured(sex)
    ours = mirwald_offset(
        table["CA"],
        sex=sex,
        height_m=table["BH"] / 100,
        sitting_height_m=table["SH"] / 100,
        mass_kg=table["BM"],
    ).years
    assert len(ours) == count
    assert np.abs(ours - table["dAPHV"]).max() < ROUNDING_YEARS


@pytest.mark.parametrize(("sex", "mean", "sd"), [("male", 0.0273, 0.1584), ("female", 0.4116, 0.2288)])
def test_two_published_equations_differ_by_part_of_the_band(sex: Sex, mean: float, sd: float) -> None:
    # Moore minus Mirwald on the same youths, recomputed: why a band is shown and nobody is selected by it.
    table = measured(sex)
    moore = moore_offset(
        table["CA"], sex=sex, height_m=table["BH"] / 100, sitting_height_m=table["SH"] / 100
    ).years
    difference = moore - table["dAPHV"]
    assert float(difference.mean()) == pytest.approx(mean, abs=5e-5)
    assert float(difference.std(ddof=1)) == pytest.approx(sd, abs=5e-5)
