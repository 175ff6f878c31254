"""A CSV file as rows of named cells: separators, decimal commas and byte-order marks are read kindly."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from speedloom.exchange.documents import read_text
from speedloom.exchange.fault import Fault, UnusableFileError

_SEPARATORS = (";", "\t", ",")


@dataclass(frozen=True)
class Row:
    """A row: its line in the file, and its filled cells by column."""

    number: int
    cells: dict[str, str]


@dataclass(frozen=True)
class Table:
    """A header and rows; `faults` are those of its shape."""

    file: str
    header_row: int
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    faults: tuple[Fault, ...]


def read_table(path: Path) -> Table:
    """Read a CSV file; lines that begin with # are comments.

    Raises:
        UnusableFileError: not readable, not UTF-8, not CSV, or empty.
    """
    file = str(path)
    if path.suffix.lower() in {".xlsx", ".xls", ".ods"}:
        todo = 'save the sheet as "CSV UTF-8" and give that file'
        raise UnusableFileError([Fault(file, None, "", f"a {path.suffix} file", "a CSV file", todo)])
    lines = ["" if line.startswith("#") else line for line in read_text(path).splitlines()]
    try:
        rows = list(_rows(lines))
    except csv.Error as error:
        raise UnusableFileError([Fault(file, None, "", str(error), "CSV", "check the quotes")]) from error
    if not rows:
        todo = "write a header and one row a trial"
        raise UnusableFileError([Fault(file, None, "", "an empty file", "a header row", todo)])
    (header_row, header), body = rows[0], rows[1:]
    columns = tuple(" ".join(cell.split()).lower() for cell in header)
    while columns and not columns[-1]:
        columns = columns[:-1]
    faults = [fault for number, cells in body if (fault := _too_long(file, number, cells, len(columns)))]
    return Table(file, header_row, columns, tuple(_named(columns, body)), tuple(faults))


def _separator(lines: list[str]) -> str:
    header = next((line for line in lines if line.strip()), "")
    counts = {separator: header.count(separator) for separator in _SEPARATORS}
    return max(_SEPARATORS, key=lambda separator: counts[separator])


def _rows(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    text = io.StringIO("\n".join(lines))
    reader = csv.reader(text, delimiter=_separator(lines), strict=True, skipinitialspace=True)
    for cells in reader:
        stripped = [cell.strip() for cell in cells]
        if any(stripped):
            yield reader.line_num, stripped


def _too_long(file: str, number: int, cells: list[str], width: int) -> Fault | None:
    if not any(cells[width:]):
        return None
    todo = "with decimal commas, put ; between the cells"
    return Fault(file, number, "", f"{len(cells)} cells", f"{width} cells, as in the header", todo)


def _named(columns: tuple[str, ...], body: list[tuple[int, list[str]]]) -> Iterator[Row]:
    for number, cells in body:
        pairs = zip(columns, cells, strict=False)
        yield Row(number, {column: cell for column, cell in pairs if column and cell})
