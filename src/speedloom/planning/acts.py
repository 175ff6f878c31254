"""What a coach does to the lines and sessions of a programme by hand, beside changing their numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from speedloom.training.words import LineMethod


@dataclass(frozen=True)
class Swap:
    """Another exercise in the place of a line's; by the formulas, the coach's own numbers on top.

    `minutes` are those of the whole line where no formula writes it.
    """

    line: str
    exercise: str
    numbers: Mapping[str, float] = field(default_factory=dict)
    minutes: float | None = None
    cue: str = ""


@dataclass(frozen=True)
class Add:
    """A line more in a session: the formulas' numbers where they have any, and the coach's own on top.

    `minutes` are those of the whole line where no formula writes it; `method` says what kind of work it is
    where the catalogue does not: a coach's own line.
    """

    session: str
    exercise: str
    method: LineMethod | None = None
    numbers: Mapping[str, float] = field(default_factory=dict)
    minutes: float | None = None
    cue: str = ""


@dataclass(frozen=True)
class Remove:
    """A line or a whole session taken out."""

    ref: str


Act = Swap | Add | Remove


def where(act: Act) -> str:
    """Give the ref of the line or session that is meant."""
    if isinstance(act, Swap):
        return act.line
    return act.session if isinstance(act, Add) else act.ref
