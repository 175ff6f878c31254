"""A workbook (XLSX or ODS) as sheets of text cells, as a person reads them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from python_calamine import CalamineError, CalamineWorkbook, SheetMetadata, SheetVisibleEnum

from speedloom.exchange.error_cells import Errors, errors_in, is_error
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.formula_guard import unguarded

SHEET_FILES = frozenset({".xlsx", ".xlsm", ".ods"})
Cells = list[str]
_CELL = re.compile(rb'<c r="([A-Z]+)(\d+)"')
_MOST_ROWS, _MOST_COLUMNS = 20_000, 1_000
_MOST_BYTES = 200_000_000


@dataclass(frozen=True)
class Sheet:
    """One sheet: its filled rows, each with the number a person sees beside it."""

    name: str
    visible: bool
    rows: tuple[tuple[int, Cells], ...]


def read_sheets(path: Path) -> tuple[Sheet, ...]:
    """Read every sheet of a workbook; rows whose first cell begins with # are comments.

    Raises:
        UnusableFileError: not readable, no workbook, or larger than a table of people can be.
    """
    _refuse_huge(path)
    try:
        book = CalamineWorkbook.from_path(str(path))
        with ZipFile(path) as archive:
            errors = errors_in(archive)
        return tuple(_sheet(book, about, errors.get(about.name, {})) for about in book.sheets_metadata)
    except (CalamineError, OSError, ValueError) as error:
        raise UnusableFileError([_no_workbook(path, str(error))]) from error


def _sheet(book: CalamineWorkbook, about: SheetMetadata, errors: Errors) -> Sheet:
    values = book.get_sheet_by_name(about.name).to_python(skip_empty_area=False)
    visible = about.visible == SheetVisibleEnum.Visible
    return Sheet(about.name, visible, tuple(_rows(values, errors)))


def _no_workbook(path: Path, came: str) -> Fault:
    todo = "open it in your spreadsheet program and save it again, without a password"
    return Fault(str(path), None, "", came, "a workbook (XLSX or ODS)", todo)


def _refuse_huge(path: Path) -> None:
    """Refuse a sheet with a cell far out: the reader would make room for all cells before it."""
    try:
        with ZipFile(path) as archive:
            names = [name for name in archive.namelist() if name.endswith(".xml")]
            if sum(archive.getinfo(name).file_size for name in names) > _MOST_BYTES:
                raise UnusableFileError([_too_large(path, None, f"more than {_MOST_BYTES // 10**6} MB")])
            for name in names:
                if name.startswith("xl/worksheets/"):
                    _refuse_far_cell(path, archive.read(name))
    except (BadZipFile, OSError) as error:
        raise UnusableFileError([_no_workbook(path, str(error))]) from error


def _refuse_far_cell(path: Path, content: bytes) -> None:
    for letters, digits in _CELL.findall(content):
        row, column = int(digits), _column_number(letters)
        if row > _MOST_ROWS or column > _MOST_COLUMNS:
            raise UnusableFileError([_too_large(path, row, f"a cell in {(letters + digits).decode()}")])


def _column_number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = 26 * number + letter - ord("A") + 1
    return number


def _too_large(path: Path, row: int | None, came: str) -> Fault:
    expected = f"at most {_MOST_ROWS} rows and {_MOST_COLUMNS} columns"
    return Fault(str(path), row, "", came, expected, "delete the rows and columns beyond the table")


def _rows(values: Sequence[Sequence[object]], errors: Errors) -> Iterator[tuple[int, Cells]]:
    failed: dict[int, dict[int, str]] = {}
    for (number, column), text in errors.items():
        failed.setdefault(number, {})[column - 1] = text
    for number in range(1, max([len(values), *failed]) + 1):
        row = values[number - 1] if number <= len(values) else ()
        cells = [cell_text(value) for value in row]
        for column, text in failed.get(number, {}).items():
            cells += [""] * (column + 1 - len(cells))
            cells[column] = text
        first = next((cell for cell in cells if cell), "")
        if first and (is_error(first) or not first.startswith("#")):
            yield number, cells


def cell_text(value: object) -> str:
    """Write a cell's value as it would stand in a CSV file.

    >>> cell_text(32.0), cell_text(0.1 + 0.2), cell_text(date(2026, 1, 8)), cell_text(time(18, 0))
    ('32', '0.3', '2026-01-08', '18:00')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"{value:.10f}".rstrip("0").rstrip(".")
    if isinstance(value, datetime):
        whole_day = value.time() == time()
        return value.date().isoformat() if whole_day else value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat(timespec="minutes" if value.second == value.microsecond == 0 else "auto")
    # A guard may stand before a blank, so it is taken away first.
    return unguarded(str(value)).strip()
