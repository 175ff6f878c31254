"""Session loads by day: a week's sum, monotony and strain, and the 7-day and 28-day weighted averages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from speedloom.science.statistics.load import (
    MINUTES,
    daily_loads,
    monotony,
    session_load,
    strain,
    weighted_average,
)
from speedloom.training.log import LogEntry
from speedloom.training.rule import Rulebook
from speedloom.workflows.review_lines import is_whole, last_word, minutes_of
from speedloom.workflows.reviewed import LoadCount, LoadLines, LoadState, WeekLoad
from speedloom.workflows.standing_log import NOT_TRAINED, StandingEntry

A_WEEK = 7


@dataclass(frozen=True)
class TrainedSession:
    """One session that took place, planned or not, with its load where effort and minutes are known."""

    day: date
    load: float | None
    minutes_from_plan: bool = False


@dataclass(frozen=True)
class LoadRecord:
    """What is known of an athlete's loads: sessions that took place, and days nobody wrote of."""

    athlete: str
    sessions: tuple[TrainedSession, ...]
    silent: tuple[date, ...]
    """The day of each session that is over and of which nothing was written down."""

    def week(self, monday: date, *, until: date) -> WeekLoad:
        """Add up the week from a Monday: two sessions of a day are summed, a day without one is 0."""
        own = [one for one in self.sessions if 0 <= (one.day - monday).days < A_WEEK and one.day <= until]
        silent = sum(0 <= (day - monday).days < A_WEEK for day in self.silent)
        known = [one for one in own if one.load is not None]
        days = daily_loads([(one.day - monday).days for one in known], [one.load or 0.0 for one in known])
        count = LoadCount(len(own), len(own) - len(known), sum(one.minutes_from_plan for one in known))
        evenness = float(monotony(days))
        state = _state(
            over=until >= monday + timedelta(days=A_WEEK - 1),
            missing=count.without_effort + silent,
            defined=bool(np.isfinite(evenness)),
        )
        told = state == "known"
        return WeekLoad(
            days=tuple(map(float, days)),
            total=float(days.sum()),
            monotony=evenness if told else None,
            strain=float(strain(days)) if told else None,
            state=state,
            count=count,
            nothing_written=silent,
        )

    def lines(self, first: date, last: date, *, book: Rulebook) -> LoadLines:
        """Give each day's load and both averages, from the first day (which seeds them) to the last."""
        length = max((last - first).days + 1, 2)
        inside = [one for one in self.sessions if first <= one.day <= last]
        known = [one for one in inside if one.load is not None]
        days = daily_loads(
            [(one.day - first).days for one in known], [one.load or 0.0 for one in known], length=length
        )
        silent = [one.day for one in inside if one.load is None]
        silent += [day for day in self.silent if first <= day <= last]
        spans = (book.number("ewma", "acute_days"), book.number("ewma", "chronic_days"))
        short, long = (_average(days, over) for over in spans)
        missing = tuple(sorted({(day - first).days for day in silent}))
        return LoadLines(self.athlete, first, tuple(map(float, days)), short, long, missing, spans)


def _average(loads: NDArray[np.float64], over: float) -> tuple[float, ...]:
    return tuple(map(float, weighted_average(loads, days=over)))


def _state(*, over: bool, missing: int, defined: bool) -> LoadState:
    if not over:
        return "not_over"
    if missing:
        return "incomplete"
    return "known" if defined else "undefined"


def trained_sessions(entries: Iterable[StandingEntry]) -> tuple[TrainedSession, ...]:
    """Give an athlete's sessions that took place, planned or not, in order of date.

    What several people wrote of one session is one session: of effort and minutes the last word counts. An
    extra exercise without effort belongs to the day's session, where there is one.
    """
    groups: dict[str, list[StandingEntry]] = {}
    for one in entries:
        groups.setdefault(one.entry.session or one.entry.id, []).append(one)
    took_place = [group for group in groups.values() if _took_place([one.entry for one in group])]
    days = {_day(group) for group in took_place if not _is_addition(group)}
    return tuple(
        sorted(
            (_trained(group) for group in took_place if not (_is_addition(group) and _day(group) in days)),
            key=lambda one: one.day,
        )
    )


def _took_place(entries: Sequence[LogEntry]) -> bool:
    whole = last_word(entry for entry in entries if is_whole(entry))
    lines = [entry for entry in entries if not is_whole(entry)]
    if whole is not None and whole.status not in NOT_TRAINED:
        return True
    return any(entry.status not in NOT_TRAINED for entry in lines)


def _is_addition(group: Sequence[StandingEntry]) -> bool:
    return all(one.place == "extra" and one.entry.exercise and one.entry.effort is None for one in group)


def _day(group: Sequence[StandingEntry]) -> date:
    wholes = [one.entry for one in group if is_whole(one.entry)]
    last = last_word(wholes) or min((one.entry for one in group), key=lambda entry: entry.date)
    return last.date


def _trained(group: Sequence[StandingEntry]) -> TrainedSession:
    entries = [one.entry for one in group]
    session = next((one.session for one in group if one.session is not None), None)
    effort = last_word(entry for entry in entries if entry.line is None and entry.effort is not None)
    minutes = minutes_of(session, entries)
    if effort is None or effort.effort is None or minutes is None or not MINUTES.contains(minutes):
        return TrainedSession(_day(group), None)
    from_plan = all(entry.minutes is None for entry in entries if entry.line is None)
    return TrainedSession(_day(group), float(session_load(effort.effort, minutes)), from_plan)
