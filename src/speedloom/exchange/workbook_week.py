"""A week's sheet: a row a line, with cells to fill in on paper or screen."""

from __future__ import annotations

from dataclasses import dataclass

from xlsxwriter.utility import xl_range

from speedloom.exchange.week_layout import (
    AFTER,
    EFFORT,
    HEAD_ROW,
    MINUTES,
    REASONS,
    RESERVE,
    STATUSES,
    WeekLayout,
)
from speedloom.exchange.workbook_style import Page, PaperSize
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Session
from speedloom.wording.cautions import ALWAYS, CARE
from speedloom.wording.line_words import TIMES, boxes, stop_time
from speedloom.wording.session_words import line_words, session_words

_WIDTHS = {"ref": 8, "Exercise": 27, "Do": 22, "Load": 12, "Expect": 18, "Rest": 11, "Stop": 13}
_AFTER_WIDTHS = (8, 8, 8, 11, 10, 9, 18)
_BOX, _ROW_PT = 6.5, 30
_HOW = (
    "Runs: a time in each box. Sets: repetitions done in each box, or x for done as written. "
    "Leave empty what was not done; Status says why: "
    f"{', '.join(STATUSES)}."
)


@dataclass(frozen=True)
class Attending:
    """One athlete's session of the week."""

    name: str
    session: Session


def write_week(
    page: Page,
    title: str,
    attending: list[Attending],
    *,
    layout: WeekLayout,
    catalogue: Catalogue,
    paper: PaperSize,
    foot: str,
) -> None:
    """Write a week: each athlete's sessions in the order of days, each with its lines."""
    page.put(0, 1, title, page.styles.title)
    for column, heading in enumerate(layout.headings):
        page.put(HEAD_ROW, column, heading, page.styles.head)
    page.sheet.set_row(HEAD_ROW, _ROW_PT)
    row = HEAD_ROW + 1
    for one in attending:
        _session(page, row, one, layout=layout, catalogue=catalogue)
        row += 1
        for line in one.session.prescriptions:
            if line.purpose == "work":
                _line(page, row, line, layout=layout, catalogue=catalogue)
                row += 1
    for text in (_HOW, *ALWAYS, CARE):
        page.put(row, 1, text)
        row += 1
    _set_up(page, layout=layout, last=row)
    page.print_on(paper, foot=foot, repeat_rows=HEAD_ROW + 1)


def _session(page: Page, row: int, one: Attending, *, layout: WeekLayout, catalogue: Catalogue) -> None:
    """Write a session's heading, with the cells about the whole of it."""
    words = session_words(one.session, catalogue=catalogue, units=layout.units)
    text = " · ".join(filter(None, (one.name, words.title, words.place, words.minutes)))
    page.sheet.set_row(row, _ROW_PT)
    page.put(row, 0, one.session.ref, page.styles.day)
    page.sheet.merge_range(row, 1, row, layout.at("Do"), "", page.styles.day)
    page.put(row, 1, text, page.styles.day)
    page.sheet.merge_range(row, layout.at("Load"), row, layout.load_done - 1, "", page.styles.day)
    page.put(row, layout.at("Load"), f"Warm-up: {words.warm_up}" if words.warm_up else "", page.styles.day)
    for column in range(layout.load_done, len(layout.headings)):
        asked = column > layout.at(RESERVE)
        page.put(row, column, None, page.styles.empty if asked else page.styles.blocked)


def _line(page: Page, row: int, line: Prescription, *, layout: WeekLayout, catalogue: Catalogue) -> None:
    words = line_words(line, catalogue=catalogue, units=layout.units)
    stop = (
        f"two over {stop_time(line)} s" if stop_time(line) else words.stop.removeprefix("Stop").lstrip(": ")
    )
    do = ", ".join(filter(None, (words.dose, words.manner)))
    # "+5 kg" would look like a formula.
    load = f"plus {words.load[1:]}" if words.load[:1] == "+" else words.load
    planned = (line.ref, words.name, do, load, words.expect, words.rest, stop)
    page.sheet.set_row(row, _ROW_PT)
    for column, text in enumerate(planned):
        page.put(row, column, text, page.styles.cell if column > 1 else page.styles.label)
    timed = boxes(line)[1] == TIMES
    for column in range(layout.load_done, len(layout.headings)):
        free = column < layout.first_box + boxes(line)[0] or column >= layout.at(RESERVE)
        unasked = column in _whole_session(layout) or (timed and column == layout.at(RESERVE))
        page.put(row, column, None, page.styles.empty if free and not unasked else page.styles.blocked)


def _whole_session(layout: WeekLayout) -> set[int]:
    """List the columns that are about a session, never about one line."""
    return {layout.at(EFFORT), layout.at(MINUTES)}


def _set_up(page: Page, *, layout: WeekLayout, last: int) -> None:
    sheet = page.sheet
    for column, heading in enumerate(layout.headings):
        sheet.set_column(column, column, _WIDTHS.get(heading, _BOX))
    for heading, width in zip(AFTER, _AFTER_WIDTHS, strict=True):
        sheet.set_column(layout.at(heading), layout.at(heading), width)
    sheet.set_column(layout.load_done, layout.load_done, 8)
    # The refs say which line a row is when it is read back, even after sorting.
    sheet.set_column(0, 0, 8, None, {"hidden": True})
    sheet.freeze_panes(HEAD_ROW + 1, 2)
    for heading, words in (("Status", STATUSES), ("Reason", REASONS)):
        column = layout.at(heading)
        cells = xl_range(HEAD_ROW + 1, column, max(last, HEAD_ROW + 1), column)
        sheet.data_validation(cells, {"validate": "list", "source": list(words)})
