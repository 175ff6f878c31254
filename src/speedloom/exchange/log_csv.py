"""A log as a table (CSV): one row a result, an entry without results a row of its own."""

from __future__ import annotations

import csv
import json
from decimal import Decimal
from io import StringIO

from speedloom.exchange.formula_guard import guarded
from speedloom.training.log import Log, Result

ENTRY_COLUMNS = (
    *("programme", "id", "at", "by", "revision", "athlete", "session", "line", "date", "exercise"),
    *("replaces", "status", "reason", "timing", "clock", "behind_m", "surface"),
)
RESULT_COLUMNS = tuple(Result.model_fields)
WHOLE_COLUMNS = ("effort", "minutes", "entry.mark", "note")
"""An entry's own mark is written `entry.mark`, since results have one too."""
LOG_COLUMNS = (*ENTRY_COLUMNS, *RESULT_COLUMNS, *WHOLE_COLUMNS)
TEXTS = frozenset({"by", "note", "surface"})
"""Columns in which people write what they like."""


def log_csv(log: Log) -> bytes:
    """Write every entry, one row a result."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(LOG_COLUMNS)
    for entry in log.entries:
        content = entry.model_dump(mode="json")
        own = {"programme": log.programme, **content, "entry.mark": content["mark"], "mark": None}
        results: list[dict[str, object]] = content["results"] or [{}]
        for result in results:
            cells = {**own, **result}
            writer.writerow([_written(column, cells.get(column)) for column in LOG_COLUMNS])
    # The mark at the start tells spreadsheets that names are UTF-8.
    return out.getvalue().encode("utf-8-sig")


def _written(column: str, value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        # Never 1e-05: a person reads it, and so does the reader of cells.
        return format(Decimal(repr(value)), "f").removesuffix(".0")
    return guarded(one_line(str(value))) if column in TEXTS else str(value)


def one_line(text: str) -> str:
    r"""Write a text on one line, with what a cell would lose spelt out.

    >>> print(one_line("wet, then\ndry "))
    wet, then\ndry\u0020
    """
    start = len(text) - len(text.lstrip(" "))
    end = len(text.rstrip(" "))
    return "".join(_spelt(sign, edge=not start <= at < end) for at, sign in enumerate(text))


def _spelt(sign: str, *, edge: bool) -> str:
    if edge:
        return "\\u0020"
    return sign if sign.isprintable() and sign != "\\" else json.dumps(sign)[1:-1]


def as_typed(text: str) -> str:
    r"""Read a text that was written on one line; one with other backslashes is left as it is.

    >>> as_typed(r"wet, then\ndry\u0020"), as_typed(r"hall\x")
    ('wet, then\ndry ', 'hall\\x')
    """
    quoted = text.replace('"', '\\"')
    try:
        return str(json.loads(f'"{quoted}"'))
    except json.JSONDecodeError:
        return text
