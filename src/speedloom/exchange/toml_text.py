"""TOML as JSON content, and the line of the file on which each key stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path

from speedloom.exchange.documents import read_text
from speedloom.exchange.fault import Fault, UnusableFileError

KeyPath = tuple[int | str, ...]

_HEADER = re.compile(r"\s*(\[\[?)\s*([\w\-.\"' ]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"\s*((?:[\w-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[\w-]+|\"[^\"]*\"|'[^']*'))*)\s*=(.*)$")
_QUOTED = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'")
_AT = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


class Lines:
    """Finds the line of a key; of one it does not know, the line of what holds it."""

    def __init__(self, text: str) -> None:
        """Look through the text once."""
        self._rows = dict(_rows(text))

    def row_of(self, path: KeyPath) -> int | None:
        """Give the line of a path, or of the nearest table around it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self._rows:
                return self._rows[path[:length]]
        return None


def read_toml(path: Path) -> tuple[dict[str, object], Lines]:
    """Read a TOML file as JSON content (dates and times as text), with the lines of its keys.

    Raises:
        UnusableFileError: not readable or not TOML.
    """
    text = read_text(path)
    try:
        content = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        said, at = str(error), _AT.search(str(error))
        row = int(at[1]) if at and at[1] else None
        came = _AT.sub("", said)
        todo = "text stands in quotes, lists in [ ], dates as 2026-01-12"
        raise UnusableFileError([Fault(str(path), row, "", came, "TOML", todo)]) from error
    return {key: _as_json(value) for key, value in content.items()}, Lines(text)


def _as_json(value: object) -> object:
    if isinstance(value, dict):
        return {key: _as_json(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_as_json(inner) for inner in value]
    return value.isoformat() if isinstance(value, date | datetime | time) else value


def _rows(text: str) -> Iterator[tuple[KeyPath, int]]:
    """Give each table's and key's path with its line; lists over several lines are passed by."""
    table: KeyPath = ()
    counts: dict[KeyPath, int] = {}
    depth, closing = 0, ""
    for number, line in enumerate(text.splitlines(), start=1):
        if closing:
            closing = "" if closing in line else closing
            continue
        header, key = _HEADER.fullmatch(line), _KEY.match(line)
        if depth == 0 and header:
            table = _table(header, counts)
            yield table, number
        elif depth == 0 and key:
            yield from ((path, number) for path in _prefixes(table, _split(key[1])))
        closing = _opened(line)
        depth = 0 if header and depth == 0 else max(0, depth + _brackets(line))


def _table(header: re.Match[str], counts: dict[KeyPath, int]) -> KeyPath:
    """Resolve a header: an element of a list of tables gets its number, a path through one its last."""
    parts = _split(header[2])
    table: KeyPath = ()
    for part in parts[:-1]:
        table = (*table, part)
        table = (*table, counts[table] - 1) if counts.get(table) else table
    table = (*table, parts[-1])
    if header[1] == "[[":
        counts[table] = counts.get(table, 0) + 1
        return (*table, counts[table] - 1)
    return table


def _prefixes(table: KeyPath, parts: list[str]) -> Iterator[KeyPath]:
    for length in range(1, len(parts) + 1):
        yield (*table, *parts[:length])


def _split(dotted: str) -> list[str]:
    return [part.strip().strip("\"'") for part in dotted.split(".")]


def _opened(line: str) -> str:
    """Give the closing sign of a long text that begins on a line and does not end there."""
    for sign in ('"""', "'''"):
        if line.count(sign) % 2 == 1:
            return sign
    return ""


def _brackets(line: str) -> int:
    bare = _QUOTED.sub("", line).partition("#")[0]
    return bare.count("[") + bare.count("{") - bare.count("]") - bare.count("}")
