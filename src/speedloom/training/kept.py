"""What is kept in memory of people, on one list: all of it is forgotten once somebody is erased."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

_FORGET: list[Callable[[], object]] = []
"""How each is emptied. A list and no signal, so that every layer can be on it and none knows another."""


class Cache(Protocol):
    """What `functools` keeps the answers of a function in."""

    def cache_clear(self) -> None:
        """Forget them."""


Kept = TypeVar("Kept", bound=Cache)


def of_people(cache: Kept) -> Kept:
    """Put a function whose kept answers (or what they were asked with) name people on the list.

    It stands above `functools.lru_cache`. What holds bare numbers that are nobody's stays off it.
    """
    _FORGET.append(cache.cache_clear)
    return cache


def forgotten_by(clear: Callable[[], object]) -> None:
    """Put another store of things about people on the list, by what empties it."""
    _FORGET.append(clear)


def forget_people() -> None:
    """Empty everything on the list; what is needed again is read or worked out again."""
    for clear in _FORGET:
        clear()
