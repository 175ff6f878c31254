"""Bands are of adults, of the athlete's sex, and from the widest group where the sport is not known."""

from __future__ import annotations

from datetime import date

import pytest

from speedloom.training.norm import Norm, load_norms
from speedloom.training.rule import load_rulebook
from speedloom.wording.bands import NONE, band_line
from speedloom.workflows.reference_bands import Beside, band_beside

ON = date(2026, 1, 3)
ADULT = date(2000, 5, 1)


def test_the_widest_group_of_the_sex_is_taken() -> None:
    found = band_beside(load_norms(), sex="female", born=ADULT, on=ON, distance_m=30.0)
    assert isinstance(found, Beside)
    timed = [norm for norm in load_norms() if norm.sex == "female" and norm.time_band(30.0)]
    assert found.norm.n == max(norm.n for norm in timed)
    assert found.band.distance_m == 30.0


@pytest.mark.parametrize(
    ("sex", "born", "distance", "why"),
    [
        (None, ADULT, 30.0, "sex_unknown"),
        ("male", None, 30.0, "age_unknown"),
        ("male", date(2008, 1, 4), 30.0, "minor"),
        ("male", ADULT, 33.0, "no_band"),
    ],
)
def test_no_band_says_why(sex: str | None, born: date | None, distance: float, why: str) -> None:
    found = band_beside(load_norms(), sex=sex, born=born, on=ON, distance_m=distance)  # type: ignore[arg-type]
    assert found == why
    assert band_line(why, own_s=None, rulebook=load_rulebook()) == NONE[why]


def test_eighteen_today_is_an_adult() -> None:
    found = band_beside(load_norms(), sex="male", born=date(2008, 1, 3), on=ON, distance_m=30.0)
    assert isinstance(found, Beside)


def test_the_line_says_the_group_and_that_it_is_timed_otherwise() -> None:
    found = band_beside(load_norms(), sex="female", born=ADULT, on=ON, distance_m=30.0)
    line = band_line(found, own_s=4.44, rulebook=load_rulebook())
    assert line.startswith("for orientation: 30 m (here 4.44 s); Football, women")
    assert "4.82 s, give or take 0.17 s" in line
    assert line.endswith("other timing, do not compare to the hundredth")


def test_a_group_without_times_gives_none() -> None:
    (sprinters,) = (norm for norm in load_norms() if norm.ref == "trained_sprinters_men")
    assert isinstance(sprinters, Norm)
    assert sprinters.time_band(30.0) is None
