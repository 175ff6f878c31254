"""A progress line on stderr, when a terminal watches and the work takes over a second."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic
from typing import Any

QUIET_S = 1.0
Report = Callable[[str, float], None]
"""Called with what is being done and the share of it that is done, 0 to 1."""


@contextmanager
def progress(title: str) -> Iterator[Report]:
    """Show how far the work is; nothing is shown where nobody watches."""
    if not sys.stderr.isatty():
        yield lambda *_: None
        return
    bar = _Bar(title)
    try:
        yield bar.report
    finally:
        bar.stop()


class _Bar:
    """A bar that appears only after a second."""

    def __init__(self, title: str) -> None:
        self._title = title
        self._started = monotonic()
        self._bar: Any = None
        self._task: Any = None

    def report(self, doing: str, done: float) -> None:
        """Show what is being done, and how much of it is."""
        if self._bar is None and monotonic() - self._started > QUIET_S:
            self._show()
        if self._bar is not None:
            self._bar.update(self._task, completed=done, description=f"{self._title}: {doing}")

    def stop(self) -> None:
        """Take the bar away."""
        if self._bar is not None:
            self._bar.stop()

    def _show(self) -> None:
        from rich.console import Console
        from rich.progress import Progress

        self._bar = Progress(console=Console(stderr=True), transient=True)
        self._task = self._bar.add_task(self._title, total=1.0)
        self._bar.start()
