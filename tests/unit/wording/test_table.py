"""The progression table: rows a day and exercise, columns a week, readable at 120 columns."""

from __future__ import annotations

import re

import pytest

from small_programme import document, small_programme
from speedloom.training.exercise import load_catalogue
from speedloom.wording.table import Table, progression_table
from speedloom.wording.table_text import CHANGED, table_text

CATALOGUE = load_catalogue()


@pytest.fixture
def table() -> Table:
    return progression_table(small_programme(), "mila", catalogue=CATALOGUE)


def longer(weeks: int) -> Table:
    """Repeat the four weeks so that the table grows."""
    content = document()
    own = content["programmes"][0]
    four = own["weeks"]
    own["weeks"] = [
        {**four[index % 4], "number": index + 1, "mesocycle": index // 4 + 1} for index in range(weeks)
    ]
    return progression_table(small_programme(content), "mila", catalogue=CATALOGUE)


def test_days_and_rows(table: Table) -> None:
    assert [day.title for day in table.days] == ["Mon · field · heavier · hall · 18:00", "Wed · gym · 19:30"]
    assert [row.label for row in table.days[0].rows] == [
        "Standing run",
        "Sled",
        "Long jump, stick → Alternate bound for distance (3)",
    ]
    assert table.days[1].rows[2].label == "Split squat, each side"


def test_columns_say_the_kind_and_shade(table: Table) -> None:
    assert [(column.week, column.note, column.shade) for column in table.columns] == [
        (1, "introduction", "striped"),
        (2, "", ""),
        (3, "", ""),
        (4, "lighter", "striped"),
    ]


def test_only_other_work_is_marked(table: Table) -> None:
    sled = table.days[0].rows[1]
    texts = [(str(square.cell), square.changed) for square in sled.squares if square]
    assert texts == [
        ("3 × 10 · 20 kg", False),
        ("4 × 10 · 37.5 kg", False),
        ("5 × 15 · 35 kg", True),
        ("3 × 15 · 35 kg", False),
    ]


def test_a_week_without_the_line_is_empty() -> None:
    content = document()
    del content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]
    sled = progression_table(small_programme(content), "mila", catalogue=CATALOGUE).days[0].rows[1]
    assert [square is None for square in sled.squares] == [False, True, False, False]


def test_a_moved_day_and_another_place_are_said() -> None:
    content = document()
    content["programmes"][0]["weeks"][3]["sessions"][0]["place"] = "turf"
    table = progression_table(small_programme(content), "mila", catalogue=CATALOGUE)
    assert table.days[0].title == "Mon · field · heavier · hall, turf in week 4 · 18:00"


def test_an_unknown_athlete_is_an_error() -> None:
    with pytest.raises(KeyError):
        progression_table(small_programme(), "nobody", catalogue=CATALOGUE)


@pytest.mark.parametrize("weeks", [4, 8, 12, 15, 24])
def test_the_text_fits_120_columns(weeks: int) -> None:
    text = table_text(longer(weeks))
    assert max(len(line) for line in text.splitlines()) <= 120
    heads = " ".join(line for line in text.splitlines() if line.startswith("Week"))
    assert re.findall(r"\d+", heads) == [str(week) for week in range(1, weeks + 1)]


def test_the_text_loses_no_square() -> None:
    table = longer(24)
    squares = [square for day in table.days for row in day.rows for square in row.squares if square]
    text = table_text(table).replace(" ", "")
    assert text.count("×") == sum(square.cell.main.count("×") for square in squares)
    assert text.count(CHANGED) == 1 + sum(square.changed for square in squares)  # the legend's own
