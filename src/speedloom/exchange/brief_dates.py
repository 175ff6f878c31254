"""The dates of a brief have to agree: start, end, peaks, mesocycles, and everything with from and until."""

from __future__ import annotations

from datetime import date, time
from itertools import combinations

from speedloom.exchange.brief_content import Content
from speedloom.exchange.toml_text import KeyPath
from speedloom.training.calendar import week_number

_LONGEST_WEEKS = 104


def check_dates(brief: Content) -> None:
    """Compare every date of the brief."""
    start, end = brief.day("start"), brief.day("end")
    _rising(brief)
    _own_lines(brief)
    _overlapping_slots(brief)
    if start is None or end is None:
        return
    if end < start:
        brief.fault(("end",), f"a date on or after the start, {start}", "exchange start and end")
        return
    for path, _ in brief.tables("goal", "peaks"):
        day = brief.day(*path, "date")
        if day is not None and not start <= day <= end:
            brief.fault((*path, "date"), f"a peak from {start} to {end}", "move the peak or the end")
    _weeks(brief, start, end)
    _people(brief, start)
    _notes(brief, start, end)


def _weeks(brief: Content, start: date, end: date) -> None:
    weeks = week_number(end, start=start)
    if weeks > _LONGEST_WEEKS:
        todo = "plan a season at a time"
        brief.fault(("end",), f"at most {_LONGEST_WEEKS} weeks", todo, came=f"{weeks} weeks")
        return
    cycles = [item for _, item in brief.values("phases", "mesocycle_weeks") if isinstance(item, int)]
    if not cycles:
        return
    path: KeyPath = ("phases", "mesocycle_weeks")
    came = f"{sum(cycles)} weeks ({' + '.join(map(str, cycles))}) from {start} to {end}"
    if sum(cycles) < weeks:
        brief.fault(path, f"mesocycles for all {weeks} weeks", "add a mesocycle or end earlier", came=came)
    elif sum(cycles[:-1]) >= weeks:
        todo = "leave the last mesocycle out or end later"
        brief.fault(path, f"mesocycles that end within {weeks} weeks", todo, came=came)
    elif sum(cycles) > weeks:
        brief.note(path, f"the last mesocycle is shortened by {sum(cycles) - weeks} to fit {weeks} weeks")


def _rising(brief: Content) -> None:
    spans: list[tuple[KeyPath, str]] = [(path, "from") for path, _ in brief.tables("slots")]
    for athlete, _ in brief.tables("athletes"):
        spans += [(path, "date") for path, _ in brief.tables(*athlete, "away")]
        spans += [(path, "from") for path, _ in brief.tables(*athlete, "restrictions")]
    for path, first in spans:
        begin, until = brief.day(*path, first), brief.day(*path, "until")
        if begin is not None and until is not None and until < begin:
            brief.fault((*path, "until"), f"a date on or after {begin}", "exchange the two dates")


def _own_lines(brief: Content) -> None:
    for path, _ in brief.tables("own_lines"):
        first, last = brief.whole(*path, "first_week") or 1, brief.whole(*path, "last_week")
        if last is not None and last < first:
            brief.fault((*path, "last_week"), f"a week from {first} on", "exchange the two weeks")


def _overlapping_slots(brief: Content) -> None:
    """Nobody is in two places at once; an open slot may still be moved to another day."""
    fixed = [(path, slot) for path, slot in brief.tables("slots") if slot.get("open") is not True]
    for (earlier, other), (path, slot) in combinations(fixed, 2):
        meet = _minutes(brief, earlier) & _minutes(brief, path)
        if meet and slot.get("day") == other.get("day") and _both_hold(brief, earlier, path):
            expected = f"a start outside the minutes of {other.get('ref')}"
            brief.fault((*path, "start"), expected, "move, shorten or leave out one of the two slots")


def _minutes(brief: Content, path: KeyPath) -> set[int]:
    """Give the minutes of the day that a slot takes, none where they cannot be read."""
    try:
        start = time.fromisoformat(brief.text(*path, "start") or "")
    except ValueError:
        return set()
    first = start.hour * 60 + start.minute
    return set(range(first, first + (brief.whole(*path, "minutes") or 0)))


def _both_hold(brief: Content, one: KeyPath, other: KeyPath) -> bool:
    """Say whether two slots exist on a common date."""
    begin = max(brief.day(*path, "from") or date.min for path in (one, other))
    return begin <= min(brief.day(*path, "until") or date.max for path in (one, other))


def _people(brief: Content, start: date) -> None:
    for path, _ in brief.tables("athletes"):
        born = brief.day(*path, "born")
        if born is not None and born >= start:
            brief.fault((*path, "born"), f"a date before the start, {start}", "check the year")


def _notes(brief: Content, start: date, end: date) -> None:
    for path, _ in brief.tables("events"):
        day = brief.day(*path, "date")
        until = brief.day(*path, "until") or day
        if day is not None and until is not None and (until < start or day > end):
            brief.note(path, f"this event lies outside {start} to {end} and changes nothing")
