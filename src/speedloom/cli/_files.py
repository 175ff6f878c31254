"""Several files written as one: all of them or none."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Self

from speedloom.cli._answer import refuse


def refuse_folder(path: Path) -> None:
    """End with a word when a file could not be written there, before any work is done."""
    folder = path.parent
    if path.is_dir():
        refuse([f"{path}: expected the name of a file to write, got a folder; add a file name."])
    if not folder.is_dir():
        refuse([f"{path}: expected a folder that exists, got {folder}; make it first, or choose another."])


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write files so that a failure in one leaves the others as they were."""
    folders = {path.parent for path in files}
    with _Waiting(folders) as waiting:
        for path, content in files.items():
            waiting.put(path, content)
        waiting.move()


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
