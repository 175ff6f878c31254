"""Workbook, calendar and table of a programme, as bytes; the clock is read here."""

from __future__ import annotations

from datetime import UTC, datetime

from speedloom.exchange.calendar_file import calendar_file
from speedloom.exchange.csv_file import lines_csv
from speedloom.exchange.workbook import WorkbookOrder, workbook
from speedloom.handouts.papers import Order
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of


def workbook_of(programme: Programme, order: Order) -> bytes:
    """Write the workbook with the sheets to fill in."""
    _, catalogue = books_of(programme)
    wanted = WorkbookOrder(order.athlete, order.week, order.size, order.units)
    return workbook(programme, wanted, catalogue=catalogue, stamp=_now())


def calendar_of(programme: Programme, order: Order) -> bytes:
    """Write the calendar."""
    _, catalogue = books_of(programme)
    return calendar_file(
        programme, stamp=_now(), catalogue=catalogue, athlete=order.athlete, week=order.week,
        since=order.since, units=order.units,
    )  # fmt: skip


def table_of(programme: Programme, order: Order) -> bytes:
    """Write the table of lines."""
    return lines_csv(programme, athlete=order.athlete, week=order.week, units=order.units)


def _now() -> datetime:
    return datetime.now(tz=UTC).replace(microsecond=0)
