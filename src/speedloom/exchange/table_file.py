"""A table from a file: CSV, or the sheet of a workbook that holds it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from speedloom.exchange.csv_table import read_csv
from speedloom.exchange.fault import Fault, UnusableFileError, listed
from speedloom.exchange.sheet_file import SHEET_FILES, Sheet, read_sheets
from speedloom.exchange.table import Table, as_table

_UNREADABLE = {".xls", ".xlsb", ".numbers", ".pdf", ".doc", ".docx"}


def read_table(path: Path, *, needed: Sequence[str], named: str = "") -> Table:
    """Read a table; of a workbook the sheet called `named`, else the one whose header has what is needed.

    Raises:
        UnusableFileError: not readable, empty, or more than one sheet that could be meant.
    """
    kind = path.suffix.lower()
    if kind in _UNREADABLE:
        todo = "save it as .xlsx, .ods or CSV and give that file"
        raise UnusableFileError([Fault(str(path), None, "", f"a {path.suffix} file", "a table", todo)])
    if kind not in SHEET_FILES:
        return read_csv(path)
    return as_table(str(path), _chosen(path, needed, named).rows)


def _chosen(path: Path, needed: Sequence[str], named: str) -> Sheet:
    sheets = [sheet for sheet in read_sheets(path) if sheet.rows and sheet.visible]
    by_name = [sheet for sheet in sheets if named and sheet.name.lower() == named]
    fitting = by_name or [sheet for sheet in sheets if set(needed) <= _header(sheet)]
    if len(fitting) > 1:
        came = listed(f'"{sheet.name}"' for sheet in fitting)
        todo = "put all rows on one sheet, or give each sheet as a file of its own"
        raise UnusableFileError([Fault(str(path), None, "", f"{len(fitting)}: {came}", "one sheet", todo)])
    return next(iter((*fitting, *sheets)), Sheet("", visible=True, rows=()))


def _header(sheet: Sheet) -> set[str]:
    return {" ".join(cell.split()).lower() for cell in sheet.rows[0][1]}
