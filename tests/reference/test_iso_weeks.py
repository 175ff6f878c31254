"""ISO 8601 weeks, recomputed with the standard library: our weeks start on the same Mondays."""

from datetime import date

import pytest

from published import rows
from speedloom.training.calendar import monday_of, week_number


@pytest.mark.parametrize("row", rows("iso_weeks"), ids=lambda row: row["date"])
def test_week_around_new_year(row: dict[str, str]) -> None:
    day = date.fromisoformat(row["date"])
    monday = date.fromisocalendar(int(row["iso_year"]), int(row["iso_week"]), 1)
    assert monday_of(day) == monday
    assert (day - monday).days + 1 == int(row["iso_weekday"])
    assert week_number(day, start=monday) == 1
