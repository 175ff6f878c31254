"""Tests from XLSX and ODS: the same measurements and the same faults as from CSV."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import date
from pathlib import Path
from zipfile import ZipFile

import pytest

from house import ROOT
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.sheet_file import read_sheets
from speedloom.exchange.table_file import read_table
from speedloom.exchange.tests_file import read_tests
from spreadsheets import Cells, write_ods, write_xlsx

Writer = Callable[[Path, dict[str, Cells]], Path]
each_kind = pytest.mark.parametrize(("ending", "write"), [(".xlsx", write_xlsx), (".ods", write_ods)])
HEADER = ("athlete", "date", "trial", "timing", "clock", "5 m", "10 m", "20 m")
ROW = ("mila", date(2026, 1, 8), 1, "gates", "movement", 1.21, 1.98, 3.3)
GOOD: Cells = (HEADER, ROW, ("mila", date(2026, 1, 8), 2, "gates", "movement", 1.2, 1.97, 3.28))
BAD: Cells = (
    (None,),
    ("# squad A",),
    ("athlete", "date", "trial", "timing", "clock", "5 m", "10 m", "weight"),
    ("Mila V", date(2026, 1, 8), 1, "gate", "movement", 1.21, "fast", 61),
    (None,),
    ("noa", "08/01/2026", 1.5, "gates", None, 1.21, 1.98, None),
)


def as_csv(path: Path, rows: Cells) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        width = max(map(len, rows))
        csv.writer(file).writerows(
            [*("" if cell is None else cell for cell in row), *[""] * (width - len(row))] for row in rows
        )
    return path


def faults(path: Path) -> list[tuple[int | None, str, str, str, str]]:
    with pytest.raises(UnusableFileError) as error:
        read_tests(path)
    return [parts(fault) for fault in error.value.faults]


def parts(fault: Fault) -> tuple[int | None, str, str, str, str]:
    return (fault.row, fault.column, fault.what_came, fault.expected, fault.todo)


@each_kind
def test_the_same_measurements_as_from_csv(tmp_path: Path, ending: str, write: Writer) -> None:
    sheet = write(tmp_path / f"tests{ending}", {"Sheet1": GOOD})
    assert read_tests(sheet) == read_tests(as_csv(tmp_path / "tests.csv", GOOD))
    assert len(read_tests(sheet).trials) == 2


@each_kind
def test_the_same_faults_as_from_csv_with_row_and_column(tmp_path: Path, ending: str, write: Writer) -> None:
    found = faults(write(tmp_path / f"tests{ending}", {"Sheet1": BAD}))
    assert found == faults(as_csv(tmp_path / "tests.csv", BAD))
    assert {(row, column) for row, column, *_ in found} == {
        (3, "weight"), (4, "athlete"), (4, "timing"), (4, "10 m"), (6, "date"), (6, "trial"), (6, "clock"),
    }  # fmt: skip


@each_kind
def test_the_examples_read_the_same_from_a_sheet(tmp_path: Path, ending: str, write: Writer) -> None:
    path = ROOT / "examples" / "spring_build_tests.csv"
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    sheet = write(tmp_path / f"tests{ending}", {"Squad": list(csv.reader(lines))})
    assert read_tests(sheet) == read_tests(path)


def test_the_sheet_that_holds_the_table_is_read(tmp_path: Path) -> None:
    notes: Cells = (("Remember the long tape",),)
    path = write_xlsx(tmp_path / "tests.xlsx", {"Notes": notes, "January": GOOD})
    assert len(read_tests(path).trials) == 2
    twice = write_xlsx(tmp_path / "twice.xlsx", {"January": GOOD, "February": GOOD})
    with pytest.raises(UnusableFileError, match='expected one sheet, got 2: "January", "February"'):
        read_tests(twice)


def test_a_stray_cell_far_out_is_named_and_nothing_is_filled_up_to_it(tmp_path: Path) -> None:
    path = write_xlsx(tmp_path / "tests.xlsx", {"Sheet1": GOOD})
    with ZipFile(path) as archive:
        parts_of = {name: archive.read(name) for name in archive.namelist()}
    sheet = parts_of["xl/worksheets/sheet1.xml"]
    far = b'<row r="1048576"><c r="XFD1048576" t="n"><v>1</v></c></row></sheetData>'
    parts_of["xl/worksheets/sheet1.xml"] = sheet.replace(b"</sheetData>", far)
    with ZipFile(path, "w") as archive:
        for name, content in parts_of.items():
            archive.writestr(name, content)
    with pytest.raises(
        UnusableFileError, match="at most 20000 rows and 1000 columns, got a cell in XFD1048576"
    ):
        read_tests(path)


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"<html>", b"\xd0\xcf\x11\xe0" * 300])
@pytest.mark.parametrize("ending", [".xlsx", ".ods"])
def test_what_is_no_workbook_is_said(tmp_path: Path, ending: str, content: bytes) -> None:
    path = tmp_path / f"tests{ending}"
    path.write_bytes(content)
    with pytest.raises(UnusableFileError, match=r"expected a workbook \(XLSX or ODS\)"):
        read_tests(path)


def test_a_missing_file_and_an_empty_sheet(tmp_path: Path) -> None:
    with pytest.raises(UnusableFileError, match="No such file"):
        read_sheets(tmp_path / "none.xlsx")
    with pytest.raises(UnusableFileError, match="an empty file"):
        read_table(write_xlsx(tmp_path / "empty.xlsx", {"Sheet1": ()}), needed=())
