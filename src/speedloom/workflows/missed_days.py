"""Days that athletes missed, as the log says."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from speedloom.workflows.standing_log import StandingLog


def missed_days(log: StandingLog, *, until: date) -> Mapping[str, tuple[date, ...]]:
    """Give each athlete's lost days, as the log says, up to a date.

    Args:
        log: the standing log of the programme.
        until: last day that counts; nothing ahead of it can be lost yet.
    """
    athletes = (own.athlete for own in log.programme.programmes)
    found = {ref: tuple(day for day in log.lost_days(ref) if day <= until) for ref in athletes}
    return {ref: days for ref, days in found.items() if days}
