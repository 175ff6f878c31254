"""The weave: a thread a method through the weeks; thickness is volume, depth of colour is specificity.

One geometry from plain numbers and two skins: a page's (classes only) and paper's (colours and font inside).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

METHOD_KEYS = ("sprint", "resisted", "plyometric", "power", "maximal", "general")
"""The threads' keys from top to bottom; they are also the last part of a page's class names."""
WeekPattern = Literal["", "striped", "plain"]


@dataclass(frozen=True)
class Word:
    """What a thread is from one week (place in the list, from 0) to another; ever shorter ways to say it."""

    first: int
    last: int
    texts: tuple[str, ...]


@dataclass(frozen=True)
class Thread:
    """A method: its thickness each week, as a share of the method's largest week, and the words on it."""

    key: str
    label: str
    thickness: tuple[float, ...]
    words: tuple[Word, ...] = ()
    done: tuple[float | None, ...] = ()

    def __post_init__(self) -> None:
        shares = (*self.thickness, *(share for share in self.done if share is not None))
        if any(not share >= 0 for share in shares) or max(self.thickness, default=0.0) > 1:
            msg = f"Expected thickness as a share from 0 to 1 in thread {self.key}, got {shares}"
            raise ValueError(msg)


@dataclass(frozen=True)
class WeekColumn:
    """A week: its number, what stands under it, its pattern, and its specificity (0 general, 1 specific)."""

    number: int
    specificity: float
    note: str = ""
    short_note: str = ""
    pattern: WeekPattern = ""


@dataclass(frozen=True)
class Mesocycle:
    """A mesocycle above its weeks (places in the list, from 0); ever shorter captions."""

    first: int
    last: int
    captions: tuple[str, ...]


@dataclass(frozen=True)
class Pin:
    """An event below: weeks since the Monday of week 1, its label, and whether it is a peak."""

    at: float
    label: str
    peak: bool = False


@dataclass(frozen=True)
class WeaveData:
    """All that the picture shows."""

    title: str
    weeks: tuple[WeekColumn, ...]
    threads: tuple[Thread, ...]
    mesocycles: tuple[Mesocycle, ...] = ()
    pins: tuple[Pin, ...] = ()
    this_week: int | None = None
    summary: str = field(default="")

    def __post_init__(self) -> None:
        uneven = [thread.key for thread in self.threads if len(thread.thickness) != len(self.weeks)]
        if uneven or not self.weeks:
            msg = f"Expected a thickness for each of {len(self.weeks)} weeks, not so in: {', '.join(uneven)}"
            raise ValueError(msg)
