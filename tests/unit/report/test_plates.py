"""Plates for a load."""

from __future__ import annotations

import pytest

from speedloom.report.sheets.plates import plates_on, plates_text
from speedloom.training.kit import Kit

BAR = Kit(
    ref="bar",
    kind="barbell",
    place="gym",
    empty_kg=20.0,
    plates_kg=((20.0, 4), (10.0, 2), (5.0, 4), (2.5, 2), (1.25, 2)),
)
SLED = Kit(ref="sled", kind="sled", place="hall", empty_kg=12.0, plates_kg=((10.0, 2), (5.0, 4), (2.5, 1)))


@pytest.mark.parametrize(
    ("load", "words"),
    [
        (20.0, "empty bar"),
        (22.5, "1.25 each side"),
        (60.0, "20 each side"),
        (100.0, "20 + 20 each side"),
        (75.0, "20 + 5 + 2.5 each side"),
        (61.0, ""),
        (19.0, ""),
        (500.0, ""),
    ],
)
def test_a_bar(load: float, words: str) -> None:
    assert plates_text(load, BAR) == words


@pytest.mark.parametrize(
    ("load", "words"), [(12.0, "empty"), (22.0, "10"), (24.5, "10 + 2.5"), (27.0, "10 + 5"), (29.0, "")]
)
def test_a_sled(load: float, words: str) -> None:
    assert plates_text(load, SLED) == words


def test_fewest_plates_and_no_more_than_there_are() -> None:
    assert plates_on(42.0, SLED) == ((10.0, 2), (5.0, 2))
    assert plates_on(54.5, SLED) == ((10.0, 2), (5.0, 4), (2.5, 1))
    assert plates_on(57.0, SLED) is None
