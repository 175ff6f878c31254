"""The tests file: one row a trial, a header cell that reads as a distance is a split column."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

from speedloom.exchange.fault import Fault, UnusableFileError, did_you_mean, shown
from speedloom.exchange.table import Table
from speedloom.exchange.table_file import read_table
from speedloom.exchange.trial_rows import Found, automatic_numbers, read_row
from speedloom.training.measurement import Measurements, Trace, TracePoint, Trial

COLUMNS = (
    *("athlete", "date", "trial", "timing", "clock", "behind_m", "start", "surface", "place"),
    *("sex", "born", "mass_kg", "height_m", "reaction_s", "wind_mps", "altitude_m", "temperature_c"),
    *("sled_kg", "exercise", "load_kg", "reps", "rir", "flight_s", "contact_s", "added_kg"),
    *("time_s", "speed_mps"),
)
NEEDED = ("athlete", "date")
_SPLIT = re.compile(r"(\d+(?:[.,]\d+)?) ?(m|metres?|meters?|yd|yds|yards?)")
_YARD_M = 0.9144
_LONGEST_M = 1000.0


def split_distance_m(header: str) -> float | None:
    """Read a header cell as a distance [m], yards converted (1 yd = 0.9144 m exactly), or give None.

    >>> split_distance_m("10 m"), split_distance_m("20 yd"), split_distance_m("trial")
    (10.0, 18.29, None)
    """
    found = _SPLIT.fullmatch(header.strip().lower())
    if found is None:
        return None
    value = float(found[1].replace(",", "."))
    return round(value * (_YARD_M if found[2].startswith("y") else 1.0), 2)


def read_tests(path: Path) -> Measurements:
    """Read a tests file (CSV, XLSX or ODS).

    A trial that cannot be true is read like any other: `workflows.profile_athlete` refuses it by its id.

    Raises:
        UnusableFileError: every fault of the file's shape, each with row and column.
    """
    return tests_of_table(read_table(path, needed=NEEDED))


def tests_of_table(table: Table) -> Measurements:
    """Read a table of tests, from a file or from cells that were pasted.

    Raises:
        UnusableFileError: every fault of the table's shape, each with row and column.
    """
    faults = [*table.faults, *_header_faults(table)]
    splits = {name: metres for name in table.columns if (metres := split_distance_m(name)) is not None}
    numbers = automatic_numbers(table)
    found = [
        read_row(row, file=table.file, splits=splits, numbers=numbers, faults=faults) for row in table.rows
    ]
    faults += _no_rows(table)
    faults += [] if faults else _repeated(table, found)
    if faults:
        raise UnusableFileError(faults)
    return _together(found)


def _no_rows(table: Table) -> list[Fault]:
    if table.rows:
        return []
    return [Fault(table.file, table.header_row, "", "a header only", "one row a trial", "add the trials")]


def _header_faults(table: Table) -> Iterator[Fault]:
    for column, times in Counter(table.columns).items():
        if times > 1:
            todo = "leave one of them out" if column else "name the column"
            yield _of_header(table, column, f"{shown(column)} {times} times", "each column once", todo)
        if column not in COLUMNS and split_distance_m(column) is None:
            yield _of_header(table, column, shown(column), "a known column", _nearest_column(column))
    yield from _distance_faults(table)
    for column in NEEDED:
        if column not in table.columns:
            yield _of_header(table, column, "none", f"a column {shown(column)}", "add it to the header")


def _distance_faults(table: Table) -> Iterator[Fault]:
    seen: dict[float, str] = {}
    for column in dict.fromkeys(table.columns):
        metres = split_distance_m(column)
        if metres is None:
            continue
        if not 0 < metres <= _LONGEST_M:
            todo = "leave the column of the start line out"
            yield _of_header(table, column, shown(column), f"a distance up to {_LONGEST_M:g} m", todo)
        if metres in seen:
            came = f"{shown(seen[metres])} and {shown(column)}"
            yield _of_header(table, column, came, "each distance once", "leave one of them out")
        seen[metres] = column


def _of_header(table: Table, column: str, came: str, expected: str, todo: str) -> Fault:
    return Fault(table.file, table.header_row, column, came, expected, todo)


def _nearest_column(column: str) -> str:
    metres = re.search(r"\d+(?:[.,]\d+)?", column)
    split = f'write a split column as "{metres[0]} m"' if metres else "leave the column out"
    return did_you_mean(column, COLUMNS, otherwise=split)


def _repeated(table: Table, found: list[Found]) -> Iterator[Fault]:
    seen: set[tuple[object, ...]] = set()
    for one in found:
        for item in (one.trial, one.jump):
            if item is None:
                continue
            key = (type(item).__name__, item.athlete, item.date, getattr(item, "timing", ""), item.trial)
            if key in seen:
                came = f"trial {item.trial} of {item.athlete} on {item.date} again"
                todo = "number the trials of a day 1, 2, 3"
                yield Fault(table.file, one.row, "trial", came, "each trial once", todo)
            seen.add(key)


def _together(found: list[Found]) -> Measurements:
    by_athlete: dict[str | None, list[Found]] = {}
    for one in found:
        by_athlete.setdefault(one.athlete, []).append(one)
    trials = [_with_body(one.trial, by_athlete[one.athlete]) for one in found if one.trial]
    return Measurements(
        trials=tuple(sorted(trials, key=lambda one: (one.athlete, one.date, one.timing, one.trial))),
        jumps=tuple(
            sorted(
                (one.jump for one in found if one.jump), key=lambda one: (one.athlete, one.date, one.trial)
            )
        ),
        lifts=tuple(sorted((one.lift for one in found if one.lift), key=lambda one: one.model_dump_json())),
        traces=tuple(_traces(found)),
    )


def _with_body(trial: Trial, found: list[Found]) -> Trial:
    """Fill in what a row of the same athlete on the nearest day says about the body."""
    days = sorted(
        (abs((one.day - trial.date).days), one.row, one.body) for one in found if one.day and one.body
    )
    known: dict[str, object] = {}
    for _, _, body in days:
        known = {**dict(body), **known}
    missing = {name: value for name, value in known.items() if getattr(trial, name) is None}
    return trial.model_copy(update=missing) if missing else trial


def _traces(found: list[Found]) -> Iterator[Trace]:
    points: dict[tuple[object, ...], list[TracePoint]] = {}
    for one in found:
        if one.point:
            points.setdefault((one.athlete, one.day, one.number, one.timing), []).append(one.point)
    for (athlete, day, number, timing), run in sorted(points.items(), key=lambda item: str(item[0])):
        ordered = tuple(sorted(run, key=lambda point: point.time_s))
        content: Mapping[str, object] = {"athlete": athlete, "date": day, "trial": number, "timing": timing}
        yield Trace.model_validate({**content, "points": ordered})
