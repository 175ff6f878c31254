"""A brake on addresses that take no account: so many calls of one kind in so many seconds, then a wait."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from threading import Lock

MOST_KEYS = 4096
"""What is remembered at most: more places than a club has; the longest unheard of is forgotten first."""


@dataclass(frozen=True)
class Brake:
    """Counts calls by a key, in the memory of this process: the site is one process.

    Args:
        most: calls that pass.
        seconds: in how many seconds [s].
    """

    most: int
    seconds: float
    _heard: dict[str, deque[float]] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def passes(self, key: str, *, now: float) -> bool:
        """Count a call, and say whether it passes; `now` is any clock that only rises [s]."""
        with self._lock:
            times = self._heard.pop(key, deque())
            while times and times[0] <= now - self.seconds:
                times.popleft()
            passed = len(times) < self.most
            if passed:
                times.append(now)
            self._heard[key] = times
            while len(self._heard) > MOST_KEYS:
                del self._heard[next(iter(self._heard))]
            return passed
