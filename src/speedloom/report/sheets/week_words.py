"""One athlete's week in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta

from speedloom.training.athlete import Athlete
from speedloom.training.calendar import Event
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Week
from speedloom.wording.dates import day_month, span
from speedloom.wording.names import WEEK_NAMES
from speedloom.wording.session_words import SessionWords, session_words
from speedloom.wording.units import METRIC, Units

PURPOSES: Mapping[str, str] = {
    "introduction": "Getting used to it: less of everything, and nothing flat out.",
    "deload": "A lighter week: the speed stays, the amount drops.",
    "taper": "Getting sharp: little work, all of it fast.",
    "in_season": "Keeping what is there, between matches.",
    "break": "No training this week.",
}
_THIRD = 1.0 / 3.0
_LOADING = (
    "General work: heavier sleds, slower jumps, more repetitions. The base for what follows.",
    "Mixed work: lighter sleds, longer runs, quicker jumps.",
    "Specific work: the runs are close to what counts, the loads are light and fast.",
)


@dataclass(frozen=True)
class WeekWords:
    """One week: what it is for, what is in it, and what stands beside it in the calendar."""

    number: int
    title: str
    dates: str
    purpose: str
    sessions: tuple[SessionWords, ...]
    events: tuple[str, ...]
    notes: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()


def week_words(
    programme: Programme,
    week: Week,
    *,
    weeks: int,
    catalogue: Catalogue,
    units: Units = METRIC,
    notes: tuple[str, ...] = (),
    person: Athlete | None = None,
    limits: tuple[str, ...] = (),
) -> WeekWords:
    """Put one week into words."""
    content = programme.brief.content
    sunday = week.monday + timedelta(days=6)
    kind = WEEK_NAMES[week.kind]
    return WeekWords(
        number=week.number,
        title=f"Week {week.number} of {weeks}{f', {kind}' if kind else ''}",
        dates=span(week.monday, sunday),
        purpose=week_purpose(week),
        sessions=tuple(
            session_words(session, catalogue=catalogue, person=person, units=units)
            for session in sorted(week.sessions, key=lambda session: (session.date, session.start))
        ),
        events=tuple(
            _event(event)
            for event in (content.events if content else ())
            if event.date <= sunday and (event.until or event.date) >= week.monday
        ),
        notes=notes,
        limits=limits,
    )


def week_purpose(week: Week) -> str:
    """Say in one sentence what a week is for."""
    return PURPOSES.get(week.kind) or _LOADING[min(int(week.specificity / _THIRD), 2)]


def _event(event: Event) -> str:
    title = event.title or event.kind.capitalize()
    return f"{day_month(event.date)}{f' to {day_month(event.until)}' if event.until else ''}: {title}"
