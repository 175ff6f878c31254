"""The review on paper: a page for the squad's week, and a page an athlete with the load lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from speedloom.report.charts.load_lines import load_chart, load_lines_svg
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.dates import full_date
from speedloom.wording.review_cells import Grid
from speedloom.wording.review_pages import Named, Reviewer, ReviewPage
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.reviewed import Review

_SMALL_SQUAD = 16
_ROOM = {"small": (18, 12, 8), "large": (9, 7, 4), "own": (10, 7, 5)}
"""Sentences that a page takes of each group, so that it stays one page that can be read."""
_CHART = (554.0, 155.0)
"""The picture's width and height [pt] as the page leaves it: its words are as large as the others."""
_WEEKS_BY_DAY = 8
_FOR_WHOM = "For the coaching staff: it names who was ill or in pain. Keep it off the wall."
_OWN = "For the coaching staff. Reasons and notes stand as they were written."


@dataclass(frozen=True)
class Told:
    """A group of sentences with its heading."""

    title: str
    named: tuple[Named, ...]
    more: str


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
        size = "small" if len(week.athletes) <= _SMALL_SQUAD else "large"
        yield _page(reviewer.squad_week(week), reviewer.squad_table(week), room=_ROOM[size])
    for athlete in review.athletes:
        page = reviewer.athlete(athlete)
        chart = load_chart(review, athlete, programme=reviewer.programme)
        drawn = load_lines_svg(chart, ident=f"loads-{athlete}", width=_CHART[0], height=_CHART[1])
        table = reviewer.athlete_table(athlete)
        own = _page(page, table, room=_ROOM["own"], latest=True)
        by_day = _by_day(page.grids[-1])
        yield replace(own, chart=drawn, chart_words=chart.summary, details=(by_day, *page.details))


def _page(page: ReviewPage, table: Grid, *, room: tuple[int, int, int], latest: bool = False) -> SheetPage:
    groups = (
        ("Who differed from the plan, and why", page.differed),
        ("Nothing written down", page.unwritten),
        ("To ask", page.questions),
    )
    told = (
        _told(title, named, most, latest=latest) for (title, named), most in zip(groups, room, strict=True)
    )
    return SheetPage(
        title=page.title,
        subtitle=page.subtitle,
        table=table,
        chart="",
        chart_words="",
        details=page.details,
        told=tuple(one for one in told if one.named),
        one_person=latest,
        notes=page.notes,
    )


def _by_day(loads: Grid) -> Grid:
    """Keep the days and the sum of the latest weeks."""
    rows = (
        (row[0].partition(" (")[0], *row[1:8], row[8].replace("at least", "≥"))
        for row in loads.rows[-_WEEKS_BY_DAY:]
    )
    return Grid("Session load by day", loads.heads[:9], tuple(rows))


def _told(title: str, named: Sequence[Named], most: int, *, latest: bool) -> Told:
    """Keep the first sentences of a group, or an athlete's latest."""
    kept: list[Named] = []
    room = most
    for one in named:
        texts = one.texts[max(len(one.texts) - room, 0) :] if latest else one.texts[:room]
        room -= len(texts)
        kept += [Named(one.name, texts)] if texts else []
    left = sum(len(one.texts) for one in named) - (most - room)
    more = f"And {left} earlier." if latest else f"And {left} more, on the athletes' own pages."
    return Told(title, tuple(kept), more if left else "")
