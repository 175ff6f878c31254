"""A header and rows of named cells, whichever kind of file they came from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from speedloom.exchange.error_cells import cell_name, error_fault, is_error
from speedloom.exchange.fault import Fault, UnusableFileError


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


def as_table(file: str, rows: Sequence[tuple[int, list[str]]], *, hint: str = "") -> Table:
    """Name the cells of numbered rows by the first of them; `hint` says why a row may be too long.

    Raises:
        UnusableFileError: no row at all.
    """
    if not rows:
        todo = "write a header and one row a trial or line"
        raise UnusableFileError([Fault(file, None, "", "an empty file", "a header row", todo)])
    (header_row, header), body = rows[0], rows[1:]
    columns = tuple(" ".join(cell.split()).lower() for cell in header)
    while columns and not columns[-1]:
        columns = columns[:-1]
    faults = [
        fault for number, cells in body if (fault := _too_long(file, number, cells, len(columns), hint))
    ]
    faults += [fault for number, cells in rows for fault in _failed(file, number, cells, columns)]
    return Table(file, header_row, columns, tuple(_named(columns, body)), tuple(faults))


def _failed(file: str, number: int, cells: list[str], columns: tuple[str, ...]) -> Iterator[Fault]:
    """Find the cells of a row in which a formula failed, below a heading or as one."""
    for at, text in enumerate(cells[: len(columns)]):
        if is_error(text):
            yield error_fault(file, number, columns[at], cell=cell_name(number, at + 1), text=text)


def _too_long(file: str, number: int, cells: list[str], width: int, hint: str) -> Fault | None:
    if not any(cells[width:]):
        return None
    return Fault(file, number, "", f"{len(cells)} cells", f"{width} cells, as in the header", hint)


def _named(columns: tuple[str, ...], body: Sequence[tuple[int, list[str]]]) -> Iterator[Row]:
    for number, cells in body:
        pairs = zip(columns, cells, strict=False)
        yield Row(number, {column: cell for column, cell in pairs if column and cell})
