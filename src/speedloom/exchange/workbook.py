"""A programme as a workbook: progression tables, a sheet a week to fill in, and every line as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO

from xlsxwriter import Workbook

from speedloom.exchange.line_columns import headers, line_rows
from speedloom.exchange.week_layout import (
    LAYOUT,
    LINES_SHEET,
    META_SHEET,
    week_layout,
    week_sheet,
    weeks_by_number,
)
from speedloom.exchange.workbook_style import Page, PaperSize, styles
from speedloom.exchange.workbook_table import write_table
from speedloom.exchange.workbook_week import Attending, write_week
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Week
from speedloom.wording.dates import day_month
from speedloom.wording.names import WEEK_NAMES, athlete_name
from speedloom.wording.table import progression_table
from speedloom.wording.units import METRIC, Units

_LONGEST_NAME = 31
_NOT_IN_NAMES = set("[]:*?/\\'")


@dataclass(frozen=True)
class WorkbookOrder:
    """What goes into a workbook: for whom, which week's sheet, on what paper, in which units."""

    athlete: str | None = None
    week: int | None = None
    paper: PaperSize = "a4"
    units: Units = METRIC


def workbook(programme: Programme, order: WorkbookOrder, *, catalogue: Catalogue, stamp: datetime) -> bytes:
    """Write a programme as XLSX; the same programme, order and `stamp` give the same bytes."""
    out = BytesIO()
    book = Workbook(out, {"in_memory": True})
    book.set_properties({"title": f"Programme {programme.id}", "created": stamp.replace(tzinfo=None)})
    looks = styles(book)

    def page(name: str) -> Page:
        return Page(book.add_worksheet(name), looks)

    foot = f"Programme {programme.id}, revision {programme.revision.number}"
    shown = [own.athlete for own in programme.programmes if order.athlete in (None, own.athlete)]
    names = _sheet_names(athlete_name(programme, athlete) for athlete in shown)
    for athlete, name in zip(shown, names, strict=True):
        table = progression_table(programme, athlete, catalogue=catalogue, units=order.units)
        write_table(page(name), table, paper=order.paper, foot=foot)
    for number, athletes in weeks_by_number(programme, athlete=order.athlete).items():
        if order.week in (None, number):
            write_week(
                page(week_sheet(number)),
                _week_title(number, [week for _, week in athletes]),
                list(_attending(programme, athletes)),
                layout=week_layout([week for _, week in athletes], units=order.units),
                catalogue=catalogue,
                paper=order.paper,
                foot=foot,
            )
    _write_lines(page(LINES_SHEET), programme, order, foot=foot)
    _write_meta(page(META_SHEET), programme, order)
    book.close()
    return out.getvalue()


def _week_title(number: int, weeks: list[Week]) -> str:
    kinds = dict.fromkeys(WEEK_NAMES[week.kind] for week in weeks)
    kind = next(iter(kinds)) if len(kinds) == 1 else ""
    return " · ".join(filter(None, (f"Week {number}", f"from {day_month(weeks[0].monday)}", kind)))


def _attending(programme: Programme, athletes: list[tuple[str, Week]]) -> Iterator[Attending]:
    every = [
        Attending(athlete_name(programme, athlete), session)
        for athlete, week in athletes
        for session in week.sessions
    ]
    yield from sorted(every, key=lambda one: (one.session.date, one.session.start, one.name))


def _write_lines(page: Page, programme: Programme, order: WorkbookOrder, *, foot: str) -> None:
    """Write every line as data, in kilograms and metres: this sheet is read back."""
    for column, name in enumerate(headers()):
        page.put(0, column, name, page.styles.head)
        page.sheet.set_column(column, column, max(9, len(name) + 2))
    rows = 0
    for rows, values in enumerate(line_rows(programme, athlete=order.athlete), start=1):
        for column, value in enumerate(values):
            page.put(rows, column, value)
    page.sheet.freeze_panes(1, 1)
    page.sheet.autofilter(0, 0, rows, len(headers()) - 1)
    page.print_on(order.paper, foot=foot, pages_wide=3)


def _write_meta(page: Page, programme: Programme, order: WorkbookOrder) -> None:
    """Write, out of sight, what says which programme a filled sheet belongs to."""
    facts = (
        ("layout", LAYOUT),
        ("programme", programme.id),
        ("revision", str(programme.revision.number)),
        ("timezone", programme.timezone),
        ("mass", order.units.mass),
        ("length", order.units.length),
    )
    for row, (name, value) in enumerate(facts):
        page.put(row, 0, name)
        page.put(row, 1, value)
    page.sheet.hide()


def _sheet_names(titles: Iterator[str]) -> list[str]:
    """Make names that a workbook can have: short, without its own signs, each once."""
    taken = {META_SHEET, LINES_SHEET, "history"}
    names = []
    for title in titles:
        bare = name = _bare_name(title)
        number = 1
        while name.lower() in taken:
            number += 1
            name = f"{bare[: _LONGEST_NAME - len(str(number)) - 1]} {number}"
        taken.add(name.lower())
        names.append(name)
    return names


def _bare_name(title: str) -> str:
    bare = "".join(" " if sign in _NOT_IN_NAMES or not sign.isprintable() else sign for sign in title)
    bare = bare.strip()[:_LONGEST_NAME].strip() or "Athlete"
    # "Week 1" is the name of a week's sheet.
    return f"({bare[: _LONGEST_NAME - 2]})" if bare.lower().startswith("week ") else bare
