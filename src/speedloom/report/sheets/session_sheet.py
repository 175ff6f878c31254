"""The session sheet: a stranger can run the session from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.errors import SpeedloomError
from speedloom.report.charts.widths import SEMIBOLD, text_width
from speedloom.report.sheets.lay_out import KitWords, kit_words
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.report.sheets.restrictions import clinician_named, limited, minors_among, with_adult
from speedloom.report.sheets.session_columns import ColumnWords, exercise_columns, pages_of
from speedloom.report.sheets.squad import SquadSession, squad_sessions
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.cautions import is_master, session_cautions
from speedloom.wording.dates import clock, day_month, full_date
from speedloom.wording.names import ROLE_NAMES, WEEK_NAMES, place_name
from speedloom.wording.units import METRIC, Units, number
from speedloom.wording.warm_ups import Warming, squad_warm_up

_NAME_SIZE = 10.5
_NAME_LEAST, _NAME_MOST = 84.0, 124.0
_EFFORT = 40.0
_TICK = 17.0


class NothingToPrintError(SpeedloomError, ValueError):
    """Nobody trains on the days asked for."""


@dataclass(frozen=True)
class SizedColumn:
    """A column with its width [pt]."""

    words: ColumnWords
    width_pt: float


@dataclass(frozen=True)
class SheetWords:
    """All words of one session's sheet; `pages` holds the columns of each page."""

    title: str
    subtitle: str
    warm_up: str
    steps: tuple[str, ...]
    names: tuple[str, ...]
    marked: tuple[bool, ...]
    name_pt: float
    effort_pt: float
    scale: float
    pages: tuple[tuple[SizedColumn, ...], ...]
    others: tuple[str, ...]
    kit: tuple[KitWords, ...]
    absent: str
    cautions: tuple[str, ...]
    foot: str


@dataclass(frozen=True)
class SheetsWords:
    """Several sessions' sheets in one document."""

    title: str
    sheets: tuple[SheetWords, ...]


def session_sheet_pdf(
    programme: Programme,
    *,
    first: date,
    last: date | None = None,
    catalogue: Catalogue,
    paper: Paper,
    athletes: tuple[str, ...] | None = None,
    units: Units = METRIC,
    kilograms: bool = True,
) -> bytes:
    """Print a sheet for every training from the first to the last day (that one day where no last is given).

    Args:
        programme: what to print from.
        first: first day.
        last: last day, the first where none is given.
        catalogue: the exercises.
        paper: what it is printed on.
        athletes: only these, by reference.
        units: of masses and distances.
        kilograms: False leaves every athlete's load off the sheet, since all of them read it: a lift says
            its share of 1RM, other work "own load"; the athletes' own sheets keep the load.

    Raises:
        NothingToPrintError: when nobody trains on these days.
    """
    last = last or first
    sessions = squad_sessions(programme, first=first, last=last, athletes=athletes)
    if not sessions:
        msg = (
            f"Expected a session from {full_date(first)} to {full_date(last)}, found none; choose other days."
        )
        raise NothingToPrintError(msg)
    sheets = tuple(
        _sheet(programme, session, catalogue=catalogue, paper=paper, units=units, kilograms=kilograms)
        for session in sessions
    )
    return pdf("session", SheetsWords(f"Session sheet, {sheets[0].title}", sheets), paper=paper)


def week_days(programme: Programme, week: int) -> tuple[date, date]:
    """Give the first and the last day of a week of the programme.

    Raises:
        NothingToPrintError: when the programme has no such week.
    """
    mondays = {found.number: found.monday for own in programme.programmes for found in own.weeks}
    if week not in mondays:
        msg = f"Expected a week from {min(mondays, default=1)} to {max(mondays, default=1)}, got {week}."
        raise NothingToPrintError(msg)
    return mondays[week], mondays[week] + timedelta(days=6)


def _sheet(
    programme: Programme,
    session: SquadSession,
    *,
    catalogue: Catalogue,
    paper: Paper,
    units: Units,
    kilograms: bool,
) -> SheetWords:
    columns = exercise_columns(session.present, catalogue=catalogue, units=units, kilograms=kilograms)
    name_pt = _TICK + _name_width([one.name for one in session.present])
    room = paper.text_width(landscape=True) - name_pt - _EFFORT
    pages = pages_of(columns, width_pt=room)
    warm_up = squad_warm_up(
        [Warming(one.name, one.session, one.person) for one in session.present],
        catalogue=catalogue,
        units=units,
        limits=False,
    )
    # What the limit is, is the athlete's own: everybody reads this sheet.
    marked = tuple(limited(one.person, on=session.date) for one in session.present)
    return SheetWords(
        title=f"{day_month(session.date)} · {clock(session.start)} · {place_name(session.place)}",
        subtitle=_subtitle(programme, session),
        warm_up=warm_up.head,
        steps=warm_up.steps,
        others=warm_up.others,
        names=tuple(one.name for one in session.present),
        marked=marked,
        name_pt=name_pt,
        effort_pt=_EFFORT,
        scale=pages.scale,
        pages=tuple(tuple(SizedColumn(column, width) for column, width in page) for page in pages.columns),
        kit=kit_words(programme, session, columns, catalogue=catalogue, units=units, kilograms=kilograms),
        absent=_absent(programme, session),
        cautions=_cautions(programme, session, catalogue=catalogue, clinician=paper.clinician),
        foot=foot(programme, paper=paper),
    )


def foot(programme: Programme, *, paper: Paper) -> str:
    """Write which programme and revision a sheet was printed from, and when."""
    revision = f"Programme {programme.id}, revision {programme.revision.number}"
    return (
        f"{revision}, printed {full_date(paper.printed)}. The coach decides; targets are bands, not promises."
    )


def _name_width(names: Sequence[str]) -> float:
    widest = max(text_width(name, size=_NAME_SIZE, stretch=SEMIBOLD) for name in names)
    return min(max(widest + 8.0, _NAME_LEAST), _NAME_MOST)


def _subtitle(programme: Programme, session: SquadSession) -> str:
    content = programme.brief.content
    lead = session.lead
    weeks = max(len(own.weeks) for own in programme.programmes)
    parts = (
        content.name if content else "",
        f"week {lead.week.number} of {weeks}",
        WEEK_NAMES[lead.week.kind] and f"{WEEK_NAMES[lead.week.kind]} week".replace("taper week", "taper"),
        ROLE_NAMES[lead.session.role],
        f"{number(lead.session.minutes)} of {number(lead.session.minutes_available)} min",
    )
    return " · ".join(filter(None, parts))


def _absent(programme: Programme, session: SquadSession) -> str:
    here = {one.athlete for one in session.present}
    content = programme.brief.content
    people = content.athletes if content else ()
    away = [
        person.title
        for person in people
        if person.ref not in here and any(absence.covers(session.date) for absence in person.away)
    ]
    return f"Away: {', '.join(away)}." if away else ""


def _cautions(
    programme: Programme, session: SquadSession, *, catalogue: Catalogue, clinician: bool
) -> tuple[str, ...]:
    content = programme.brief.content
    kinds = {place.ref: place.kind for place in content.places} if content else {}
    cautions = session_cautions(
        [line for one in session.present for line in one.work],
        catalogue=catalogue,
        place_kind=kinds.get(session.place, "gym" if session.place == "gym" else "hall"),
        minors=minors_among([one.person for one in session.present], on=session.date),
        clinician=clinician or clinician_named(programme),
        masters=any(is_master(one.person, on=session.date) for one in session.present),
    )
    return with_adult(cautions, programme)
