"""Changes: chances sum to one, mirror each other, and shrinkage never adds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from speedloom.science.statistics.change import change_chances, change_verdict, shrink_changes

DIFFERENCES = st.floats(-5.0, 5.0)
ERRORS = st.floats(0.001, 5.0)
SMALLEST = st.floats(0.0, 5.0)


@given(DIFFERENCES, ERRORS, SMALLEST)
def test_chances_are_chances(difference: float, error: float, smallest: float) -> None:
    chances = change_chances(
        difference, typical_error=error, smallest_worthwhile=smallest, higher_is_better=True
    )
    parts = [float(chances.better), float(chances.trivial), float(chances.worse)]
    assert all(0.0 <= part <= 1.0 for part in parts)
    assert sum(parts) == pytest.approx(1.0, abs=1e-12)


@given(DIFFERENCES, ERRORS, SMALLEST)
def test_a_time_is_a_height_upside_down(difference: float, error: float, smallest: float) -> None:
    up = change_chances(difference, typical_error=error, smallest_worthwhile=smallest, higher_is_better=True)
    down = change_chances(
        difference, typical_error=error, smallest_worthwhile=smallest, higher_is_better=False
    )
    assert (up.better, up.worse) == (down.worse, down.better)
    assert float(up.trivial) == pytest.approx(float(down.trivial), abs=1e-12)


@given(DIFFERENCES, ERRORS, SMALLEST)
def test_better_agrees_with_scipy(difference: float, error: float, smallest: float) -> None:
    chances = change_chances(
        difference, typical_error=error, smallest_worthwhile=smallest, higher_is_better=True
    )
    expected = stats.norm.sf(smallest, loc=difference, scale=error * np.sqrt(2))
    assert float(chances.better) == pytest.approx(expected, abs=1e-12)


@given(DIFFERENCES, st.floats(0.0, 1.0), ERRORS, SMALLEST)
def test_a_bigger_gain_is_never_less_likely_better(
    difference: float, more: float, error: float, smallest: float
) -> None:
    pair = change_chances(
        [difference, difference + more],
        typical_error=error,
        smallest_worthwhile=smallest,
        higher_is_better=True,
    )
    assert pair.better[0] <= pair.better[1]
    assert pair.worse[0] >= pair.worse[1]


@given(DIFFERENCES, ERRORS, SMALLEST)
def test_verdict_never_contradicts_the_sign(difference: float, error: float, smallest: float) -> None:
    chances = change_chances(
        difference, typical_error=error, smallest_worthwhile=smallest, higher_is_better=True
    )
    verdict = str(change_verdict(chances, likely=0.75, unlikely=0.05))
    assert not (verdict == "better" and difference <= 0)
    assert not (verdict == "worse" and difference >= 0)


@given(st.lists(DIFFERENCES, min_size=2, max_size=30), ERRORS)
def test_shrunk_changes_keep_mean_and_order_and_stay_between(differences: list[float], error: float) -> None:
    observed = np.array(differences)
    shrunk = shrink_changes(observed, typical_error=error)
    assert float(shrunk.change.mean()) == pytest.approx(float(observed.mean()), abs=1e-9)
    assert 0.0 < shrunk.weight <= 1.0
    assert (np.abs(shrunk.change - observed.mean()) <= np.abs(observed - observed.mean()) + 1e-9).all()
    assert (np.diff(shrunk.change[np.argsort(observed)]) >= -1e-9).all()
    assert (shrunk.sd > 0.0).all()


def test_shrinkage_beats_the_raw_differences_in_simulation() -> None:
    # Squads of 12, true SD 0.04 s, typical error 0.03 s: the stated errors are also those met.
    draw = np.random.default_rng(20090816)
    truth = draw.normal(-0.05, 0.04, size=(2000, 12))
    observed = truth + draw.normal(0.0, 0.03 * np.sqrt(2), size=truth.shape)
    shrunk = shrink_changes(observed, typical_error=np.full(2000, 0.03))
    raw_error = np.sqrt(((observed - truth) ** 2).mean())
    own_error = np.sqrt(((shrunk.change - truth) ** 2).mean())
    assert own_error < 0.8 * raw_error
    assert own_error == pytest.approx(np.sqrt((shrunk.sd**2).mean()), rel=0.05)
    inside = np.abs(shrunk.change - truth) < 1.645 * shrunk.sd
    assert 0.88 < inside.mean() < 0.92
