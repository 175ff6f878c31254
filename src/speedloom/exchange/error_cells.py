"""Cells whose formula failed: what stands in them, and where they are, for the reader leaves them empty."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from html import unescape
from posixpath import join, normpath
from zipfile import ZipFile

from speedloom.exchange.fault import Fault

_SAID = re.compile(r"#(DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!|FIELD!|BLOCKED!)|Err:\d{3}")
"""How spreadsheet programs write a failed formula."""
_SHEET, _RELATION = re.compile(r"<sheet\b[^>]*>"), re.compile(r"<Relationship\b[^>]*>")
_FAILED = re.compile(r'<c\b(?=[^>]*\bt="e")[^>]*\br="([A-Z]+)(\d+)"[^>]*>.*?<v>(.*?)</v>', re.DOTALL)
_PART = re.compile(
    r'<table:table table:name="(?P<sheet>[^"]*)"|<table:table-row\b(?P<row>[^>]*)>'
    r"|<table:(?:covered-)?table-cell\b(?P<cell>[^>]*)>"
)
_TEXT = re.compile(r"<text:p[^>]*>(.*?)</text:p>", re.DOTALL)
_ERROR_TYPE = 'calcext:value-type="error"'
Errors = Mapping[tuple[int, int], str]


def is_error(text: str) -> bool:
    """Say whether a cell holds what a failed formula leaves.

    >>> is_error("#DIV/0!"), is_error("Err:502"), is_error("# a comment")
    (True, True, False)
    """
    return _SAID.fullmatch(text) is not None


def begins_with_error(line: str) -> bool:
    """Say whether a line of CSV begins with a failed formula, and so is no comment."""
    return _SAID.match(line) is not None


def cell_name(row: int, column: int) -> str:
    """Name a cell as a spreadsheet does, both numbers from 1.

    >>> cell_name(2, 3), cell_name(10, 28)
    ('C2', 'AB10')
    """
    letters = ""
    while column:
        column, left = divmod(column - 1, 26)
        letters = chr(ord("A") + left) + letters
    return f"{letters}{row}"


def error_fault(file: str, row: int, column: str, *, cell: str, text: str) -> Fault:
    """Make the fault of a cell whose formula failed."""
    todo = f"mend the formula in {cell}, or write the value itself"
    return Fault(file, row, column, f"{text} in {cell}", "a value", todo)


def errors_in(archive: ZipFile) -> Mapping[str, Errors]:
    """Give the failed cells of a workbook by sheet, row and column, both from 1."""
    names = set(archive.namelist())
    if "content.xml" in names:
        return _of_ods(archive.read("content.xml").decode("utf-8", "replace"))
    found = {}
    for sheet, part in _parts(archive):
        if part in names:
            found[sheet] = dict(_of_xlsx(archive.read(part).decode("utf-8", "replace")))
    return found


def _parts(archive: ZipFile) -> Iterator[tuple[str, str]]:
    """Give each sheet's name and the part of the archive that holds it."""
    if not {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"} <= set(archive.namelist()):
        return
    related = archive.read("xl/_rels/workbook.xml.rels").decode("utf-8", "replace")
    targets = {_value(one, "Id"): _value(one, "Target") for one in _RELATION.findall(related)}
    for one in _SHEET.findall(archive.read("xl/workbook.xml").decode("utf-8", "replace")):
        target = targets.get(_value(one, "r:id"), "")
        yield unescape(_value(one, "name")), normpath(join("/xl", target)).removeprefix("/")


def _value(tag: str, name: str) -> str:
    found = re.search(rf'\s{name}="([^"]*)"', tag)
    return found[1] if found else ""


def _of_xlsx(content: str) -> Iterator[tuple[tuple[int, int], str]]:
    for letters, digits, text in _FAILED.findall(content):
        column = 0
        for letter in letters:
            column = 26 * column + ord(letter) - ord("A") + 1
        yield (int(digits), column), unescape(text)


def _of_ods(content: str) -> Mapping[str, Errors]:
    found: dict[str, dict[tuple[int, int], str]] = {}
    sheet, row, next_row, column = "", 0, 1, 0
    for part in _PART.finditer(content):
        if part["sheet"] is not None:
            sheet, row, next_row = unescape(part["sheet"]), 0, 1
        elif part["row"] is not None:
            row, column = next_row, 0
            next_row = row + _repeated(part["row"], "rows")
        else:
            column += 1
            if _ERROR_TYPE in part["cell"]:
                text = _TEXT.search(content, part.end())
                found.setdefault(sheet, {})[row, column] = unescape(text[1]) if text else "Err:500"
            column += _repeated(part["cell"], "columns") - 1
    return found


def _repeated(attributes: str, what: str) -> int:
    times = re.search(rf'table:number-{what}-repeated="(\d+)"', attributes)
    return int(times[1]) if times else 1
