"""The content of a brief file before it is a brief: tolerant access, so that every fault is found at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from speedloom.exchange.fault import Fault, did_you_mean, listed, shown
from speedloom.exchange.model_faults import shown_path
from speedloom.exchange.toml_text import KeyPath, Lines


@dataclass(frozen=True)
class Content:
    """A brief's content with its file, and the faults and notes found so far."""

    file: str
    content: dict[str, object]
    lines: Lines | None = None
    faults: list[Fault] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def row_of(self, path: KeyPath) -> int | None:
        """Give the line of a path where it can be found."""
        return self.lines.row_of(path) if self.lines else None

    def get(self, *path: int | str) -> object:
        """Give what stands at a path, or None."""
        here: object = self.content
        for key in path:
            if isinstance(here, dict):
                here = here.get(str(key))
            elif isinstance(here, list) and isinstance(key, int) and key < len(here):
                here = here[key]
            else:
                return None
        return here

    def tables(self, *path: int | str) -> Iterator[tuple[KeyPath, dict[str, object]]]:
        """Give each table of a list with its path."""
        here = self.get(*path)
        for index, item in enumerate(here if isinstance(here, list) else []):
            if isinstance(item, dict):
                yield (*path, index), item

    def values(self, *path: int | str) -> Iterator[tuple[KeyPath, object]]:
        """Give each value of a list with its path."""
        here = self.get(*path)
        yield from (
            (((*path, index)), item) for index, item in enumerate(here if isinstance(here, list) else [])
        )

    def text(self, *path: int | str) -> str | None:
        """Give the text at a path, or None."""
        here = self.get(*path)
        return here if isinstance(here, str) else None

    def day(self, *path: int | str) -> date | None:
        """Give the date at a path, or None."""
        try:
            return date.fromisoformat(self.text(*path) or "")
        except ValueError:
            return None

    def whole(self, *path: int | str) -> int | None:
        """Give the whole number at a path, or None."""
        here = self.get(*path)
        return here if isinstance(here, int) and not isinstance(here, bool) else None

    def refs(self, *path: int | str) -> tuple[str, ...]:
        """Give the refs of a list of tables."""
        return tuple(ref for _, item in self.tables(*path) if isinstance(ref := item.get("ref"), str))

    def fault(self, path: KeyPath, expected: str, todo: str, *, came: str | None = None) -> None:
        """Keep a fault at a path."""
        said = shown(self.get(*path)) if came is None else came
        where = shown_path(path, self.content)
        self.faults.append(Fault(self.file, self.row_of(path), where, said, expected, todo))

    def note(self, path: KeyPath, said: str) -> None:
        """Keep something worth saying that stops nothing."""
        row = self.row_of(path)
        where = f"{self.file}, line {row}" if row else self.file
        self.notes.append(f"{where}, {shown_path(path, self.content)}: {said}")

    def one_of(self, path: KeyPath, known: tuple[str, ...], what: str) -> None:
        """Keep a fault where the text at a path is not a known word."""
        word = self.get(*path)
        if isinstance(word, str) and word not in known:
            todo = did_you_mean(word, known, otherwise=f"known here: {listed(sorted(known))}")
            self.fault(path, what, todo)
