"""Dates and times of day as coaches write them, in English whatever the machine speaks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time

from speedloom.training.words import WEEKDAYS

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def weekday(day: date) -> str:
    """Give the short weekday.

    >>> weekday(date(2026, 1, 12))
    'Mon'
    """
    return WEEKDAYS[day.weekday()][:3].capitalize()


def day_month(day: date) -> str:
    """Write a date without its year.

    >>> day_month(date(2026, 1, 12))
    'Mon 12 Jan'
    """
    return f"{weekday(day)} {day.day} {MONTHS[day.month - 1][:3]}"


def full_date(day: date) -> str:
    """Write a date in full.

    >>> full_date(date(2026, 1, 12))
    '12 January 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def span(first: date, last: date) -> str:
    """Write the dates from the first to the last.

    >>> span(date(2026, 1, 12), date(2026, 2, 1))
    'Mon 12 Jan to Sun 1 Feb'
    """
    return day_month(first) if first == last else f"{day_month(first)} to {day_month(last)}"


def between(first: date | None, last: date | None) -> str:
    """Write from when until when something holds; nothing where it always does.

    >>> between(None, date(2026, 2, 1))
    'until Sun 1 Feb'
    """
    if first and last:
        return span(first, last)
    return f"from {day_month(first)}" if first else f"until {day_month(last)}" if last else ""


def clock(at: time) -> str:
    """Write a time of day.

    >>> clock(time(18, 0))
    '18:00'
    """
    return f"{at.hour:02d}:{at.minute:02d}"


def runs(numbers: Iterable[int]) -> str:
    """Write whole numbers with their runs joined.

    >>> runs([1, 2, 3, 5])
    '1–3, 5'
    """
    groups: list[list[int]] = []
    for number in sorted(set(numbers)):
        if groups and number == groups[-1][-1] + 1:
            groups[-1].append(number)
        else:
            groups.append([number])
    return ", ".join(str(group[0]) if len(group) == 1 else f"{group[0]}–{group[-1]}" for group in groups)


def listing(words: Iterable[str]) -> str:
    """Join words as a sentence does.

    >>> listing(["hall", "turf", "gym"])
    'hall, turf and gym'
    """
    parts = list(words)
    return " and ".join(filter(None, (", ".join(parts[:-1]), *parts[-1:])))
