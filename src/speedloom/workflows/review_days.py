"""Up to which day a review goes while a programme runs."""

from __future__ import annotations

from datetime import date

from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.workflows.athlete_log import SUNDAY


def last_day_over(programme: Programme, *, today: date) -> date | None:
    """Give today while the programme runs, None after its end.

    What one athlete wrote of a day that is still to come makes that day over for nobody else.
    """
    sundays = [week.monday + SUNDAY for own in programme.programmes for week in own.weeks]
    return today if today <= max(sundays, default=date.min) else None


def week_to_review(programme: Programme, log: Log, *, today: date) -> int:
    """Give the number of the last week of which something is written, else of the week of today or the first.

    Args:
        programme: the programme.
        log: its log.
        today: the day on which it is asked.
    """
    weeks = {week.number: week.monday for own in programme.programmes for week in own.weeks}
    last = max((entry.date for entry in log.entries if entry.date <= today), default=today)
    begun = [number for number, monday in weeks.items() if monday <= last]
    return max(begun, default=min(weeks, default=1))
