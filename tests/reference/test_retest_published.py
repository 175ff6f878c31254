"""Published reliability data and worked chances, sent through the retest workflow as invented test days.

Bland and Altman 1986 (read), Shrout and Fleiss 1979 (read), Hopkins 2004 by prescription §9 and its worked
values 13 and 14 (computed), Lee and others 2024 (read, CC BY 4.0; badly timed on purpose of being shown).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np
import pytest

from published import column
from speedloom.training.measurement import Jump, Measurements, Split, Trial
from speedloom.training.rule import load_rulebook
from speedloom.workflows.retest import Panel, retest
from speedloom.workflows.retest_errors import GivenError

FIRST, LAST = date(2026, 1, 8), date(2026, 4, 2)
FAR_M = 1000.0
"""So long that any number of a table may stand as a time."""


def day(values: Iterable[Sequence[float]], *, on: date, distance_m: float = FAR_M) -> list[Trial]:
    """Write a row of trials for each athlete."""
    return [
        Trial(
            athlete=f"a{row:02d}", date=on, trial=number + 1, timing="gates", clock="unknown",
            splits=(Split(distance_m=distance_m, time_s=float(time)),),
        )
        for row, trials in enumerate(values)
        for number, time in enumerate(trials)
    ]  # fmt: skip


def panel(trials: Sequence[Trial], given: GivenError | None = None, *, distance_m: float = FAR_M) -> Panel:
    """Compare, and give the time's panel."""
    found = retest(
        Measurements(trials=tuple(trials)),
        trial_rule="best",
        rulebook=load_rulebook(),
        people={},
        given={f"split_time/{distance_m:g}m": given} if given else {},
    )
    return next(one for one in found.panels if one.measure.kind == "split_time")


METERS = [
    ("wright", 15.3612, 0.98305, 43.294, 43.2),
    ("mini", 20.4158, 0.96690, 56.316, 56.4),
]


@pytest.mark.parametrize(("meter", "error", "icc", "repeatability", "printed"), METERS)
def test_bland_altman_repeats(
    meter: str, error: float, icc: float, repeatability: float, printed: float
) -> None:
    repeats = np.stack([column("retest_bland_altman_1986", f"{meter}{number}") for number in (1, 2)], axis=-1)
    found = panel([*day(repeats, on=FIRST), *day(repeats[:, :1], on=LAST)]).error
    assert found is not None
    assert (found.kind, found.freedom, found.athletes) == ("own", 16.0, 17)
    assert found.value == pytest.approx(error, abs=5e-5)
    assert found.icc == pytest.approx(icc, abs=5e-6)
    assert found.repeatability == pytest.approx(repeatability, abs=5e-4)
    # The paper doubles an SD already rounded to 0.1.
    assert found.repeatability == pytest.approx(printed, abs=0.1)


def test_shrout_fleiss_ratings() -> None:
    ratings = np.stack([column("icc_shrout_fleiss_1979", f"j{number}") for number in range(1, 5)], axis=-1)
    found = panel([*day(ratings, on=FIRST, distance_m=10), *day(ratings[:, :1], on=LAST, distance_m=10)],
                  distance_m=10).error  # fmt: skip
    assert found is not None
    assert found.icc == pytest.approx(0.71484, abs=5e-6)
    # Residual mean square 1.0194, five targets' by three judges' degrees of freedom.
    assert (found.value**2, found.freedom) == (pytest.approx(1.0194, abs=5e-5), 15.0)


def test_worked_typical_error_and_spread() -> None:
    first = [3.10, 3.05, 3.20, 3.15, 3.00, 3.25]
    second = [3.12, 3.03, 3.18, 3.19, 3.02, 3.22]
    both = list(zip(first, second, strict=True))
    # Five degrees of freedom a day: with the same scatter on both days there are the ten that are needed.
    found = panel([*day(both, on=FIRST, distance_m=20), *day(both, on=LAST, distance_m=20)], distance_m=20)
    assert found.error is not None
    assert (found.error.value, found.error.freedom) == (pytest.approx(0.0202073, abs=5e-8), 10.0)
    single = panel(
        [*day([[one] for one in first], on=FIRST), *day([[one] for one in first], on=LAST)],
        GivenError(typical_error=1e-9),
    )
    # 0.2 of the SD of the first trials, when there is no noise to take out.
    assert single.smallest is not None
    assert (single.smallest.how, single.smallest.value) == (
        "squad_spread",
        pytest.approx(0.0187083, abs=5e-8),
    )


def test_worked_chances_of_a_time() -> None:
    found = panel(
        [*day([[4.50]], on=FIRST), *day([[4.44]], on=LAST)], GivenError(typical_error=0.02, smallest=0.018)
    )
    (change,) = found.changes
    assert (change.better, change.trivial, change.worse) == pytest.approx((0.9312, 0.0659, 0.0029), abs=5e-5)
    assert (change.verdict, change.chance) == ("better", change.better)
    assert found.squad is None


def test_worked_chances_where_more_is_better() -> None:
    jumps = tuple(
        Jump(athlete="a", date=on, trial=1, height_m=height) for on, height in ((FIRST, 0.30), (LAST, 0.35))
    )
    found = retest(
        Measurements(jumps=jumps), trial_rule="best", rulebook=load_rulebook(), people={},
        given={"jump_height": GivenError(typical_error=0.03, smallest=0.02)},
    )  # fmt: skip
    (change,) = found.panels[0].changes
    assert (change.better, change.trivial, change.worse) == pytest.approx((0.7602, 0.1903, 0.0495), abs=5e-5)
    assert change.verdict == "better"


LEE = [("5", 0.0774), ("10", 0.0741), ("20", 0.0912), ("30", 0.1487)]


@pytest.mark.parametrize(("distance", "control_error"), LEE)
def test_lee_2024_before_and_after(distance: str, control_error: float) -> None:
    before, after = (column("lee2024_sprint_prepost", f"{distance}sp_{end}") for end in ("Pre", "Post"))
    found = panel(
        [*day(before[:, None], on=FIRST, distance_m=float(distance)),
         *day(after[:, None], on=LAST, distance_m=float(distance))],
        GivenError(typical_error=control_error), distance_m=float(distance),
    )  # fmt: skip
    assert found.squad is not None
    raw = np.array([change.raw for change in found.changes])
    drawn = np.array([change.drawn for change in found.changes])
    assert raw == pytest.approx(after - before)
    # The noisy test keeps the squad's direction, and celebrates nobody by the size of one difference.
    assert found.squad.mean < 0
    assert drawn.std() < 0.75 * raw.std()
    assert abs(drawn - raw.mean()).max() < abs(raw - raw.mean()).max()
    for change in found.changes:
        assert change.better is not None
        assert change.verdict != "better" or change.better >= 0.75
