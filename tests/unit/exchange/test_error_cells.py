"""A formula that failed is no empty cell: tests and hand-made programmes name it (logs: filled weeks)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import pytest

from speedloom.exchange.error_cells import cell_name, is_error
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.hand_made import Frame, read_hand_made
from speedloom.exchange.sheet_file import read_sheets
from speedloom.exchange.tests_file import read_tests
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from spreadsheets import FAILED, Cells, write_ods, write_xlsx

Writer = Callable[[Path, dict[str, Cells]], Path]
each_kind = pytest.mark.parametrize(("ending", "write"), [(".xlsx", write_xlsx), (".ods", write_ods)])
each_error = pytest.mark.parametrize("error", [one for one in FAILED if one.startswith("#")])
HEADER = ("athlete", "date", "trial", "timing", "clock", "10 m", "20 m")
ROW = ("mila", "2026-01-08", 1, "gates", "movement", 1.98, 3.3)


def faults(path: Path) -> list[str]:
    with pytest.raises(UnusableFileError) as error:
        read_tests(path)
    return [str(fault).removeprefix(f"{path}, ") for fault in error.value.faults]


@each_kind
@each_error
def test_a_failed_formula_in_the_tests_is_a_fault_that_names_its_cell(
    ending: str, write: Writer, error: str, tmp_path: Path
) -> None:
    path = write(tmp_path / f"tests{ending}", {"tests": [HEADER, (*ROW[:-1], error)]})
    (fault,) = faults(path)
    assert fault.startswith(f"line 2, 20 m: expected a value, got {error} in G2; ")
    assert fault.endswith("mend the formula in G2, or write the value itself")


def test_the_reader_alone_would_have_left_the_cell_empty(tmp_path: Path) -> None:
    path = write_xlsx(tmp_path / "tests.xlsx", {"tests": [HEADER, (*ROW[:-1], "#DIV/0!")]})
    assert b't="e"' in ZipFile(path).read("xl/worksheets/sheet1.xml")
    (sheet,) = read_sheets(path)
    assert sheet.rows[1][1][-1] == "#DIV/0!"


@each_kind
def test_a_row_that_begins_with_one_is_no_comment(ending: str, write: Writer, tmp_path: Path) -> None:
    path = write(tmp_path / f"tests{ending}", {"tests": [HEADER, ROW, ("#REF!", *ROW[1:])]})
    assert [fault[:25] for fault in faults(path)] == ["line 3, athlete: expected"]


def test_a_text_column_takes_no_error_for_a_word(tmp_path: Path) -> None:
    header, row = (*HEADER, "surface"), (*ROW, "#N/A")
    path = write_xlsx(tmp_path / "tests.xlsx", {"tests": [header, row]})
    assert faults(path)[0].startswith("line 2, surface: expected a value, got #N/A in H2")


@pytest.mark.parametrize("error", ["#DIV/0!", "Err:502"])
def test_csv_written_by_a_spreadsheet_holds_them_as_words(error: str, tmp_path: Path) -> None:
    path = tmp_path / "tests.csv"
    rows = [HEADER, (*ROW[:-1], error), (error, *ROW[1:])]
    path.write_text("\n".join(",".join(map(str, row)) for row in rows), encoding="utf-8")
    assert [fault.partition(";")[0] for fault in faults(path)] == [
        f"line 2, 20 m: expected a value, got {error} in G2",
        f"line 3, athlete: expected a value, got {error} in A3",
    ]


@each_kind
def test_every_one_is_told_once_and_with_the_other_faults(ending: str, write: Writer, tmp_path: Path) -> None:
    rows = [HEADER, (*ROW[:4], "#N/A", "fast", "#DIV/0!")]
    assert [fault.partition(":")[0] for fault in faults(write(tmp_path / f"a{ending}", {"tests": rows}))] == [
        "line 2, 10 m",
        "line 2, 20 m",
        "line 2, clock",
    ]


@each_kind
def test_errors_on_a_sheet_that_is_not_read_harm_nobody(ending: str, write: Writer, tmp_path: Path) -> None:
    sheets: dict[str, Cells] = {"notes": [("mean", "#DIV/0!")], "tests": [HEADER, ROW]}
    assert len(read_tests(write(tmp_path / f"a{ending}", sheets)).trials) == 1


def test_repeated_rows_and_cells_of_an_ods_are_counted(tmp_path: Path) -> None:
    rows: list[tuple[object, ...]] = [HEADER, ROW, (*ROW[:-1], "#NAME?")]
    path = write_ods(tmp_path / "a.ods", {"tests": rows})
    content = ZipFile(path).read("content.xml").decode()
    second = content.index("<table:table-row>", content.index("<table:table-row>") + 1)
    seven = '<table:table-cell table:number-columns-repeated="7"/>'
    empty = f'<table:table-row table:number-rows-repeated="3">{seven}</table:table-row>'
    content = content[:second] + empty + content[second:]
    kept = {name: ZipFile(path).read(name) for name in ("mimetype", "META-INF/manifest.xml")}
    with ZipFile(path, "w") as archive:
        for name, data in (*kept.items(), ("content.xml", content.encode())):
            archive.writestr(name, data)
    assert [fault.partition(";")[0] for fault in faults(path)] == [
        "line 6, 20 m: expected a value, got #NAME? in G6"
    ]


@each_kind
def test_a_failed_formula_in_a_hand_made_programme_names_its_cell(
    ending: str, write: Writer, tmp_path: Path
) -> None:
    header = ("athlete", "date", "session.start", "place", "exercise", "sets", "reps", "minutes")
    row = ("mila", "2026-01-12", "18:00", "hall", "acceleration_run", 1, "#VALUE!", 12)
    path = write(tmp_path / f"mine{ending}", {"lines": [header, row]})
    with pytest.raises(UnusableFileError) as error:
        read_hand_made(path, rulebook=load_rulebook(), catalogue=load_catalogue(), frame=Frame())
    assert "line 2, reps: expected a value, got #VALUE! in G2" in str(error.value)


def test_names_of_cells_and_what_is_an_error() -> None:
    assert [cell_name(1, column) for column in (1, 26, 27, 702, 703)] == ["A1", "Z1", "AA1", "ZZ1", "AAA1"]
    assert all(map(is_error, FAILED))
    assert not any(map(is_error, ("", "#", "# note", "N/A", "Err: 502", "3.2")))
