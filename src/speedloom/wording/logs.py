"""What a log holds, in a few lines."""

from __future__ import annotations

from collections import Counter

from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.wording.dates import span
from speedloom.wording.names import athlete_name


def log_text(log: Log, *, programme: Programme) -> str:
    """Count the entries of each athlete, and say how many were corrected."""
    if not log.entries:
        return "The log holds no entry.\n"
    days = [entry.date for entry in log.entries]
    count = len(log.entries)
    lines = [f"{count} {'entry' if count == 1 else 'entries'}, {span(min(days), max(days))}."]
    for athlete, own in sorted(Counter(entry.athlete for entry in log.entries).items()):
        lines.append(f"{athlete_name(programme, athlete)}: {own}")
    replaced = sum(entry.replaces is not None for entry in log.entries)
    lines += [f"Corrections: {replaced}; what they replace is kept beside them."] if replaced else []
    return "\n".join(lines) + "\n"
