"""A review for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from speedloom.wording.review_cells import Grid
from speedloom.wording.review_pages import Named, Reviewer, ReviewPage

WIDTH = 120


def review_text(reviewer: Reviewer, *, athlete: str | None = None) -> str:
    """Write a review: of one athlete, of the squad's week, or of the squad's weeks so far."""
    review = reviewer.review
    if athlete is not None:
        page = reviewer.athlete(athlete)
    else:
        page = reviewer.squad_week(review.weeks[0]) if len(review.weeks) == 1 else reviewer.period()
    parts = [*_page(page)]
    if athlete is None:
        parts += ["", *grid_lines(reviewer.lines())]
    return "\n".join(parts) + "\n"


def _page(page: ReviewPage) -> Iterator[str]:
    yield f"{page.title} · {page.subtitle}"
    for grid in (*page.grids, *page.details):
        yield ""
        yield from grid_lines(grid)
    for title, named in (
        ("Who differed from the plan, and why", page.differed),
        ("Nothing written down", page.unwritten),
        ("To ask", page.questions),
    ):
        if named:
            yield ""
            yield title
            yield from _named(named)
    yield ""
    yield from (line for note in page.notes for line in wrap(note, WIDTH, subsequent_indent="  "))


def _named(named: Sequence[Named]) -> Iterator[str]:
    for one in named:
        for text in one.texts:
            yield from wrap(f"  {one.name}: {text}", WIDTH, subsequent_indent="    ")


def grid_lines(grid: Grid) -> Iterator[str]:
    """Write a table: labels to the left, numbers to the right."""
    if grid.title:
        yield grid.title
    rows = (grid.heads, *grid.rows)
    widths = _widths(rows)
    if sum(widths) + 2 * len(widths) - 2 > WIDTH:
        rows = (grid.heads, *(tuple(text.replace(" of ", "/") for text in row) for row in grid.rows))
        widths = _widths(rows)
    for place, row in enumerate(rows):
        if grid.sums and place == len(rows) - 1:
            yield "-" * (sum(widths) + 2 * len(widths) - 2)
        first, *others = (
            text.rjust(width) if column else text.ljust(width)
            for column, (text, width) in enumerate(zip(row, widths, strict=True))
        )
        yield "  ".join((first, *others)).rstrip()


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    return [max(map(len, column)) for column in zip(*rows, strict=True)]
