"""The progression table for a terminal: one band of weeks where it fits, else a band for some mesocycles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap

from speedloom.wording.dates import day_month
from speedloom.wording.table import Column, Day, Row, Square, Table

WIDTH = 120
CHANGED = "*"
NONE = "–"
NOTES = {"introduction": "intro", "no training": "none"}
LEGEND = (
    f"{CHANGED} other distance, repetitions, effort or exercise than the week before"
    " · (5) from week 5 on · bw body weight"
)


@dataclass(frozen=True)
class _Style:
    """How squares are spelt: with spaces round the signs, or without to save room."""

    label_width: int = 25
    gap: str = "  "
    tight: bool = False

    def spell(self, text: str) -> str:
        """Spell a square's text."""
        if not self.tight:
            return text
        for loose in (" × ", " + ", " kg", " %", "@ "):
            text = text.replace(loose, loose.strip())
        return text


LOOSE, TIGHT = _Style(), _Style(label_width=22, gap=" ", tight=True)


def table_text(table: Table, *, width: int = WIDTH) -> str:
    """Write the table in at most `width` columns of a terminal."""
    whole = range(len(table.columns))
    for style in (LOOSE, TIGHT):
        if _needed(table, whole, style=style) <= width:
            return _page(table, [whole], style=style)
    return _page(table, _bands(table, width=width, style=TIGHT), style=TIGHT)


def _page(table: Table, bands: Sequence[range], *, style: _Style) -> str:
    parts = [f"{table.title}\n"]
    parts += ["\n".join(_band(table, band, style=style)) + "\n" for band in bands]
    return "\n".join([*parts, LEGEND]) + "\n"


def _bands(table: Table, *, width: int, style: _Style) -> list[range]:
    bands: list[range] = []
    start = 0
    for end in [*_borders(table.columns), len(table.columns)]:
        if bands and _needed(table, range(bands[-1].start, end), style=style) <= width:
            bands[-1] = range(bands[-1].start, end)
        elif end > start:
            bands.append(range(start, end))
        start = end
    return bands


def _borders(columns: Sequence[Column]) -> Iterator[int]:
    for index in range(1, len(columns)):
        if columns[index].mesocycle != columns[index - 1].mesocycle:
            yield index


def _rows(table: Table) -> Iterator[Row]:
    for day in table.days:
        yield from day.rows


def _needed(table: Table, band: range, *, style: _Style) -> int:
    return style.label_width + sum(
        len(style.gap) + _column_width(table, index, style=style) for index in band
    )


def _column_width(table: Table, index: int, *, style: _Style) -> int:
    texts = [text for row in _rows(table) for text in _lines(row.squares[index], style=style)]
    return max(len(text) for text in (*texts, *_head(table.columns[index]), NONE))


def _head(column: Column) -> tuple[str, str, str]:
    return (str(column.week), NOTES.get(column.note, column.note), day_month(column.monday)[4:])


def _lines(square: Square | None, *, style: _Style) -> tuple[str, ...]:
    if square is None:
        return (NONE,)
    main = style.spell(square.cell.main) + CHANGED * square.changed
    second = style.spell(square.cell.second)
    return (main, second) if second else (main,)


def _band(table: Table, band: range, *, style: _Style) -> Iterator[str]:
    widths = [_column_width(table, index, style=style) for index in band]
    heads = [_head(table.columns[index]) for index in band]
    for label, texts in zip(("Week", "", "from Monday"), zip(*heads, strict=True), strict=True):
        yield _aligned(label, texts, widths=widths, style=style)
    for day in table.days:
        yield ""
        yield day.title
        yield from _day(day, band, widths=widths, style=style)


def _day(day: Day, band: range, *, widths: Sequence[int], style: _Style) -> Iterator[str]:
    for row in day.rows:
        labels = wrap(row.label, style.label_width - 1, subsequent_indent="  ")
        squares = [_lines(row.squares[index], style=style) for index in band]
        height = max(len(labels), *(len(lines) for lines in squares))
        for at in range(height):
            texts = [lines[at] if at < len(lines) else "" for lines in squares]
            yield _aligned(labels[at] if at < len(labels) else "", texts, widths=widths, style=style)


def _aligned(label: str, texts: Sequence[str], *, widths: Sequence[int], style: _Style) -> str:
    cells = (text.center(width) for text, width in zip(texts, widths, strict=True))
    return f"{label:<{style.label_width}}{style.gap}{style.gap.join(cells)}".rstrip()
