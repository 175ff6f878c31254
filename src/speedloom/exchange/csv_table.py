"""A CSV file as rows of named cells: separators, decimal commas and byte-order marks are read kindly."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

from speedloom.exchange.documents import read_text
from speedloom.exchange.error_cells import begins_with_error
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.formula_guard import unguarded
from speedloom.exchange.table import Table, as_table

_SEPARATORS = (";", "\t", ",")


def read_csv(path: Path) -> Table:
    """Read a CSV file; lines that begin with # are comments.

    Raises:
        UnusableFileError: not readable, not UTF-8, not CSV, or empty.
    """
    lines = ["" if _is_comment(line) else line for line in read_text(path).splitlines()]
    try:
        rows = list(_rows(lines))
    except csv.Error as error:
        fault = Fault(str(path), None, "", str(error), "CSV", "check the quotes")
        raise UnusableFileError([fault]) from error
    return as_table(str(path), rows, hint="with decimal commas, put ; between the cells")


def _is_comment(line: str) -> bool:
    return line.startswith("#") and not begins_with_error(line)


def _separator(lines: list[str]) -> str:
    header = next((line for line in lines if line.strip()), "")
    counts = {separator: header.count(separator) for separator in _SEPARATORS}
    return max(_SEPARATORS, key=lambda separator: counts[separator])


def _rows(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    text = io.StringIO("\n".join(lines))
    reader = csv.reader(text, delimiter=_separator(lines), strict=True, skipinitialspace=True)
    for cells in reader:
        stripped = [unguarded(cell.strip()) for cell in cells]
        if any(stripped):
            yield reader.line_num, stripped
