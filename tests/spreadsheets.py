"""Spreadsheet files made in a test: a workbook by openpyxl, an ODS by hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from xml.sax.saxutils import escape
from zipfile import ZipFile

import openpyxl

FAILED = ("#DIV/0!", "#N/A", "#REF!", "#VALUE!", "#NAME?", "Err:502")
"""What a failed formula leaves; openpyxl writes all but the last as such a cell by itself."""
Cells = Sequence[Sequence[object]]
_OPEN = "urn:oasis:names:tc:opendocument:xmlns"
_HEAD = (
    f'<office:document-content xmlns:office="{_OPEN}:office:1.0" xmlns:table="{_OPEN}:table:1.0" '
    f'xmlns:text="{_OPEN}:text:1.0" xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:'
    'xmlns:calcext:1.0" office:version="1.2"><office:body><office:spreadsheet>'
)
_MANIFEST = (
    f'<manifest:manifest xmlns:manifest="{_OPEN}:manifest:1.0"><manifest:file-entry manifest:full-path="/" '
    'manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/></manifest:manifest>'
)


def write_xlsx(path: Path, sheets: dict[str, Cells]) -> Path:
    """Write sheets by name."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)
    return path


def write_ods(path: Path, sheets: dict[str, Cells]) -> Path:
    """Write sheets by name, the few kinds of cells a table has (OpenDocument 1.2, part 1, 9.1)."""
    tables = "".join(
        f'<table:table table:name="{escape(name)}">'
        + "".join(f"<table:table-row>{''.join(map(_cell, row))}</table:table-row>" for row in rows)
        + "</table:table>"
        for name, rows in sheets.items()
    )
    with ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        content = f"{_HEAD}{tables}</office:spreadsheet></office:body></office:document-content>"
        archive.writestr("content.xml", content)
        archive.writestr("META-INF/manifest.xml", _MANIFEST)
    return path


def _cell(value: object) -> str:
    if value is None:
        return "<table:table-cell/>"
    if isinstance(value, date):
        kind = f'office:value-type="date" office:date-value="{value.isoformat()}"'
    elif isinstance(value, int | float):
        kind = f'office:value-type="float" office:value="{value}"'
    elif value in FAILED:
        # As LibreOffice writes it: the text of the cell is all that is left of the formula.
        kind = 'office:value-type="string" office:string-value="" calcext:value-type="error"'
    else:
        kind = 'office:value-type="string"'
    return f"<table:table-cell {kind}><text:p>{escape(str(value))}</text:p></table:table-cell>"
