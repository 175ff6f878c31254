"""The cells of one row turned into values; every fault is kept, with row and column."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from contextlib import suppress
from datetime import date
from typing import Any

from speedloom.exchange.error_cells import is_error
from speedloom.exchange.fault import Fault, did_you_mean, listed, shown
from speedloom.exchange.model_faults import as_ref, hint, unit_of
from speedloom.exchange.table import Row
from speedloom.training.words import WEEKDAYS

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_REF = re.compile(r"[a-z0-9_-]{1,40}")
_LONGEST_NUMBER = 20
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NAMED_DAY = re.compile(
    r"(?:([a-z]{3,9}),? )?(\d{1,2})\.? (jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|"
    r"aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?) (\d{4})"
)


def as_number(text: str) -> float | None:
    """Read a number with a decimal point or comma, or give None.

    >>> as_number("1,92")
    1.92
    """
    if len(text) > _LONGEST_NUMBER or not _NUMBER.fullmatch(text):
        return None
    value = float(text.replace(",", "."))
    return value if math.isfinite(value) else None


def as_day(text: str) -> date | None:
    """Read a date with the year first or with the month's name, or give None.

    08/01/2026 is a different day in different countries, and is not guessed.

    >>> as_day("2026-11-23"), as_day("23 Nov 2026"), as_day("08/01/2026")
    (datetime.date(2026, 11, 23), datetime.date(2026, 11, 23), None)
    """
    named = _NAMED_DAY.fullmatch(" ".join(text.split()).lower())
    with suppress(ValueError):
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
            return date.fromisoformat(text)
        if named:
            day = date(int(named[4]), _MONTHS.index(named[3][:3]) + 1, int(named[2]))
            # A weekday that the day is not tells of a slip: asked about, not read past.
            return day if named[1] is None or named[1][:3] == WEEKDAYS[day.weekday()][:3] else None
    return None


def is_ref(text: str) -> bool:
    """Say whether a text is spelled as a ref.

    >>> is_ref("back_squat"), is_ref("Back squat")
    (True, False)
    """
    return _REF.fullmatch(text) is not None


class RowCells:
    """One row's cells; what is wrong is added to a list of faults."""

    def __init__(self, file: str, row: Row, faults: list[Fault]) -> None:
        """Keep the row and where its faults go."""
        self._file, self._row, self._faults = file, row, faults

    def has(self, *columns: str) -> bool:
        """Say whether any of these cells is filled."""
        return any(column in self._row.cells for column in columns)

    def fault(self, column: str, expected: str, todo: str) -> None:
        """Keep a fault of a cell; a formula that failed is a fault of its own already."""
        if is_error(self._row.cells.get(column, "")):
            return
        came = shown(self._row.cells[column]) if column in self._row.cells else "an empty cell"
        self._faults.append(Fault(self._file, self._row.number, column, came, expected, todo))

    def text(self, column: str) -> str | None:
        """Give a cell as it is."""
        return self._row.cells.get(column)

    def needed(self, column: str, expected: str) -> str | None:
        """Give a cell that has to be filled."""
        if column not in self._row.cells:
            self.fault(column, expected, "fill it in")
        return self._row.cells.get(column)

    def number(self, column: str, *, low: float, high: float, unit: str = "") -> float | None:
        """Read a number in [low, high], or None for an empty or faulty cell."""
        text = self._row.cells.get(column)
        if text is None:
            return None
        value = as_number(text)
        unit = unit or unit_of(column)
        expected = f"a number from {low:g} to {high:g}{f' {unit}' if unit else ''}"
        if value is None:
            self.fault(column, expected, "write the number alone, or leave the cell empty")
        elif not low <= value <= high:
            self.fault(column, expected, hint(column, value, high))
            return None
        return value

    def whole(self, column: str, *, low: int, high: int) -> int | None:
        """Read a whole number in [low, high], or None for an empty or faulty cell."""
        value = self.number(column, low=low, high=high)
        if value is not None and value != int(value):
            self.fault(column, f"a whole number from {low} to {high}", "")
            return None
        return None if value is None else int(value)

    def day(self, column: str) -> date | None:
        """Read a date, or None for an empty or faulty cell."""
        text = self._row.cells.get(column)
        if text is None:
            return None
        day = as_day(text)
        if day is not None:
            return day
        self.fault(column, "a date, YYYY-MM-DD", "write 2026-01-08, or 8 Jan 2026")
        return None

    def word(self, column: str, words: Sequence[str]) -> Any:  # noqa: ANN401 — one of a Literal's words
        """Read one of several words, or None for an empty or faulty cell."""
        text = self._row.cells.get(column)
        if text is None:
            return None
        typed = re.sub(r"[\s-]+", "_", text.lower())
        if typed in words:
            return typed
        self.fault(
            column, f"one of {listed(words)}", did_you_mean(text, words, otherwise="choose one of them")
        )
        return None

    def ref(self, column: str) -> str | None:
        """Read a ref, or None for an empty or faulty cell."""
        text = self._row.cells.get(column)
        if text is not None and not is_ref(text):
            self.fault(column, "a ref of a–z, 0–9, _ and - (1 to 40 signs)", as_ref(text))
            return None
        return text
