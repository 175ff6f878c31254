"""Days that athletes missed: from the log, and as an earlier revision knew them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Away
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


def with_known_absences(brief: ResolvedBrief, was: ResolvedBrief, *, since: date) -> ResolvedBrief:
    """Give a brief with the absences of days gone by that only an earlier revision's brief knows.

    Args:
        brief: the brief as the coach's file has it now.
        was: the brief of the revision before; lost days stand in it as absences.
        since: first day that may change: of absences from then on the coach's file alone decides.
    """
    known = {athlete.ref: athlete.away for athlete in was.athletes}
    athletes = tuple(
        athlete.model_copy(update={"away": _joined(athlete.away, known.get(athlete.ref, ()), since)})
        for athlete in brief.athletes
    )
    return brief.model_copy(update={"athletes": athletes})


def _joined(now: tuple[Away, ...], known: tuple[Away, ...], since: date) -> tuple[Away, ...]:
    gone = [span for span in known if span not in now and (span.until or span.date) < since]
    return tuple(sorted((*now, *gone), key=lambda span: span.date)) if gone else now
