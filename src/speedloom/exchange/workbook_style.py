"""How a workbook looks and prints: formats that read in black and white, paper, and guarded text."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from speedloom.exchange.formula_guard import guarded
from speedloom.exchange.line_columns import Value
from speedloom.wording.cautions import ALWAYS

PaperSize = Literal["a4", "us-letter"]
_PAPER = {"a4": 9, "us-letter": 1}
_MARGIN_IN = 0.4
_GREY, _LINE = "#e8e8e8", "#808080"
_DOTS, _STRIPES = 18, 14
"""Fill patterns of the file format (ECMA-376, ST_PatternType): sparse dots, thin stripes."""


@dataclass(frozen=True)
class Styles:
    """The formats of one workbook."""

    title: Format
    note: Format
    head: Format
    day: Format
    label: Format
    cell: Format
    number: Format
    date: Format
    empty: Format
    blocked: Format
    striped: Format
    plain: Format


def styles(book: Workbook) -> Styles:
    """Make the formats; what is shaded is patterned as well, so that a copier keeps it."""

    def made(**more: Any) -> Format:  # noqa: ANN401 — the writer's own keywords
        box = {"border": 1, "border_color": _LINE, "valign": "vcenter", "text_wrap": True}
        return book.add_format({"font_size": 11, **box, **more})

    return Styles(
        title=book.add_format({"bold": True, "font_size": 14}),
        note=book.add_format({"font_size": 10, "text_wrap": True, "valign": "top"}),
        head=made(bold=True, bg_color=_GREY, align="center"),
        day=made(bold=True, bg_color=_GREY),
        label=made(),
        cell=made(align="center"),
        number=made(num_format="General"),
        date=made(num_format="yyyy-mm-dd", align="center"),
        empty=made(align="center", locked=False),
        blocked=made(pattern=_DOTS, fg_color=_LINE, bg_color="#ffffff"),
        striped=made(align="center", pattern=_STRIPES, fg_color="#c8c8c8", bg_color="#ffffff"),
        plain=made(align="center", bg_color=_GREY),
    )


@dataclass(frozen=True)
class Page:
    """One sheet with its formats; text goes through the guard, and nothing is a formula."""

    sheet: Worksheet
    styles: Styles

    def put(self, row: int, column: int, value: Value, style: Format | None = None) -> None:
        """Write one cell.

        Raises:
            ValueError: a text or place that the file format cannot hold.
        """
        if self._written(row, column, value, style):
            raise ValueError(f"expected at most 32767 signs in a cell, got {len(str(value))}")

    def _written(self, row: int, column: int, value: Value, style: Format | None) -> int:
        if value is None or value == "":
            return int(self.sheet.write_blank(row, column, None, style))
        if isinstance(value, bool):
            return int(self.sheet.write_string(row, column, "true" if value else "false", style))
        if isinstance(value, int | float):
            return int(self.sheet.write_number(row, column, value, style))
        if isinstance(value, date):
            day = datetime(value.year, value.month, value.day)  # noqa: DTZ001 — a day has no zone
            return int(self.sheet.write_datetime(row, column, day, style or self.styles.date))
        return int(self.sheet.write_string(row, column, guarded(value), style))

    def print_on(self, paper: PaperSize, *, foot: str, pages_wide: int = 1, repeat_rows: int = 1) -> None:
        """Set up the printed page: landscape, as wide as the paper, headings on every page, a caution."""
        self.sheet.set_landscape()
        self.sheet.set_paper(_PAPER[paper])
        self.sheet.set_margins(left=_MARGIN_IN, right=_MARGIN_IN, top=_MARGIN_IN, bottom=2 * _MARGIN_IN)
        self.sheet.fit_to_pages(pages_wide, 0)
        self.sheet.repeat_rows(0, repeat_rows - 1)
        self.sheet.set_footer(f"&L&9{_plain(ALWAYS[0])}\n{_plain(foot)}&R&9&P / &N")


def _plain(text: str) -> str:
    return text.replace("&", "&&")
