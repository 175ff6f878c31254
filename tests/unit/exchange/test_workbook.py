"""The workbook: tables, sheets to fill in, lines as data; printable, without a formula, in chosen units."""

from __future__ import annotations

from copy import deepcopy
from datetime import UTC, datetime
from io import BytesIO
from typing import Any

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from small_programme import document, small_programme
from speedloom.exchange.line_columns import headers
from speedloom.exchange.workbook import WorkbookOrder, workbook
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.wording.units import Units

STAMP = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)


def written(programme: Programme, order: WorkbookOrder | None = None) -> bytes:
    return workbook(programme, order or WorkbookOrder(), catalogue=load_catalogue(), stamp=STAMP)


def opened(programme: Programme, order: WorkbookOrder | None = None) -> Workbook:
    return openpyxl.load_workbook(BytesIO(written(programme, order)))


def texts(sheet: Worksheet) -> list[list[str]]:
    return [
        [str(cell) for cell in row if cell is not None]
        for row in sheet.iter_rows(values_only=True)
        if any(row)
    ]


def test_the_sheets_stand_in_the_order_they_are_read_in() -> None:
    book = opened(small_programme())
    assert book.sheetnames == ["mila", "Week 1", "Week 2", "Week 3", "Week 4", "lines", "speedloom"]
    assert book["speedloom"].sheet_state == "hidden"
    facts = dict(book["speedloom"].iter_rows(values_only=True))
    assert (facts["programme"], facts["revision"], facts["mass"]) == ("4f1c2a90b7de", "1", "kg")


def test_the_progression_table_is_the_one_of_screen_and_paper() -> None:
    rows = texts(opened(small_programme())["mila"])
    assert rows[1] == ["Week", "1", "2", "3", "4"]
    assert ["Sled", "3 × 10\n20 kg", "4 × 10\n37.5 kg", "5 × 15*\n35 kg", "3 × 15\n35 kg"] in rows
    assert any(row[0].startswith("Sprinting and heavy lifting can hurt") for row in rows)


def test_a_week_has_a_row_a_line_and_a_box_a_repetition() -> None:
    sheet = opened(small_programme())["Week 2"]
    rows = {row[0]: row for row in sheet.iter_rows(values_only=True) if row[0]}
    refs = [ref for ref in rows if str(ref).startswith("mila-")]
    # The warm-up has no row of its own: it stands in its session's heading.
    assert refs == [
        "mila-200",
        "mila-202",
        "mila-203",
        "mila-204",
        "mila-250",
        "mila-251",
        "mila-252",
        "mila-253",
    ]
    assert rows["mila-203"][1:7] == (
        "Sled sprint",
        "4 × 10 m",
        "37.5 kg",
        "3.48 s (3.36–3.61)",
        "rest 2.5 min",
        None,
    )
    assert "Warm-up: Indoor warm-up (20 min)" in rows["mila-200"]
    heads = [str(cell.value) for cell in sheet[2]]
    assert heads[7:] == [
        "Load done kg", "1", "2", "3", "4", "5", "6", "In reserve", "Effort 0–10", "Minutes", "Done on",
        "Status", "Reason", "Note",
    ]  # fmt: skip
    sled = next(row for row in sheet.iter_rows() if row[0].value == "mila-203")
    assert [cell.fill.fill_type for cell in sled[8:14]] == [None] * 4 + ["gray0625"] * 2
    assert sheet.column_dimensions["A"].hidden


def test_it_prints_on_the_chosen_paper_as_wide_as_the_page_with_headings_and_a_caution() -> None:
    for size, code in (("a4", 9), ("us-letter", 1)):
        book = opened(small_programme(), WorkbookOrder(paper=size))
        for sheet in book.worksheets[:-1]:
            assert (int(sheet.page_setup.paperSize), sheet.page_setup.orientation) == (code, "landscape")
            assert sheet.page_setup.fitToHeight == 0
            assert sheet.print_title_rows
            assert "Pain, dizziness, chest symptoms" in sheet.oddFooter.left.text
        # As wide as one page is the file format's default and is not written out.
        assert book["Week 1"].sheet_properties.pageSetUpPr.fitToPage
        assert book["Week 1"].page_setup.fitToWidth in (None, 1)
        assert book["Week 1"].print_title_rows == "$1:$2"


def test_pounds_and_yards_on_the_sheets_and_kilograms_in_the_data() -> None:
    book = opened(small_programme(), WorkbookOrder(units=Units(mass="lb", length="yd")))
    rows = {row[0]: row for row in book["Week 2"].iter_rows(values_only=True) if row[0]}
    assert rows["mila-203"][2].startswith("4 × 10.9 yd")
    assert rows["mila-203"][3] == "82.7 lb"
    assert "Load done lb" in [cell.value for cell in book["Week 2"][2]]
    assert any("4 × 10.9\n82.7 lb" in row for row in texts(book["mila"]))
    lines = list(book["lines"].iter_rows(values_only=True))
    assert lines[0] == headers()
    assert 37.5 in [row[lines[0].index("load_kg")] for row in lines]


def test_one_athlete_and_one_week() -> None:
    content = document()
    other = deepcopy(content["programmes"][0])
    other["athlete"] = "noa"
    content["programmes"].append(other)
    book = opened(small_programme(content), WorkbookOrder(athlete="noa", week=3))
    assert book.sheetnames == ["noa", "Week 3", "lines", "speedloom"]
    assert {row[0] for row in book["lines"].iter_rows(min_row=2, values_only=True)} == {"noa"}


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "'="])
def test_no_text_is_a_formula(sign: str) -> None:
    content = document()
    for week in content["programmes"][0]["weeks"]:
        for session in week["sessions"]:
            session["prescriptions"][-1].update(
                exercise="own_line", method="other", cue=f'{sign}HYPERLINK("http://x")'
            )
    book = opened(small_programme(content))
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f"]
    found = [str(cell.value) for cell in cells if "HYPERLINK" in str(cell.value)]
    assert len(found) >= 8
    assert {text[0] for text in found} == {"'"}


def test_names_that_no_sheet_may_have() -> None:
    content = document()
    first = content["programmes"][0]
    content["brief"] = {
        "digest": None,
        "content": brief_of(["Week 1", "a/b:c*?[d]", "lines", "LINES", "'", "é" * 50]),
    }
    content["programmes"] = [{**deepcopy(first), "athlete": f"a{number}"} for number in range(6)]
    names = opened(small_programme(content)).sheetnames
    assert names[:6] == ["(Week 1)", "a b c   d", "lines 2", "LINES 3", "Athlete", "é" * 31]


def brief_of(names: list[str]) -> dict[str, Any]:
    athletes = [{"ref": f"a{number}", "name": name} for number, name in enumerate(names)]
    return {
        "schema": "speedloom.brief/1", "name": "Names", "timezone": "Europe/Amsterdam", "start": "2026-01-12",
        "end": "2026-02-08", "goal": {"kind": "general"}, "phases": {"mesocycle_weeks": [4]},
        "places": [{"ref": "hall", "kind": "hall"}], "slots": [], "athletes": athletes,
    }  # fmt: skip


def test_the_same_order_gives_the_same_bytes() -> None:
    assert written(small_programme()) == written(small_programme())
