"""The review on paper: a page for the squad's week, and a page an athlete with the load lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from speedloom.report.charts.load_lines import load_chart, load_lines_svg
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.dates import full_date
from speedloom.wording.review_cells import Grid
from speedloom.wording.review_pages import Named, Reviewer, ReviewPage
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.reviewed import Review

_MOST = 40
"""Sentences of a kind that a page takes; what is left stands on the athletes' own pages."""
_CHART = (554.0, 185.0)
"""The picture's width and height [pt] as the page leaves it: its words are as large as the others."""
_WEEKS_BY_DAY = 8
_FOR_WHOM = "For the coaching staff: it names who was ill or in pain. Keep it off the wall."
_OWN = "For the athlete and the coaching staff. Reasons stand as they were written."


@dataclass(frozen=True)
class Told:
    """A group of sentences with its heading."""

    title: str
    named: tuple[Named, ...]
    left: int


@dataclass(frozen=True)
class SheetPage:
    """One page."""

    title: str
    subtitle: str
    table: Grid
    chart: str
    chart_words: str
    details: tuple[Grid, ...]
    told: tuple[Told, ...]
    one_person: bool
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Sheets:
    """The whole document."""

    title: str
    programme: str
    pages: tuple[SheetPage, ...]
    foot: str


def review_sheet_pdf(
    review: Review,
    *,
    programme: Programme,
    catalogue: Catalogue,
    paper: Paper,
    athlete: str | None = None,
    units: Units = METRIC,
) -> bytes:
    """Print a review: a page a squad week and a page an athlete, or one athlete's page with nobody else."""
    shown = review if athlete is None else review.of_athlete(athlete)
    reviewer = Reviewer(shown, programme, catalogue, units)
    pages = tuple(_pages(reviewer, squad=athlete is None))
    content = programme.brief.content
    foot = (
        f"Programme {programme.id}, revision {programme.revision.number}, "
        f"printed {full_date(paper.printed)}. "
    )
    data = Sheets(
        title=f"{pages[0].title}, {pages[0].subtitle}",
        programme=content.name if content else "",
        pages=pages,
        foot=foot + (_FOR_WHOM if athlete is None else _OWN),
    )
    return pdf("review", data, paper=paper)


def _pages(reviewer: Reviewer, *, squad: bool) -> Iterator[SheetPage]:
    review = reviewer.review
    for week in review.weeks if squad else ():
        yield _page(reviewer.squad_week(week), reviewer.squad_table(week))
    for athlete in review.athletes:
        page = reviewer.athlete(athlete)
        chart = load_chart(review, athlete, programme=reviewer.programme)
        drawn = load_lines_svg(chart, ident=f"loads-{athlete}", width=_CHART[0], height=_CHART[1])
        yield _page(page, reviewer.athlete_table(athlete), chart=drawn, words=chart.summary)


def _page(page: ReviewPage, table: Grid, *, chart: str = "", words: str = "") -> SheetPage:
    groups = (
        ("Who differed from the plan, and why", page.differed),
        ("Nothing written down", page.unwritten),
        ("To ask", page.questions),
    )
    by_day = [_by_day(page.grids[-1])] if chart else []
    return SheetPage(
        title=page.title,
        subtitle=page.subtitle,
        table=table,
        chart=chart,
        chart_words=words,
        details=(*by_day, *page.details),
        told=tuple(_told(title, named) for title, named in groups if named),
        one_person=bool(chart),
        notes=page.notes,
    )


def _by_day(loads: Grid) -> Grid:
    """Keep the days and the sum of the latest weeks."""
    rows = (
        (row[0].partition(" (")[0], *row[1:8], row[8].replace("at least", "≥"))
        for row in loads.rows[-_WEEKS_BY_DAY:]
    )
    return Grid("Session load by day", loads.heads[:9], tuple(rows))


def _told(title: str, named: Sequence[Named]) -> Told:
    kept: list[Named] = []
    room = _MOST
    for one in named:
        texts = one.texts[:room]
        room -= len(texts)
        kept += [Named(one.name, texts)] if texts else []
    return Told(title, tuple(kept), sum(len(one.texts) for one in named) - (_MOST - room))
