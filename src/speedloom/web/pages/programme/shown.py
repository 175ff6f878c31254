"""What the programme page shows, as plain values for its templates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from speedloom.planning.holding import LINE_NUMBERS
from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.report.sheets.week_words import week_purpose
from speedloom.store.cards import Actor
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week
from speedloom.wording.dates import clock, day_month, span
from speedloom.wording.names import ROLE_NAMES, WEEK_NAMES, athlete_name, line_name, place_name
from speedloom.wording.session_words import LineWords, line_words
from speedloom.wording.table import Column, Square, Table, progression_table
from speedloom.wording.units import Units, number

WARM_UP = frozenset({"warm_up", "build_up"})


@dataclass(frozen=True)
class LineShown:
    """One line of a session with its words."""

    ref: str
    method: str
    words: LineWords
    locked: tuple[str, ...]
    can_change: bool

    @property
    def beside(self) -> str:
        """What is said in small beside the dose: manner, rest, when to stop, what it rests on."""
        words = self.words
        return " · ".join(filter(None, (words.manner, words.rest, words.stop, words.why)))


@dataclass(frozen=True)
class SessionShown:
    """One session of the week."""

    ref: str
    date: str
    title: str
    place: str
    minutes: str
    locked: bool
    can_change: bool
    lines: tuple[LineShown, ...]


@dataclass(frozen=True)
class WeekShown:
    """One athlete's week."""

    number: int
    title: str
    dates: str
    purpose: str
    sessions: tuple[SessionShown, ...]
    before: int | None
    after: int | None


@dataclass(frozen=True)
class RowShown:
    """A row of the progression: its squares, each with the week it stands in."""

    label: str
    method: str
    squares: tuple[tuple[Column, Square | None], ...]


@dataclass(frozen=True)
class ProgrammeShown:
    """One athlete's view of a programme."""

    athlete: str
    name: str
    athletes: tuple[tuple[str, str], ...]
    weave: str
    table: Table
    week: WeekShown
    changeable: frozenset[str] = frozenset()
    """Refs of the lines that may be changed: work on days that are not over, where the person may."""

    @property
    def days(self) -> Iterator[tuple[str, list[RowShown]]]:
        """The days of the progression with their rows."""
        for day in self.table.days:
            yield (
                day.title,
                [
                    RowShown(row.label, row.method, tuple(zip(self.table.columns, row.squares, strict=True)))
                    for row in day.rows
                ],
            )


def units_of(actor: Actor) -> Units:
    """Give the units a person reads in."""
    return Units(mass=actor.mass_unit, length=actor.length_unit)


def chosen(programme: Programme, wanted: str | None) -> AthleteProgramme:
    """Give the athlete that was asked for, else the first with weeks: undoing a copy leaves one without."""
    planned = [own for own in programme.programmes if own.weeks] or [*programme.programmes]
    return next((own for own in planned if own.athlete == wanted), planned[0])


def chosen_week(own: AthleteProgramme, wanted: str | None, *, today: date) -> Week:
    """Give the week that was asked for, else the one of today, else the first."""
    numbers = {str(week.number): week for week in own.weeks}
    if wanted in numbers:
        return numbers[wanted]
    running = (week for week in own.weeks if week.monday <= today <= week.monday + timedelta(days=6))
    return next(running, own.weeks[0])


def programme_shown(
    programme: Programme,
    own: AthleteProgramme,
    week: Week,
    *,
    catalogue: Catalogue,
    units: Units,
    changeable: bool,
) -> ProgrammeShown:
    """Put one athlete's programme into what the page shows.

    Args:
        programme: the document.
        own: the athlete's weeks.
        week: the week that is open.
        catalogue: the exercises with the coach's titles.
        units: what the person reads in.
        changeable: whether the person may change it.
    """
    data = weave_from_programme(programme, own.athlete, catalogue=catalogue, this_week=week.number)
    return ProgrammeShown(
        athlete=own.athlete,
        name=athlete_name(programme, own.athlete),
        athletes=tuple(
            (one.athlete, athlete_name(programme, one.athlete)) for one in programme.programmes if one.weeks
        ),
        weave=weave_svg(data, skin="page"),
        table=progression_table(programme, own.athlete, catalogue=catalogue, units=units),
        week=week_shown(programme, own, week, catalogue=catalogue, units=units, changeable=changeable),
        changeable=frozenset(_ahead(programme, own)) if changeable else frozenset(),
    )


def _ahead(programme: Programme, own: AthleteProgramme) -> Iterator[str]:
    frozen = programme.revision.frozen_until
    for week in own.weeks:
        for session in week.sessions:
            if not (frozen and session.date <= frozen):
                yield from (line.ref for line in session.prescriptions if line.purpose == "work")


def week_shown(
    programme: Programme,
    own: AthleteProgramme,
    week: Week,
    *,
    catalogue: Catalogue,
    units: Units,
    changeable: bool,
) -> WeekShown:
    """Put one week into words."""
    numbers = [one.number for one in own.weeks]
    place = numbers.index(week.number)
    frozen = programme.revision.frozen_until
    kind = WEEK_NAMES[week.kind]
    return WeekShown(
        number=week.number,
        title=f"Week {week.number} of {len(numbers)}{f', {kind}' if kind else ''}",
        dates=span(week.monday, week.monday + timedelta(days=6)),
        purpose=week_purpose(week),
        sessions=tuple(
            _session(
                session,
                catalogue=catalogue,
                units=units,
                changeable=changeable and not (frozen and session.date <= frozen),
            )
            for session in week.sessions
        ),
        before=numbers[place - 1] if place else None,
        after=numbers[place + 1] if place + 1 < len(numbers) else None,
    )


def _session(session: Session, *, catalogue: Catalogue, units: Units, changeable: bool) -> SessionShown:
    place = (place_name(session.place), ROLE_NAMES[session.role])
    return SessionShown(
        ref=session.ref,
        date=session.date.isoformat(),
        title=f"{day_month(session.date)}, {clock(session.start)}",
        place=" · ".join(filter(None, place)),
        minutes=f"{number(session.minutes)} of {number(session.minutes_available)} min",
        locked=session.locked,
        can_change=changeable,
        lines=tuple(
            LineShown(
                ref=line.ref,
                method=line.method,
                words=_as_in_the_table(line, catalogue=catalogue, units=units),
                locked=line.locked,
                can_change=changeable and line.purpose == "work",
            )
            for line in session.prescriptions
            if line.exercise not in WARM_UP and line.purpose == "work"
        ),
    )


def _as_in_the_table(line: Prescription, *, catalogue: Catalogue, units: Units) -> LineWords:
    """Put a line into words under the name that the progression table has."""
    words = line_words(line, catalogue=catalogue, units=units)
    return replace(words, name=line_name(line, catalogue=catalogue))


def numbers_of(line: Prescription) -> tuple[str, ...]:
    """Name the numbers of a line that a coach may change: those it has, and a load where none is written."""
    lifted = line.method in {"power", "maximal_strength", "general_strength"}
    return tuple(
        name
        for name in LINE_NUMBERS
        if getattr(line, name) is not None or (name == "load_kg" and lifted and line.hold_s is None)
    )
