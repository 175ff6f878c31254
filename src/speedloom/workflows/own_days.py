"""One athlete's days: what is trained today, what comes, and what of the past nobody wrote down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.training.programme import AthleteProgramme, Session, Week
from speedloom.workflows.standing_log import StandingLog


@dataclass(frozen=True)
class OwnDays:
    """Sessions of one athlete, by what they are to them now; each in order of day and time."""

    today: tuple[Session, ...]
    ahead: tuple[Session, ...]
    unwritten: tuple[Session, ...]
    week: Week | None


def own_days(
    own: AthleteProgramme, standing: StandingLog, *, today: date, ahead_days: int, back_days: int
) -> OwnDays:
    """Sort the sessions around a day.

    Args:
        own: the athlete's weeks.
        standing: what stands in the log of the programme.
        today: the day.
        ahead_days: how many days are looked ahead [d]; where none of them has a session, the next one counts.
        back_days: how many days are looked back for sessions of which nothing is written [d].
    """
    sessions = tuple(sessions_of(own))
    later = tuple(one for one in sessions if one.date > today)
    ahead = tuple(one for one in later if one.date <= today + timedelta(days=ahead_days))
    written = {one.session.ref for one in standing.of_athlete(own.athlete) if one.session is not None}
    since = today - timedelta(days=back_days)
    return OwnDays(
        today=tuple(one for one in sessions if one.date == today),
        ahead=ahead or later[:1],
        unwritten=tuple(one for one in sessions if since <= one.date < today and one.ref not in written),
        week=next((week for week in own.weeks if _holds(week, today)), None),
    )


def sessions_of(own: AthleteProgramme) -> Iterator[Session]:
    """Give every session of an athlete in order of day and time."""
    yield from sorted(
        (session for week in own.weeks for session in week.sessions),
        key=lambda session: (session.date, session.start),
    )


def _holds(week: Week, day: date) -> bool:
    return week.monday <= day <= week.monday + timedelta(days=6)
