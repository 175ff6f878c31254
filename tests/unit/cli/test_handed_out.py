"""Workbook, calendar, table and log as a user asks for them."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from house import ROOT
from small_programme import document, small_programme
from speedloom.exchange.documents import canonical
from spreadsheets import write_xlsx
from unit.report.pdf_reading import page_texts

Ask = Callable[..., Any]
EXAMPLES = ROOT / "examples"
EFFORT = "Effort 0–10"


def test_workbook_calendar_and_table_in_one_go(ask: Ask, small: Path) -> None:
    files = [small.parent / name for name in ("a.xlsx", "a.ics", "a.csv")]
    units = ("--mass", "lb", "--length", "yd", "--paper", "us-letter")
    answer = ask("handout", small, "--xlsx", files[0], "--ics", files[1], "--csv", files[2], *units)
    assert (answer.code, answer.err.splitlines()) == (0, [f"Written: {path}" for path in files])
    assert openpyxl.load_workbook(files[0])["Week 1"].page_setup.paperSize == 1
    assert b"82.7 lb" in files[1].read_bytes().replace(b"\r\n ", b"")
    rows = list(csv.DictReader(files[2].read_text(encoding="utf-8-sig").splitlines()))
    sled = next(row for row in rows if row["ref"] == "mila-203")
    assert (sled["distance_yd"], sled["load_lb"], sled["expect.time_s"]) == ("10.94", "82.67", "3.48")


def test_session_sheets_without_kilograms(ask: Ask, small: Path) -> None:
    texts = []
    for option in ("--kilograms", "--no-kilograms"):
        assert ask("handout", small, "--pdf", small.parent / "a.pdf", option).code == 0
        texts.append(" ".join(page_texts((small.parent / "a.pdf").read_bytes())))
    assert ["37.5 kg" in text for text in texts] == [True, False]
    assert ["own load" in text for text in texts] == [False, True]


@pytest.mark.parametrize(("option", "name"), [("--xlsx", "a.xlsx"), ("--csv", "a.csv")])
def test_a_file_that_may_be_filled_in_is_never_written_over(
    ask: Ask, small: Path, option: str, name: str
) -> None:
    path = small.parent / name
    assert ask("handout", small, option, path).code == 0
    before = path.read_bytes()
    again = ask("handout", small, option, path)
    assert (again.code, "may be filled in; choose another name" in again.err) == (2, True)
    assert path.read_bytes() == before


def test_endings_that_no_spreadsheet_knows_and_a_lonely_since(ask: Ask, small: Path) -> None:
    wrong = ask("handout", small, "--xlsx", small.parent / "a.xls")
    assert (wrong.code, "expected a name that ends with .xlsx, got a.xls" in wrong.err) == (2, True)
    alone = ask("handout", small, "--csv", small.parent / "a.csv", "--since", small)
    assert (alone.code, "--since: expected --ics FILE with it" in alone.err) == (2, True)


def test_a_calendar_of_a_later_revision_replaces_the_file_and_cancels_what_is_gone(
    ask: Ask, small: Path
) -> None:
    path, later = small.parent / "a.ics", small.parent / "later.json"
    content = {**deepcopy(document()), "revision": {"number": 2}}
    content["programmes"][0]["weeks"][0]["sessions"].pop()
    later.write_text(canonical(small_programme(content)), encoding="utf-8")
    assert ask("handout", small, "--ics", path).code == 0
    assert ask("handout", later, "--ics", path, "--since", small).code == 0
    text = path.read_text(encoding="utf-8")
    assert (text.count("STATUS:CANCELLED"), text.count("STATUS:CONFIRMED"), text.count("SEQUENCE:2")) == (
        1,
        7,
        8,
    )
    other = ask("handout", small, "--ics", path, "--since", later)
    assert (other.code, "wrong order" in other.err) == (2, True)


def fill(path: Path, effort: float) -> None:
    book = openpyxl.load_workbook(path)
    sheet = book["Week 2"]
    heads = {str(cell.value): index for index, cell in enumerate(sheet[2])}
    rows = {row[0].value: row for row in sheet.iter_rows(min_row=3)}
    rows["mila-203"][heads["1"]].value = 9.9
    rows["mila-200"][heads[EFFORT]].value = effort
    book.save(path)


def test_a_filled_workbook_becomes_a_log_that_can_be_checked(ask: Ask, small: Path) -> None:
    book, log = small.parent / "a.xlsx", small.parent / "log.json"
    ask("handout", small, "--xlsx", book)
    fill(book, 6)
    answer = ask("log", "read", book, "--programme", small, "-o", log)
    assert answer.code == 0
    assert answer.out.splitlines()[0] == "2 entries, Mon 19 Jan."
    asked = "mila, Mon 19 Jan, Sled, set 1 repetition 1: 10 m in 9.9 s? Expected is 3.48 s, and above"
    assert asked in answer.out
    first = log.read_bytes()
    assert ask("log", "read", book, "--programme", small, "-o", log).code == 0
    assert log.read_bytes() == first
    assert ask("log", "check", log, "--programme", small).out == answer.out
    fill(book, 7)
    early = ask("log", "read", book, "--programme", small, "-o", log)
    assert (early.code, "needs a later --at" in early.err, log.read_bytes() == first) == (2, True, True)
    at = ("--at", "2026-01-20T08:00:00+01:00", "--by", "mila")
    assert "Corrections: 1" in ask("log", "read", book, "--programme", small, "-o", log, *at).out
    assert [entry["by"] for entry in json.loads(log.read_text())["entries"]] == ["sheet", "sheet", "mila"]


def test_a_faulty_cell_or_moment_writes_nothing(ask: Ask, small: Path) -> None:
    book, log = small.parent / "a.xlsx", small.parent / "log.json"
    ask("handout", small, "--xlsx", book)
    fill(book, 16)
    answer = ask("log", "read", book, "--programme", small, "-o", log)
    assert (answer.code, f"{EFFORT}: expected a number from 0 to 10" in answer.err, log.exists()) == (
        2,
        True,
        False,
    )
    moment = ask("log", "read", book, "--programme", small, "-o", log, "--at", "yesterday")
    assert (moment.code, "expected an instant with offset" in moment.err) == (2, True)


def test_a_log_of_another_programme_is_refused(ask: Ask, small: Path, planned: Path) -> None:
    book, log = small.parent / "a.xlsx", small.parent / "log.json"
    ask("handout", small, "--xlsx", book)
    fill(book, 6)
    ask("log", "read", book, "--programme", small, "-o", log)
    answer = ask("log", "check", log, "--programme", planned)
    assert (answer.code, "programme: expected" in answer.err) == (2, True)


def test_the_handed_out_lines_are_a_programme_that_check_accepts(ask: Ask, planned: Path) -> None:
    folder = planned.parent
    own = {finding["rule"] for finding in json.loads(ask("check", planned, "--json").out)}
    for option, name in (("--xlsx", "lines.xlsx"), ("--csv", "lines.csv")):
        ask("handout", planned, option, folder / name)
        answer = ask("check", folder / name, "--brief", EXAMPLES / "short_block.toml", "--json")
        found = {finding["rule"] for finding in json.loads(answer.out)}
        assert answer.code == 0
        # The lines are the same; only the working behind the numbers is not in the table.
        assert found - own == {"basis_present"}


def test_a_faulty_table_is_refused_with_row_and_column(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(
        "athlete,date,session.start,place,exercise,sets,reps,minutes\nmila,2026-01-12,18:00,hall,sled,1,6,12\n"
    )
    answer = ask("check", path)
    assert answer.code == 2
    assert f'{path}, line 2, exercise: expected an exercise of the catalogue, got "sled"' in answer.err


def test_profiles_from_a_workbook(ask: Ask, tmp_path: Path) -> None:
    source = EXAMPLES / "spring_build_tests.csv"
    lines = [line for line in source.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    book = write_xlsx(tmp_path / "tests.xlsx", {"Tests": list(csv.reader(lines))})
    assert ask("profile", book, "--json").out == ask("profile", source, "--json").out


@pytest.mark.parametrize("name", ["lines.csv", "book.xlsx"])
def test_lines_read_back_into_their_programme_have_its_findings(
    ask: Ask, planned: Path, tmp_path: Path, name: str
) -> None:
    table = tmp_path / name
    assert ask("handout", planned, f"--{table.suffix[1:]}", table).code == 0
    back = ask("check", table, "--original", planned, "--json")
    assert json.loads(back.out) == json.loads(ask("check", planned, "--json").out)


def test_a_number_that_was_changed_in_the_table_has_no_derivation(
    ask: Ask, planned: Path, tmp_path: Path
) -> None:
    table = tmp_path / "book.xlsx"
    assert ask("handout", planned, "--xlsx", table).code == 0
    book = openpyxl.load_workbook(table)
    sheet = book["lines"]
    heads = {str(cell.value): cell.column for cell in sheet[1]}
    row = next(row for row in range(2, sheet.max_row + 1) if sheet.cell(row, heads["load_kg"]).value)
    sheet.cell(row, heads["load_kg"]).value = 1.0
    book.save(table)
    found = json.loads(ask("check", table, "--original", planned, "--json").out)
    assert {one["rule"] for one in found} >= {"basis_present"}
    named = next(one for one in found if one["rule"] == "basis_present")
    assert named["line"] == sheet.cell(row, heads["ref"]).value


def test_only_a_table_is_read_back(ask: Ask, planned: Path) -> None:
    refused = ask("check", planned, "--original", planned)
    assert refused.code == 2
    assert "expected a table of lines (CSV, XLSX, ODS) beside --original, got .json" in refused.err
