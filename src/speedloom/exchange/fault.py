"""What is wrong with a file: where, what came, what was expected, what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from speedloom.errors import SpeedloomError

_LONGEST_SHOWN = 60


@dataclass(frozen=True)
class Fault:
    """One fault of a file; `row` is a line of the file and `column` a column or the path of a key."""

    file: str
    row: int | None
    column: str
    what_came: str
    expected: str
    todo: str

    def __str__(self) -> str:
        """Say it in one line, of signs a terminal can print."""
        where = [self.file, f"line {self.row}" if self.row else "", self.column]
        got = f", got {self.what_came}" if self.what_came else ""
        todo = f"; {self.todo}" if self.todo else ""
        line = f"{', '.join(part for part in where if part)}: expected {self.expected}{got}{todo}"
        return "".join(sign if sign.isprintable() else " " for sign in line)


class UnusableFileError(SpeedloomError):
    """A file that cannot be used, with every fault found in it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Keep the faults in the order of the file."""
        self.faults = tuple(sorted(faults, key=lambda fault: (fault.file, fault.row or 0, fault.column)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def shown(value: object) -> str:
    """Show a value in a message, cut where it is long.

    >>> shown("hal")
    '"hal"'
    >>> shown(None)
    'nothing'
    """
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a table"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    text = " ".join(text.split())
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"


def nearest(word: object, known: Iterable[str]) -> str | None:
    """Give the known word nearest to one that was typed, or None.

    >>> nearest("hal", ["hall", "gym"])
    'hall'
    """
    found = get_close_matches(str(word).strip().lower(), list(known), n=1, cutoff=0.5)
    return found[0] if found else None


def did_you_mean(word: object, known: Iterable[str], *, otherwise: str) -> str:
    """Offer the nearest known word, or something else to do.

    >>> did_you_mean("hal", ["hall", "gym"], otherwise="name a place")
    'did you mean "hall"?'
    """
    near = nearest(word, known)
    return f'did you mean "{near}"?' if near else otherwise


def listed(words: Iterable[str], *, most: int = 12) -> str:
    """List words for a message.

    >>> listed(["gym", "hall"])
    'gym, hall'
    """
    every = list(words)
    rest = f" and {len(every) - most} more" if len(every) > most else ""
    return f"{', '.join(every[:most])}{rest}" if every else "none"
