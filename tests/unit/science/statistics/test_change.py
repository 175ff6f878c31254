"""Chances, verdicts and shrinkage: limits and refusals."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.statistics.change import (
    ChangeChances,
    change_chances,
    change_verdict,
    minimal_detectable_change,
    shrink_changes,
    smallest_worthwhile_change,
    smallest_worthwhile_change_solo,
    standard_error_of_measurement,
)


def chances(better: float, trivial: float, worse: float) -> ChangeChances:
    return ChangeChances(np.asarray(better), np.asarray(trivial), np.asarray(worse))


@pytest.mark.parametrize(
    ("parts", "verdict"),
    [
        ((0.93, 0.06, 0.01), "better"),
        ((0.01, 0.06, 0.93), "worse"),
        ((0.10, 0.80, 0.10), "trivial"),
        ((0.60, 0.39, 0.01), "unclear"),
        ((0.80, 0.12, 0.08), "unclear"),
        ((0.75, 0.20, 0.05), "better"),
    ],
)
def test_verdicts_by_the_rulebook_numbers(parts: tuple[float, float, float], verdict: str) -> None:
    assert change_verdict(chances(*parts), likely=0.75, unlikely=0.05) == verdict


def test_thresholds_in_per_cent_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="per cent"):
        change_verdict(chances(0.9, 0.1, 0.0), likely=75, unlikely=5)


def test_noise_is_stripped_from_the_spread() -> None:
    times = [3.10, 3.05, 3.20, 3.15, 3.00, 3.25]
    sd = float(np.std(times, ddof=1))
    stripped = smallest_worthwhile_change(times, typical_error=0.6 * sd)
    assert float(stripped) == pytest.approx(0.2 * 0.8 * sd)


def test_athletes_that_noise_explains_have_no_worthwhile_change() -> None:
    with pytest.raises(OutOfRangeError, match="cannot tell these athletes apart"):
        smallest_worthwhile_change([3.0, 3.02], typical_error=0.05)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: smallest_worthwhile_change([3.0]), "2 or more athletes"),
        (lambda: smallest_worthwhile_change_solo(0.0), "race-to-race SD above 0"),
        (lambda: minimal_detectable_change(0.0), "repeats all equal"),
        (lambda: minimal_detectable_change(0.02, confidence=95), "per cent"),
        (lambda: standard_error_of_measurement(0.08, -0.2), "ICC in"),
        (lambda: shrink_changes([0.1], typical_error=0.02), "2 or more athletes"),
        (lambda: shrink_changes([0.1, 0.2], typical_error=0.0), "typical error above 0"),
    ],
)
def test_unusable_inputs_are_named(call, words) -> None:  # noqa: ANN001
    with pytest.raises(OutOfRangeError, match=words):
        call()


@pytest.mark.parametrize(("error", "smallest"), [(0.0, 0.01), (0.02, -0.01), (np.nan, 0.01)])
def test_chances_need_an_error_and_no_sign(error: float, smallest: float) -> None:
    with pytest.raises(OutOfRangeError, match="Expected"):
        change_chances(0.1, typical_error=error, smallest_worthwhile=smallest, higher_is_better=True)


def test_shrinkage_by_hand() -> None:
    # Five differences of variance 10e-4, noise 2·(0.02)² = 8e-4: drawn by 2/4 of 8/10.
    shrunk = shrink_changes(np.array([-0.04, -0.02, 0.0, 0.02, 0.04]), typical_error=0.02)
    assert float(shrunk.weight) == pytest.approx(0.6)
    assert shrunk.change == pytest.approx([-0.024, -0.012, 0.0, 0.012, 0.024])
    assert float(shrunk.true_sd) == pytest.approx(np.sqrt(2e-4))
    assert float(shrunk.sd[2]) == pytest.approx(np.sqrt(8e-4 * (1 - 0.8 * 0.4)))
    assert float(shrunk.sd[0]) == pytest.approx(np.sqrt(8e-4 * (1 - 0.8 * 0.4) + (0.4 * 0.04) ** 2))


def test_three_athletes_are_no_squad_to_learn_from() -> None:
    shrunk = shrink_changes([-0.04, 0.0, 0.04], typical_error=0.02)
    assert shrunk.change == pytest.approx([-0.04, 0.0, 0.04])
    assert shrunk.sd == pytest.approx(np.full(3, 0.02 * np.sqrt(2)))


def test_squads_on_leading_axes() -> None:
    shrunk = shrink_changes([[-0.04, 0.0, 0.04], [0.1, 0.2, 0.3]], typical_error=[0.02, 0.01])
    assert shrunk.change.shape == shrunk.sd.shape == (2, 3)
    assert shrunk.squad_mean == pytest.approx([0.0, 0.2])
