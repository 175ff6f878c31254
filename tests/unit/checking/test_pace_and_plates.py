from __future__ import annotations

import math

import numpy as np
import pytest

from speedloom.checking.pace import distance_at, share_at
from speedloom.checking.plates import can_make, loadable_kg, nearest_kg
from speedloom.science.mechanics import exponential
from speedloom.training.kit import Kit

BAR = Kit(ref="bar", kind="barbell", place="gym", empty_kg=20.0, plates_kg=((10.0, 2), (2.5, 3)))
SLED = Kit(ref="sled", kind="sled", place="hall", empty_kg=7.5, plates_kg=((20.0, 1), (5.0, 2), (1.25, 1)))
DUMBBELLS = Kit(ref="bells", kind="dumbbell", place="gym", weights_kg=((10.0, 1), (12.5, 2), (15.0, 4)))


@pytest.mark.parametrize("length", [7.0, 9.4, 12.0])
def test_shares_are_those_of_the_exponential_model(length: float) -> None:
    metres = np.array([0.5, 5.0, 10.0, 20.0, 60.0, 150.0])
    expected = exponential.speed_at_distance(length, 1.0, metres) / length
    assert [share_at(float(each), length) for each in metres] == pytest.approx(list(expected), abs=1e-9)


@pytest.mark.parametrize("share", [0.5, 0.9, 0.95])
def test_distance_and_share_are_inverse(share: float) -> None:
    assert share_at(distance_at(share, 8.8), 8.8) == pytest.approx(share, abs=1e-12)


def test_points_of_a_run() -> None:
    # ENGINE 6: 2.05 L and 1.40 L (computed).
    assert distance_at(0.95, 1.0) == pytest.approx(2.0457, abs=1e-4)
    assert distance_at(0.90, 1.0) == pytest.approx(1.4026, abs=1e-4)
    assert math.isinf(distance_at(1.0, 8.0))
    assert share_at(0.0, 8.0) == 0.0


def test_a_bar_takes_plates_in_pairs() -> None:
    assert loadable_kg(BAR) == (20.0, 25.0, 40.0, 45.0)


def test_a_sled_takes_single_plates() -> None:
    assert loadable_kg(SLED)[:5] == (7.5, 8.75, 12.5, 13.75, 17.5)
    assert can_make(SLED, 38.75)
    assert not can_make(SLED, 10.0)


def test_two_dumbbells_weigh_twice_and_need_two_of_a_kind() -> None:
    assert loadable_kg(DUMBBELLS, pieces=2) == (25.0, 30.0)
    assert loadable_kg(DUMBBELLS) == (10.0, 12.5, 15.0)


@pytest.mark.parametrize(
    ("wanted", "at_most", "made"),
    [(32.5, None, 25.0), (32.6, None, 40.0), (3.0, None, 20.0), (44.0, 41.0, 40.0), (44.0, 15.0, None)],
)
def test_the_nearest_load_is_down_on_a_tie_and_never_above_a_cap(
    wanted: float, at_most: float | None, made: float | None
) -> None:
    assert nearest_kg(BAR, wanted, at_most=at_most) == made


def test_kit_without_known_masses_can_make_any() -> None:
    assert can_make(Kit(ref="band", kind="band", place="gym"), 17.3)
