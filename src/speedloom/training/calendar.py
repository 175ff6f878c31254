"""Slots that can be trained in, and what else happens on a date."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from pydantic import Field, model_validator

from speedloom.training.fields import Day, Frozen, Ref, TimeOfDay
from speedloom.training.words import WEEKDAYS, EventKind, Weekday


class Slot(Frozen):
    """A weekday, a start, minutes and a place; `open` lets the solver choose another day."""

    ref: Ref = Field(description="The slot's own name in the file.")
    day: Weekday = Field(description="The weekday.")
    start: TimeOfDay = Field(description="When it begins; TOML writes seconds too.")
    minutes: int = Field(ge=10, le=300, description="How long it is, 10 to 300 [min].")
    place: Ref = Field(description="The place.")
    from_: Day | None = Field(default=None, alias="from", description="First day it exists.")
    until: Day | None = Field(default=None, description="Last day it exists.")
    open: bool = Field(default=False, description="True: another day may be chosen.")

    def on(self, monday: date) -> date:
        """Give the slot's date in the week of a Monday."""
        return monday + timedelta(days=WEEKDAYS.index(self.day))

    def holds(self, day: date) -> bool:
        """Say whether the slot exists on a date (from and until are inclusive)."""
        return (self.from_ is None or self.from_ <= day) and (self.until is None or day <= self.until)


class Event(Frozen):
    """A match, competition, test day, exam, travel day or holiday."""

    kind: EventKind = Field(description="What it is; it decides whether and how hard is trained around it.")
    title: str = Field(default="", description="What it is called on paper.")
    date: Day = Field(description="The day, or the first of them.")
    until: Day | None = Field(default=None, description="The last day.")
    start: TimeOfDay | None = Field(default=None, description="When it begins.")
    training: Literal["none", "possible"] | None = Field(
        default=None, description="Whether training is possible on its days; absent: as usual for its kind."
    )

    @model_validator(mode="after")
    def _order(self) -> Event:
        if self.until is not None and self.until < self.date:
            msg = f"expected until on or after {self.date}, got {self.until}"
            raise ValueError(msg)
        return self

    def covers(self, day: Day) -> bool:
        """Say whether the event takes in a date."""
        return self.date <= day <= (self.until or self.date)


class Away(Frozen):
    """Days on which one athlete cannot train."""

    date: Day = Field(description="The day, or the first of them.")
    until: Day | None = Field(default=None, description="The last day.")

    def covers(self, day: Day) -> bool:
        """Say whether the athlete is away on a date."""
        return self.date <= day <= (self.until or self.date)


class Peak(Frozen):
    """A date to be fast on: main (taper) or minor (last days lighter)."""

    date: Day = Field(description="The day.")
    size: Literal["main", "minor"] = Field(
        default="main", description="Main: with a taper. Minor: the last days are lighter."
    )


def monday_of(day: date) -> date:
    """Give the Monday of a date's week (ISO 8601).

    >>> monday_of(date(2026, 1, 15))
    datetime.date(2026, 1, 12)
    """
    return day - timedelta(days=day.weekday())


def week_number(day: date, *, start: date) -> int:
    """Number a date's week; week 1 is the one that holds the start.

    >>> week_number(date(2026, 1, 19), start=date(2026, 1, 14))
    2
    """
    return (monday_of(day) - monday_of(start)).days // 7 + 1
