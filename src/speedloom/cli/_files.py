"""Several files written as one: all of them or none."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal, Self

from speedloom.cli._answer import refuse

HAND_WRITTEN = {".toml", ".csv", ".xlsx", ".ods"}
"""Briefs and tests: never written over by what is planned or printed."""
Made = Literal["programme", "PDF", "SVG", "calendar", "log", "workbook", "CSV", "backup", "dump"]
_SIGNS: Mapping[Made, bytes] = {
    "programme": b"speedloom.programme/",
    "PDF": b"%PDF",
    "SVG": b"<svg",
    "calendar": b"BEGIN:VCALENDAR",
    "log": b"speedloom.log/",
    "backup": b"SQLite format 3",
    "dump": b"PGDMP",
}
"""What every file of a kind holds: an older one may be replaced by a newer, anything else stays."""
_FILLED_IN: Mapping[Made, str] = {"workbook": ".xlsx", "CSV": ".csv"}
"""Files that people write into after they were made: one that is there already stays, whoever made it."""


def refuse_folder(path: Path, *, read: Iterable[Path] = (), made: Made | None = None) -> None:
    """End with a word when a file could not or must not be written there, before any work is done.

    `made` is what will be written: a file that is there already and is something else is left alone.
    """
    for wrong in (*_wrong(path, read=read, made=made), *_replaced(path, made)):
        refuse([f"{path}: expected {wrong}."])


def _replaced(path: Path, made: Made | None) -> Iterator[str]:
    if made is None or not path.is_file():
        return
    if made in _FILLED_IN:
        yield f"a new name, got a {made} that is there already and may be filled in; choose another name"
        return
    try:
        there = path.read_bytes()
    except OSError:
        return  # writing it says why it cannot be
    if there.strip() and _SIGNS[made] not in there:
        yield f"a new name or an older {made} to replace, got a file of another kind; choose another name"


def _wrong(path: Path, *, read: Iterable[Path], made: Made | None) -> Iterator[str]:
    folder = path.parent
    if path.is_dir():
        yield "the name of a file to write, got a folder; add a file name"
    elif path.exists() and not path.is_file():
        # Put in its place, a file would take the device or pipe away for every program.
        yield "a file, got a device or a pipe; choose another name"
    elif any(one.exists() and path.exists() and one.samefile(path) for one in read):
        yield "a new file, got the one that is read; choose another name"
    else:
        yield from _wrong_ending(path, made)
    if not folder.is_dir():
        yield f"a folder that exists, got {folder}; make it first, or choose another"
    elif not os.access(folder, os.W_OK):
        yield f"a folder that can be written to, got {folder}; choose another"


def _wrong_ending(path: Path, made: Made | None) -> Iterator[str]:
    ending = _FILLED_IN.get(made) if made else None
    if ending and path.suffix.lower() != ending:
        yield f"a name that ends with {ending}, got {path.name}; spreadsheets go by the ending"
    if not ending and path.suffix.lower() in HAND_WRITTEN:
        yield f"a name for what is made, got {path.suffix}, which people write by hand; choose another name"


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write files so that a failure in one leaves the others as they were; a link stays a link.

    Raises:
        UnusableFileError: a file cannot be written.
    """
    from speedloom.exchange.fault import Fault, UnusableFileError

    real = {path.resolve(): content for path, content in files.items()}
    try:
        with _Waiting({path.parent for path in real}) as waiting:
            for path, content in real.items():
                waiting.put(path, content)
            waiting.move()
    except OSError as error:
        came, todo = error.strerror or str(error), "choose a folder that can be written to and has room"
        names = ", ".join(map(str, files))
        raise UnusableFileError([Fault(names, None, "", came, "a place to write to", todo)]) from error


class _Waiting:
    """Files written aside, in the folder they belong to, until all are there."""

    def __init__(self, folders: set[Path]) -> None:
        self._aside = {folder: TemporaryDirectory(prefix=".speedloom-", dir=folder) for folder in folders}
        self._files: dict[Path, Path] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for folder in self._aside.values():
            folder.cleanup()

    def put(self, path: Path, content: bytes) -> None:
        """Write one file aside."""
        aside = Path(self._aside[path.parent].name) / path.name
        aside.write_bytes(content)
        self._files[path] = aside

    def move(self) -> None:
        """Put every file in its place."""
        for path, aside in self._files.items():
            aside.replace(path)
