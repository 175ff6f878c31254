"""What lies on the days of a month, and in the weeks of a season."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from speedloom.store.cards import AthleteCard
from speedloom.training.brief import Brief
from speedloom.training.calendar import Event, Slot, monday_of, week_number
from speedloom.training.words import WEEKDAYS
from speedloom.wording.dates import MONTHS, between, clock, day_month, listing, span, weekday
from speedloom.wording.names import place_name, word

MONTH = re.compile(r"(\d{4})-(\d{2})")
WEEK = timedelta(days=7)
FIRST_YEAR, LAST_YEAR = 1900, 2200


@dataclass(frozen=True)
class Entry:
    """One thing on a day: an event by its number, an absence by its athlete, a slot or a peak."""

    kind: str
    text: str
    number: int | None = None
    athlete: str | None = None
    slot: str | None = None


@dataclass(frozen=True)
class DayShown:
    """One day of the month."""

    day: date
    inside: bool
    today: bool
    entries: tuple[Entry, ...]

    @property
    def weekday(self) -> str:
        """The short weekday, for screens without a head above the days."""
        return weekday(self.day)


@dataclass(frozen=True)
class WeekShown:
    """One row of the month; the number is that of the programme's week."""

    number: int | None
    days: tuple[DayShown, ...]


@dataclass(frozen=True)
class SeasonWeek:
    """One row of the season."""

    number: int
    dates: str
    now: bool
    slots: str
    entries: tuple[Entry, ...]
    peaks: str


@dataclass(frozen=True)
class CalendarBook:
    """A squad's brief and people, asked by the day."""

    brief: Brief
    people: tuple[AthleteCard, ...]
    today: date

    @cached_property
    def away(self) -> tuple[tuple[AthleteCard, date, date], ...]:
        """Every absence with its athlete, first and last day."""
        return tuple(
            (card, away.date, away.until or away.date) for card in self.people for away in card.athlete.away
        )

    def entries(self, day: date) -> Iterator[Entry]:
        """Give what lies on a day: peaks, events, slots, absences."""
        yield from self._peaks(day)
        for number, event in enumerate(self.brief.events, 1):
            if event.covers(day):
                yield Entry("event", event_title(event), number=number)
        if self.brief.start <= day <= self.brief.end:
            slots = (slot for slot in self.brief.slots if slot.on(monday_of(day)) == day and slot.holds(day))
            for slot in sorted(slots, key=lambda one: one.start):
                text = f"{clock(slot.start)} {place_name(slot.place)}, {slot.minutes} min"
                yield Entry("slot", text, slot=slot.ref)
        for card, first, last in self.away:
            if first <= day <= last:
                yield Entry("away", f"{card.name} away", athlete=card.ref)

    def _peaks(self, day: date) -> Iterator[Entry]:
        for peak in self.brief.goal.peaks:
            if peak.date == day:
                yield Entry("peak", "peak" if peak.size == "main" else "minor peak")


@dataclass(frozen=True)
class SlotShown:
    """One line of the days that can be trained on."""

    ref: str
    day: str
    time: str
    place: str
    dates: str
    open: bool


def slots_shown(brief: Brief) -> tuple[SlotShown, ...]:
    """Give the slots in the order of the week."""
    ordered = sorted(
        brief.slots, key=lambda one: (WEEKDAYS.index(one.day), one.start, one.from_ or brief.start)
    )
    return tuple(
        SlotShown(
            ref=slot.ref,
            day=slot.day.capitalize(),
            time=f"{clock(slot.start)}, {slot.minutes} min",
            place=place_name(slot.place),
            dates=between(slot.from_, slot.until),
            open=slot.open,
        )
        for slot in ordered
    )


def slot_title(slot: Slot) -> str:
    """Name a slot.

    >>> from datetime import time
    >>> slot_title(Slot(ref="mon", day="monday", start=time(18), minutes=75, place="hall"))
    'Monday 18:00, hall, 75 min'
    """
    return f"{slot.day.capitalize()} {clock(slot.start)}, {place_name(slot.place)}, {slot.minutes} min"


def event_title(event: Event) -> str:
    """Name an event: its title with its kind, or its kind."""
    start = f" {clock(event.start)}" if event.start else ""
    return f"{event.title} ({word(event.kind)}){start}" if event.title else f"{word(event.kind)}{start}"


def chosen_month(asked: str | None, book: CalendarBook) -> date:
    """Give the first day of the month that was asked for, else of today's, else of the season's first."""
    found = MONTH.fullmatch(asked or "")
    if found and FIRST_YEAR <= int(found[1]) <= LAST_YEAR and 1 <= int(found[2]) <= len(MONTHS):
        return date(int(found[1]), int(found[2]), 1)
    in_season = book.brief.start <= book.today <= book.brief.end
    return (book.today if in_season else book.brief.start).replace(day=1)


def month_title(first: date) -> str:
    """Name a month.

    >>> month_title(date(2026, 2, 1))
    'February 2026'
    """
    return f"{MONTHS[first.month - 1]} {first.year}"


def beside(first: date, *, months: int) -> str:
    """Write the month some months on as an address does.

    >>> beside(date(2026, 1, 1), months=-1)
    '2025-12'
    """
    number = first.year * 12 + first.month - 1 + months
    return f"{number // 12:04d}-{number % 12 + 1:02d}"


def month_shown(book: CalendarBook, first: date) -> tuple[WeekShown, ...]:
    """Give the weeks that hold a month, Monday to Sunday."""
    following = (first + timedelta(days=31)).replace(day=1)
    weeks, monday = [], monday_of(first)
    while monday < following:
        days = tuple(monday + timedelta(days=number) for number in range(7))
        shown = tuple(
            DayShown(day, day.month == first.month, day == book.today, tuple(book.entries(day)))
            for day in days
        )
        weeks.append(WeekShown(_number(book.brief, days), shown))
        monday += WEEK
    return tuple(weeks)


def _number(brief: Brief, days: Iterable[date]) -> int | None:
    inside = [day for day in days if brief.start <= day <= brief.end]
    return week_number(inside[0], start=brief.start) if inside else None


def season_shown(book: CalendarBook) -> tuple[SeasonWeek, ...]:
    """Give every week from the first day to the last."""
    weeks, monday = [], monday_of(book.brief.start)
    while monday <= book.brief.end:
        weeks.append(_season_week(book, monday))
        monday += WEEK
    return tuple(weeks)


def _season_week(book: CalendarBook, monday: date) -> SeasonWeek:
    days = [monday + timedelta(days=number) for number in range(7)]
    found = [(day, entry) for day in days for entry in book.entries(day)]
    others = dict.fromkeys(entry for _, entry in found if entry.kind in {"event", "away"})
    slots = dict.fromkeys(weekday(day) for day, entry in found if entry.kind == "slot")
    dated = {entry: [day for day, one in found if one == entry] for entry in others}
    return SeasonWeek(
        number=week_number(days[-1], start=book.brief.start),
        dates=span(days[0], days[-1]),
        now=book.today in days,
        slots=listing(slots),
        entries=tuple(
            Entry(one.kind, f"{_when(on)}: {one.text}", number=one.number, athlete=one.athlete)
            for one, on in dated.items()
        ),
        peaks=listing(f"{day_month(day)}: {entry.text}" for day, entry in found if entry.kind == "peak"),
    )


def _when(days: list[date]) -> str:
    return weekday(days[0]) if len(days) == 1 else f"{weekday(days[0])}–{weekday(days[-1])}"
