"""Lee et al. 2024, PLOS ONE doi 10.1371/journal.pone.0299204, S1 file (CC BY 4.0): 19 youths, read.

Timed poorly (in 12 rows the 20-30 m segment is slower than the one before), so it shows what a noisy test
may not claim. Typical errors were recomputed apart from our code; chances are checked against scipy.stats.
"""

import numpy as np
import pytest
from scipy import stats

from published import column
from speedloom.science.statistics.change import (
    change_chances,
    change_verdict,
    minimal_detectable_change,
    shrink_changes,
)
from speedloom.science.statistics.reliability import typical_error

TABLE = "lee2024_sprint_prepost"
TRAINED = column(TABLE, "Group") == 1
DISTANCES = [("5", 0.0774), ("10", 0.0741), ("20", 0.0912), ("30", 0.1487)]


def before_after(distance: str) -> tuple[np.ndarray, np.ndarray]:
    return column(TABLE, f"{distance}sp_Pre"), column(TABLE, f"{distance}sp_Post")


def control_error(distance: str) -> float:
    before, after = before_after(distance)
    return float(typical_error(before[~TRAINED], after[~TRAINED]))


@pytest.mark.parametrize(("distance", "expected"), DISTANCES)
def test_typical_error_of_the_control_group(distance: str, expected: float) -> None:
    assert control_error(distance) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize("distance", ["5", "10", "20", "30"])
def test_chances_against_scipy(distance: str) -> None:
    before, after = before_after(distance)
    error = control_error(distance)
    smallest = 0.2 * before.std(ddof=1)
    chances = change_chances(
        after - before, typical_error=error, smallest_worthwhile=smallest, higher_is_better=False
    )
    true_change = stats.norm(after - before, error * np.sqrt(2))
    assert chances.better == pytest.approx(true_change.cdf(-smallest), abs=1e-12)
    assert chances.worse == pytest.approx(true_change.sf(smallest), abs=1e-12)
    assert chances.better + chances.trivial + chances.worse == pytest.approx(np.ones(19), abs=1e-12)


def test_most_single_changes_over_30_m_stay_within_the_noise() -> None:
    before, after = before_after("30")
    detectable = float(minimal_detectable_change(control_error("30")))
    assert detectable == pytest.approx(1.96 * np.sqrt(2) * 0.1487, abs=5e-4)
    # Of 9 trained youths 2 exceed it.
    assert int((before - after > detectable)[TRAINED].sum()) == 2


def test_shrinkage_keeps_the_group_and_calms_the_single_athlete() -> None:
    before, after = before_after("30")
    change = (after - before)[TRAINED]
    shrunk = shrink_changes(change, typical_error=control_error("30"))
    assert float(shrunk.squad_mean) == pytest.approx(change.mean())
    # The spread of nine changes is smaller than the noise alone would make it: the least possible is kept,
    # 1 - (n - 3)/(n - 1).
    assert change.std(ddof=1) < np.sqrt(2) * control_error("30")
    assert float(shrunk.weight) == pytest.approx(0.25)
    assert shrunk.change - change.mean() == pytest.approx(0.25 * (change - change.mean()))
    assert stats.ttest_1samp(change, 0).pvalue < 0.01


def test_verdicts_differ_when_noise_is_ignored() -> None:
    before, after = before_after("5")
    change = after - before
    smallest = 0.2 * before.std(ddof=1)

    def better(error: float) -> int:
        chances = change_chances(
            change, typical_error=error, smallest_worthwhile=smallest, higher_is_better=False
        )
        return int((change_verdict(chances, likely=0.75, unlikely=0.05) == "better").sum())

    # With the control group's error against the 0.016 s an electronic test is quoted with.
    assert better(control_error("5")) < better(0.016)
