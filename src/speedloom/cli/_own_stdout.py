"""Stdout is for results: what compiled libraries print on their own goes where words go, to stderr."""

from __future__ import annotations

import os
import sys


def keep_stdout() -> None:
    """Move Python's stdout to a descriptor of its own, and point descriptor 1 to stderr.

    The optimiser (HiGHS) now and then prints a line with no option to silence it (ERGO-Code/HiGHS, issues
    1120 and 2734), which would stand before a command's JSON. A process has one descriptor 1, so it is moved
    once, before any thread starts; the site keeps its own, as nobody reads values there.
    """
    try:
        if sys.stdout.fileno() != 1:
            return
        own = os.dup(1)
        os.dup2(2, 1)
    except OSError:
        # Stdout or stderr is closed, or stands for something in memory: there is nothing to keep apart.
        return
    encoding, errors = sys.stdout.encoding, sys.stdout.errors
    sys.stdout = os.fdopen(own, "w", encoding=encoding, errors=errors)
