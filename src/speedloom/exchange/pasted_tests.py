"""Tests as coaches paste them: a name and times a row; how it was timed is said once for all rows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.pasted_cells import HERE, Grid
from speedloom.exchange.table import Row, Table
from speedloom.exchange.tests_file import COLUMNS, split_distance_m, tests_of_table
from speedloom.training.measurement import Measurements

_SAME = {
    **dict.fromkeys(("name", "player", "runner", "sprinter"), "athlete"),
    **dict.fromkeys(("dob", "birth date", "date of birth", "birthday"), "born"),
    **dict.fromkeys(("mass", "mass kg", "body mass", "body mass kg", "kg"), "mass_kg"),
    **dict.fromkeys(("height", "height m"), "height_m"),
    **dict.fromkeys(("run", "attempt", "trial no", "no"), "trial"),
}
"""Headers that mean a column of the tests file."""
_BARE = re.compile(r"\d+(?:[.,]\d+)?")
_IN_BRACKETS = re.compile(r"\s*[\[(].*[\])]$")
_SLIP = 0.75
_PERSON = frozenset({"athlete", "trial", "sex", "born", "mass_kg", "height_m"})


@dataclass(frozen=True)
class Pasted:
    """What pasted cells held: measurements, and names in rows without any result."""

    measurements: Measurements
    without: tuple[str, ...] = ()


def column_of(header: str) -> str:
    """Give the tests file's column that a pasted header means; a bare number is metres.

    >>> column_of("Name"), column_of("10"), column_of("20 m (s)"), column_of("Notes")
    ('athlete', '10 m', '20 m', 'notes')
    """
    plain = " ".join(header.split()).lower()
    if plain not in COLUMNS:
        plain = _IN_BRACKETS.sub("", plain)
    if _BARE.fullmatch(plain):
        return f"{plain} m"
    return _SAME.get(plain, plain)


def names_in(grid: Grid) -> tuple[str, ...]:
    """Give the names in a grid, each once, in its order."""
    columns = [column_of(header) for header in grid.header]
    if "athlete" not in columns:
        return ()
    place = columns.index("athlete")
    return tuple(dict.fromkeys(cells[place] for _, cells in grid.rows if cells[place]))


def read_pasted(grid: Grid, *, all_rows: Mapping[str, str], refs: Mapping[str, str]) -> Pasted:
    """Read a grid as tests.

    Args:
        grid: cells with a header.
        all_rows: what holds for every row whose own cell is empty: date, timing, clock and so on.
        refs: the athlete's ref for each name in the grid.

    Raises:
        UnusableFileError: every fault, each with row and the header as it was typed.
    """
    columns = tuple(column_of(header) for header in grid.header)
    if not grid.rows:
        todo = "paste a header row with Name and distances, and a row a run below it"
        raise UnusableFileError([Fault(HERE, None, "", "", "a table with times", todo)])
    said = {name: value for name, value in all_rows.items() if value}
    rows = [(number, dict(_filled(columns, cells))) for number, cells in grid.rows]
    with_result = [(number, cells) for number, cells in rows if not set(cells) <= _PERSON or _body(cells)]
    without = [cells["athlete"] for _, cells in rows if set(cells) == {"athlete"}]
    used = [name for name, full in zip(columns, _used(grid), strict=True) if name or full]
    table = Table(
        file=HERE,
        header_row=1,
        columns=(*used, *(name for name in said if name not in columns)),
        rows=tuple(Row(number, _whole(cells, all_rows=said, refs=refs)) for number, cells in with_result),
        faults=tuple(_nameless(columns)),
    )
    try:
        return Pasted(tests_of_table(table), tuple(without))
    except UnusableFileError as error:
        raise UnusableFileError(_as_typed(error.faults, grid, columns)) from error


def _used(grid: Grid) -> list[bool]:
    """Say of each column whether any cell below its header is filled."""
    return [any(cells[place] for _, cells in grid.rows) for place in range(len(grid.header))]


def _filled(columns: tuple[str, ...], cells: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    return ((column, cell) for column, cell in zip(columns, cells, strict=False) if column and cell)


def _body(cells: Mapping[str, str]) -> bool:
    return len(cells) > 1 and "athlete" in cells


def _nameless(columns: tuple[str, ...]) -> Iterator[Fault]:
    if "athlete" not in columns:
        yield Fault(HERE, 1, "", "", "a column Name", "head the column of names with Name")


def _whole(
    cells: Mapping[str, str], *, all_rows: Mapping[str, str], refs: Mapping[str, str]
) -> dict[str, str]:
    """Add to a run what holds for all rows; a row about the body or a lift has no clock."""
    runs = any(split_distance_m(column) is not None for column in cells)
    added = all_rows if runs else {name: all_rows[name] for name in ("date",) if name in all_rows}
    whole = {**added, **cells}
    if whole.get("clock") != "behind" and "behind_m" not in cells:
        whole.pop("behind_m", None)
    if "athlete" in whole:
        whole["athlete"] = refs.get(whole["athlete"], whole["athlete"])
    return whole


def _as_typed(faults: tuple[Fault, ...], grid: Grid, columns: tuple[str, ...]) -> Iterator[Fault]:
    """Name columns by the header as it was typed; what is said of a known column once is said once."""
    headers = dict(zip(columns, grid.header, strict=False))
    for fault in faults:
        if "athlete" not in columns and fault.column == "athlete":
            continue
        column = headers.get(fault.column, fault.column)
        todo = fault.todo if fault.row != 1 or _like_a_column(fault.column) else "take the column out"
        yield Fault(HERE, fault.row, column, fault.what_came, fault.expected, todo)


def _like_a_column(header: str) -> bool:
    """Say whether a header can be a slip of the pen: notes and places in a list are not."""
    return bool(get_close_matches(header, COLUMNS, n=1, cutoff=_SLIP)) or any(map(str.isdigit, header))
