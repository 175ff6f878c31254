"""What is wrong with files, as lines a coach can act on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol


class FaultLike(Protocol):
    """One fault of a file (the reader makes them; this layer only lays them out)."""

    @property
    def file(self) -> str:
        """The file's name."""


def fault_lines(faults: Sequence[FaultLike]) -> tuple[str, ...]:
    """Write one line a fault, and a last one that says how many there are and that nothing was written."""
    files = dict.fromkeys(fault.file for fault in faults)
    count = f"{len(faults)} fault{'s' * (len(faults) != 1)} in {', '.join(files)}"
    return (*(str(fault) for fault in faults), f"{count}; nothing was written.")
