"""The papers and pictures of a programme, as bytes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.report.sheets.athlete_sheet import athlete_sheet_pdf
from speedloom.report.sheets.paper import Paper, PaperSize
from speedloom.report.sheets.programme_book import programme_book_pdf
from speedloom.report.sheets.session_sheet import session_sheet_pdf
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.check_programme import check_programme

A_WEEK = timedelta(days=6)


@dataclass(frozen=True)
class Order:
    """What is to be printed: for whom, which week, on what paper, in which units.

    `kilograms=False` leaves each athlete's load off the session sheets, which all of them read: a lift says
    its share of 1RM, other work "own load". Own sheets, book and files are one person's, and keep it.
    `clinician` says that somebody of the squad is one, whom the document alone need not name.
    """

    athlete: str | None = None
    week: int | None = None
    size: PaperSize = "a4"
    units: Units = METRIC
    since: Programme | None = None
    kilograms: bool = True
    clinician: bool = False

    @property
    def athletes(self) -> tuple[str, ...] | None:
        """The athletes that may be seen; None is everybody."""
        return (self.athlete,) if self.athlete else None


def session_sheets(programme: Programme, order: Order) -> bytes:
    """Print the squad's sheets of a week, or of all weeks."""
    _, catalogue = books_of(programme)
    first, last = _days(programme, week=order.week)
    return session_sheet_pdf(
        programme, first=first, last=last, catalogue=catalogue, paper=_paper(order),
        athletes=order.athletes, units=order.units, kilograms=order.kilograms,
    )  # fmt: skip


def book(programme: Programme, order: Order) -> bytes:
    """Print the book, with what the check has to say beside its week."""
    rulebook, catalogue = books_of(programme)
    brief = programme.brief.content
    findings = check_programme(programme, brief=brief, rulebook=rulebook, catalogue=catalogue)
    return programme_book_pdf(
        programme, catalogue=catalogue, rulebook=rulebook, paper=_paper(order), findings=findings,
        athletes=order.athletes, units=order.units,
    )  # fmt: skip


def week_of_today(programme: Programme) -> int:
    """Give the week that holds today, else the first."""
    today = datetime.now(tz=UTC).astimezone().date()
    weeks = [week for own in programme.programmes for week in own.weeks]
    return next((week.number for week in weeks if week.monday <= today <= week.monday + A_WEEK), 1)


def athlete_sheets(programme: Programme, order: Order) -> bytes:
    """Print each athlete's own sheet of a week, the first where none is named."""
    _, catalogue = books_of(programme)
    return athlete_sheet_pdf(
        programme, week=order.week or 1, catalogue=catalogue, paper=_paper(order),
        athletes=order.athletes, units=order.units,
    )  # fmt: skip


def weave(programme: Programme, order: Order) -> bytes:
    """Draw the weave of an athlete, the first where none is named."""
    _, catalogue = books_of(programme)
    athlete = order.athlete or programme.programmes[0].athlete
    data = weave_from_programme(programme, athlete, catalogue=catalogue, this_week=order.week)
    return weave_svg(data).encode()


def _paper(order: Order) -> Paper:
    return Paper(printed=datetime.now(tz=UTC).astimezone().date(), size=order.size, clinician=order.clinician)


def _days(programme: Programme, *, week: int | None) -> tuple[date, date]:
    mondays = [
        found.monday
        for own in programme.programmes
        for found in own.weeks
        if week is None or found.number == week
    ]
    return min(mondays), max(mondays) + A_WEEK
