"""Tests as coaches paste them: a name and times a row; how it was timed is said once for all rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from speedloom.exchange.exercise_names import nearest_exercise
from speedloom.exchange.fault import Fault, UnusableFileError, shown
from speedloom.exchange.headings import Heading, heading_of, lift_and_reps
from speedloom.exchange.pasted_cells import HERE, Grid
from speedloom.exchange.table import Row, Table
from speedloom.exchange.tests_file import COLUMNS, split_distance_m, tests_of_table
from speedloom.training.measurement import Measurements

_SLIP = 0.75
_PERSON = frozenset({"athlete", "trial", "sex", "born", "mass_kg", "height_m"})
_WHO = frozenset({"athlete", "date", "trial"})
_FIRST_ROW = 2


@dataclass(frozen=True)
class Pasted:
    """What pasted cells held: measurements, and names in rows without any result."""

    measurements: Measurements
    without: tuple[str, ...] = ()


def headings_of(grid: Grid) -> tuple[Heading, ...]:
    """Say what each heading of a grid means."""
    columns = {heading_of(header).column for header in grid.header}
    lifts = "exercise" in columns and "load_kg" not in columns
    return tuple(heading_of(header, lifts=lifts) for header in grid.header)


def place_of_names(grid: Grid) -> int | None:
    """Give which column holds the names, from 0, or None."""
    columns = [heading.column for heading in headings_of(grid)]
    return columns.index("athlete") if "athlete" in columns else None


def names_in(grid: Grid) -> tuple[str, ...]:
    """Give the names in a grid, each once, in its order."""
    place = place_of_names(grid)
    if place is None:
        return ()
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
    headings = headings_of(grid)
    if not grid.rows:
        todo = "paste a header row with Name and distances, and a row a run below it"
        raise UnusableFileError([Fault(HERE, None, "", "", "a table with times", todo)])
    said = {name: value for name, value in all_rows.items() if value}
    parts = [part for number, cells in grid.rows for part in _parts(number, headings, cells)]
    used = [
        heading.column
        for heading, full in zip(headings, _used(grid), strict=True)
        if heading.part == "row" and (heading.column or full)
    ]
    table = Table(
        file=HERE,
        header_row=1,
        columns=(*used, *(name for name in said if name not in used)),
        rows=tuple(
            Row(row, _whole(part.cells, all_rows=said, refs=refs))
            for row, part in enumerate(parts, _FIRST_ROW)
        ),
        faults=tuple(_nameless(headings)),
    )
    try:
        return Pasted(tests_of_table(table), _without(grid, headings))
    except UnusableFileError as error:
        raise UnusableFileError(_as_typed(error.faults, grid, headings, parts)) from error


@dataclass(frozen=True)
class _Part:
    """A row of the tests file that a typed row holds: run, jump or lift, with the places of its headings."""

    typed_row: int
    cells: dict[str, str]
    places: dict[str, int]
    typed: dict[str, str]
    """The cells that were turned into another unit, as they were typed."""


def _parts(number: int, headings: Sequence[Heading], cells: tuple[str, ...]) -> Iterator[_Part]:
    """Give the rows that a typed row holds; jumps and lifts of a wide table get rows of their own."""
    filled = [
        (at, heading, cell) for at, (heading, cell) in enumerate(zip(headings, cells, strict=False)) if cell
    ]
    own = [(at, heading, cell) for at, heading, cell in filled if heading.part == "row" and heading.column]
    row = {heading.column: heading.value(cell) for _, heading, cell in own}
    places = {heading.column: at for at, heading, _ in own}
    added = [(at, heading, cell) for at, heading, cell in filled if heading.part != "row"]
    if set(row) - _WHO if added else not set(row) <= _PERSON or _body(row):
        yield _Part(number, row, places, _turned(own))
    who = {name: row[name] for name in ("athlete", "date") if name in row}
    jumps = [at for at, heading in enumerate(headings) if heading.part == "jump"]
    for at, heading, cell in added:
        count = (
            {"trial": _number(row["trial"], at, jumps)} if heading.part == "jump" and "trial" in row else {}
        )
        part = {**who, **count, **dict(heading.fixed), heading.column: heading.value(cell)}
        yield _Part(number, part, {**places, heading.column: at}, _turned([*own, (at, heading, cell)]))


def _turned(those: Iterable[tuple[int, Heading, str]]) -> dict[str, str]:
    return {heading.column: cell for _, heading, cell in those if heading.value(cell) != cell}


def _number(trial: str, at: int, jumps: Sequence[int]) -> str:
    """Number a jump where a row a trial holds several."""
    if not trial.isdecimal():
        return trial
    return str((int(trial) - 1) * len(jumps) + jumps.index(at) + 1)


def _used(grid: Grid) -> list[bool]:
    """Say of each column whether any cell below its header is filled."""
    return [any(cells[place] for _, cells in grid.rows) for place in range(len(grid.header))]


def _without(grid: Grid, headings: Sequence[Heading]) -> tuple[str, ...]:
    """Give the names in rows that hold nothing else."""
    columns = [heading.column for heading in headings]
    if "athlete" not in columns:
        return ()
    place = columns.index("athlete")
    named = [cells for _, cells in grid.rows if cells[place]]
    return tuple(cells[place] for cells in named if sum(map(bool, _known(columns, cells))) == 1)


def _known(columns: Sequence[str], cells: Sequence[str]) -> Iterator[str]:
    return (cell for column, cell in zip(columns, cells, strict=False) if column)


def _body(cells: Mapping[str, str]) -> bool:
    return len(cells) > 1 and "athlete" in cells


def _nameless(headings: Sequence[Heading]) -> Iterator[Fault]:
    if all(heading.column != "athlete" for heading in headings):
        yield Fault(HERE, 1, "", "", "a column Name", "head the column of names with Name")


def _whole(
    cells: Mapping[str, str], *, all_rows: Mapping[str, str], refs: Mapping[str, str]
) -> dict[str, str]:
    """Add to a run what holds for all rows; a row about the body, a jump or a lift has no clock."""
    runs = any(split_distance_m(column) is not None for column in cells)
    added = all_rows if runs else {name: all_rows[name] for name in ("date",) if name in all_rows}
    whole = {**added, **cells}
    if whole.get("clock") != "behind" and "behind_m" not in cells:
        whole.pop("behind_m", None)
    if "athlete" in whole:
        whole["athlete"] = refs.get(whole["athlete"], whole["athlete"])
    return whole


def _as_typed(
    faults: tuple[Fault, ...], grid: Grid, headings: Sequence[Heading], parts: Sequence[_Part]
) -> Iterator[Fault]:
    """Name rows and columns as they were typed; what is said of a known column once is said once."""
    of_header = {heading.column: at for at, heading in reversed(list(enumerate(headings)))}
    named = "athlete" in of_header
    for fault in faults:
        if not named and fault.column == "athlete":
            continue
        part = parts[fault.row - _FIRST_ROW] if fault.row is not None and fault.row >= _FIRST_ROW else None
        at = (part.places if part else of_header).get(fault.column, of_header.get(fault.column))
        here = fault if at is None else replace(fault, column=grid.header[at])
        if part is None:
            yield replace(here, file=HERE, todo=fault.todo if fault.row is None else _of_heading(fault))
            continue
        typed = part.typed.get(fault.column)
        came = {} if typed is None else {"what_came": shown(typed), "todo": ""}
        yield replace(here, file=HERE, row=part.typed_row, **came)


def _of_heading(fault: Fault) -> str:
    """Say what to do about a heading: a lift nobody knows, a slip of the pen, or notes to leave out."""
    lift = lift_and_reps(fault.column)
    if lift is not None:
        near = nearest_exercise(lift[0])
        example = f"{near or 'Back squat'} {lift[1]}RM"
        return f'did you mean "{example}"?' if near else f'name a lift of the list, such as "{example}"'
    return fault.todo if _like_a_column(fault.column) else "take the column out"


def _like_a_column(header: str) -> bool:
    """Say whether a header can be a slip of the pen: notes and places in a list are not."""
    return bool(get_close_matches(header, COLUMNS, n=1, cutoff=_SLIP)) or any(map(str.isdigit, header))
