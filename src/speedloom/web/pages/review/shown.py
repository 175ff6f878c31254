"""What the review page shows: tables with links to each athlete, and the loads as a picture and as rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from speedloom.report.charts.load_lines import load_chart, load_lines_svg
from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.dates import day_month, span
from speedloom.wording.review_cells import Grid
from speedloom.wording.review_pages import Named, Reviewer, ReviewPage
from speedloom.wording.units import Units, number
from speedloom.workflows.athlete_log import SUNDAY
from speedloom.workflows.reviewed import Review


@dataclass(frozen=True)
class Row:
    """A row of a table: whose it is, where that is one athlete's."""

    label: str
    athlete: str | None
    squares: tuple[str, ...]
    is_sum: bool


@dataclass(frozen=True)
class Table:
    """A table of words."""

    ident: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Told:
    """A group of sentences with its heading."""

    title: str
    named: tuple[Named, ...]


@dataclass(frozen=True)
class Loads:
    """One athlete's loads: the picture, and the same as rows of day, load and both averages."""

    picture: str
    heads: tuple[str, str]
    days: tuple[tuple[str, str, str, str], ...]


@dataclass(frozen=True)
class Choice:
    """What can be chosen in a list."""

    value: str
    title: str
    chosen: bool


@dataclass(frozen=True)
class ReviewShown:
    """The page."""

    title: str
    subtitle: str
    tables: tuple[Table, ...]
    details: tuple[Table, ...]
    told: tuple[Told, ...]
    loads: Loads | None
    weave: str
    notes: tuple[str, ...]
    as_planned: bool


def review_shown(
    review: Review, programme: Programme, *, athlete: str | None, catalogue: Catalogue, units: Units
) -> ReviewShown:
    """Put a review into what the page shows: one athlete's, or the squad's week or weeks.

    Args:
        review: the review.
        programme: the programme that was reviewed.
        athlete: whose page it is; None for the squad's.
        catalogue: the exercises with the coach's titles.
        units: what the person reads in.
    """
    reviewer = Reviewer(review, programme, catalogue, units)
    names = {reviewer.name(ref): ref for ref in review.athletes} if athlete is None else {}
    page = _page(reviewer, athlete)
    grids = page.grids if athlete else (*page.grids, reviewer.lines())
    told = _told(page)
    return ReviewShown(
        title=page.title,
        subtitle=page.subtitle,
        tables=_tables(grids, names, ident="table"),
        details=_tables(page.details, {}, ident="detail"),
        told=told,
        loads=_loads(review, athlete, programme) if athlete else None,
        weave=_weave(reviewer, athlete) if athlete and len(review.weeks) > 1 else "",
        notes=page.notes,
        as_planned=not told,
    )


def _page(reviewer: Reviewer, athlete: str | None) -> ReviewPage:
    weeks = reviewer.review.weeks
    if athlete is not None:
        return reviewer.athlete(athlete)
    return reviewer.squad_week(weeks[0]) if len(weeks) == 1 else reviewer.period()


def _told(page: ReviewPage) -> tuple[Told, ...]:
    groups = (
        ("Who differed from the plan, and why", page.differed),
        ("Nothing written down", page.unwritten),
        ("To ask", page.questions),
    )
    return tuple(Told(title, named) for title, named in groups if named)


def _tables(grids: Sequence[Grid], names: dict[str, str], *, ident: str) -> tuple[Table, ...]:
    return tuple(
        Table(f"{ident}-{place}", grid.title or "Planned beside done", grid.heads, _rows(grid, names))
        for place, grid in enumerate(grids)
    )


def _rows(grid: Grid, names: dict[str, str]) -> tuple[Row, ...]:
    last = len(grid.rows) - 1
    return tuple(
        Row(row[0], names.get(row[0]), row[1:], is_sum=grid.sums and place == last)
        for place, row in enumerate(grid.rows)
    )


def _loads(review: Review, athlete: str, programme: Programme) -> Loads | None:
    chart = load_chart(review, athlete, programme=programme)
    lines = chart.lines
    if not lines.loads:
        return None
    short, long = (f"{number(days)}-day average" for days in lines.spans_d)
    days = tuple(
        (
            day_month(lines.first + timedelta(days=place)),
            "not written down" if place in lines.missing else number(load, decimals=0),
            number(lines.short[place], decimals=0),
            number(lines.long[place], decimals=0),
        )
        for place, load in enumerate(lines.loads)
    )
    return Loads(load_lines_svg(chart, skin="page"), (short, long), days[::-1])


def _weave(reviewer: Reviewer, athlete: str) -> str:
    """Draw the programme with a thin line in each thread for what was done."""
    data = weave_from_programme(
        reviewer.programme,
        athlete,
        catalogue=reviewer.catalogue,
        done=reviewer.review.done_volumes(athlete),
    )
    return weave_svg(data, skin="page", ident="done")


def week_choices(programme: Programme, chosen: int | None) -> tuple[Choice, ...]:
    """Give the weeks that can be chosen; None is all weeks so far."""
    mondays = {week.number: week.monday for own in programme.programmes for week in own.weeks}
    weeks = (
        Choice(str(number), f"Week {number}, {span(monday, monday + SUNDAY)}", number == chosen)
        for number, monday in sorted(mondays.items())
    )
    return (*weeks, Choice("all", "All weeks so far", chosen is None))
