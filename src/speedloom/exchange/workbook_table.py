"""The progression table of one athlete as a sheet."""

from __future__ import annotations

from math import ceil

from xlsxwriter.format import Format

from speedloom.exchange.workbook_style import Page, PaperSize, Styles
from speedloom.wording.cautions import CARE
from speedloom.wording.dates import day_month
from speedloom.wording.table import Column, Square, Table
from speedloom.wording.table_text import CHANGED, LEGEND

_LABEL_WIDTH, _NARROWEST = 34, 9
_WEEKS_A_PAGE = 14
_HEAD_ROWS = 4
_LINE_PT = 16.0


def write_table(page: Page, table: Table, *, paper: PaperSize, foot: str) -> None:
    """Write weeks across and exercises down, as on screen and paper."""
    page.put(0, 0, table.title, page.styles.title)
    for row, label in enumerate(("Week", "", "from Monday"), start=1):
        page.put(row, 0, label, page.styles.head)
    for at, column in enumerate(table.columns, start=1):
        for row, text in enumerate((str(column.week), column.note, day_month(column.monday)), start=1):
            page.put(row, at, text, page.styles.head)
    last = _write_days(page, table)
    for row, text in ((last + 1, LEGEND), (last + 2, CARE)):
        page.sheet.merge_range(row, 0, row, max(1, min(8, len(table.columns))), "", page.styles.note)
        page.put(row, 0, text, page.styles.note)
    page.sheet.set_row(last + 2, 45)
    _widths(page, table)
    page.sheet.freeze_panes(_HEAD_ROWS, 1)
    page.sheet.repeat_columns("A:A")
    page.print_on(
        paper,
        foot=foot,
        pages_wide=max(1, ceil(len(table.columns) / _WEEKS_A_PAGE)),
        repeat_rows=_HEAD_ROWS,
    )


def _write_days(page: Page, table: Table) -> int:
    row = _HEAD_ROWS
    for day in table.days:
        for at in range(len(table.columns) + 1):
            page.put(row, at, day.title if at == 0 else None, page.styles.day)
        page.sheet.set_row(row, _height(day.title))
        for line in day.rows:
            row += 1
            page.sheet.set_row(row, _height(line.label))
            page.put(row, 0, line.label, page.styles.label)
            for at, (square, column) in enumerate(zip(line.squares, table.columns, strict=True), start=1):
                page.put(row, at, square_text(square), _shade(column, page.styles))
        row += 1
    return row


def _height(label: str) -> float:
    """Give a row's height [pt]: no program makes room for wrapped words by itself."""
    return _LINE_PT * max(2, ceil(len(label) / (_LABEL_WIDTH - 6)))


def square_text(square: Square | None) -> str:
    """Write a square in one or two rows; an asterisk marks other work than the week before."""
    if square is None:
        return ""
    return "\n".join(filter(None, (square.cell.main + CHANGED * square.changed, square.cell.second)))


def _shade(column: Column, styles: Styles) -> Format:
    return {"striped": styles.striped, "plain": styles.plain}.get(column.shade, styles.cell)


def _widths(page: Page, table: Table) -> None:
    page.sheet.set_column(0, 0, _LABEL_WIDTH)
    for at, column in enumerate(table.columns, start=1):
        texts = [square_text(line.squares[at - 1]) for day in table.days for line in day.rows]
        longest = max(len(part) for text in (*texts, column.note, "") for part in text.split("\n"))
        page.sheet.set_column(at, at, max(_NARROWEST, longest + 1))
