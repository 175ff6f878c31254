"""Cells as they were pasted, typed or taken from a file, before anybody knows what they say."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.table_file import read_table

HERE = "the table"
"""What faults of pasted cells name as their file."""
MOST_ROWS, MOST_COLUMNS = 2000, 60
_SEPARATORS = (";", ",")


@dataclass(frozen=True)
class Grid:
    """A header and numbered rows of cells, all as typed; the header is row 1."""

    header: tuple[str, ...] = ()
    rows: tuple[tuple[int, tuple[str, ...]], ...] = ()

    @property
    def text(self) -> str:
        """The cells as a spreadsheet copies them, with a line for every row up to the last."""
        lines = {number: "\t".join(cells) for number, cells in self.rows}
        last = max(lines, default=1)
        return "\n".join(["\t".join(self.header), *(lines.get(one, "") for one in range(2, last + 1))])


def grid_of_text(text: str) -> Grid:
    """Read pasted text: tabs as a spreadsheet copies them, else semicolons or commas.

    Raises:
        UnusableFileError: more rows or columns than a squad's tests can have.
    """
    lines = [_clean(cells) for cells in _split(text.replace("\r\n", "\n").replace("\r", "\n").rstrip())]
    while lines and not any(lines[0]):
        lines = lines[1:]
    wide = max((len(cells) for cells in lines), default=0)
    if len(lines) > MOST_ROWS or wide > MOST_COLUMNS:
        came, expected = f"{len(lines)} rows of up to {wide} cells", f"{MOST_ROWS} rows of {MOST_COLUMNS}"
        raise UnusableFileError([Fault(HERE, None, "", came, f"at most {expected}", "send it in parts")])
    full = [tuple((cells + [""] * wide)[:wide]) for cells in lines]
    rows = tuple((number, cells) for number, cells in enumerate(full[1:], 2) if any(cells))
    return Grid(full[0] if full else (), rows)


def _split(text: str) -> Iterator[list[str]]:
    if "\t" in text:
        yield from (line.split("\t") for line in text.split("\n"))
        return
    head = text.partition("\n")[0]
    separator = max(_SEPARATORS, key=head.count)
    yield from csv.reader(io.StringIO(text), delimiter=separator, skipinitialspace=True)


def _clean(cells: list[str]) -> list[str]:
    stripped = [" ".join(cell.split()).strip('"') for cell in cells]
    while stripped and not stripped[-1]:
        stripped.pop()
    return stripped


def grid_of_file(path: Path) -> Grid:
    """Read a CSV, XLSX or ODS file as cells.

    Raises:
        UnusableFileError: not a table that can be read.
    """
    table = read_table(path, needed=("athlete",))
    if table.faults:
        raise UnusableFileError(table.faults)
    return Grid(
        table.columns,
        tuple(
            (place, tuple(row.cells.get(column, "") for column in table.columns))
            for place, row in enumerate(table.rows, 2)
        ),
    )
