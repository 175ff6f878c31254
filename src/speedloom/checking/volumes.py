"""What a week holds of each method, counted by own code."""

from __future__ import annotations

from collections.abc import Iterable

from speedloom.checking.line import Work
from speedloom.training.words import IN_SETS


def volumes(lines: Iterable[Work]) -> dict[str, float]:
    """Count metres, contacts and sets by key of `weeks.volumes`; run-ins are not counted."""
    counted: dict[str, float] = {}
    for work in lines:
        key, amount = _counted(work)
        if key:
            counted[key] = counted.get(key, 0.0) + amount
    return counted


def _counted(work: Work) -> tuple[str, float]:
    line = work.line
    if line.method == "unloaded_sprint":
        return line.run or "", work.metres
    if line.method == "resisted_sprint":
        return line.method, work.metres
    if line.method == "plyometric":
        return line.method, float(line.contacts or 0)
    return (line.method, float(line.sets)) if line.method in IN_SETS else ("", 0.0)
