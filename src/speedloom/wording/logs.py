"""What a log holds, in a few lines."""

from __future__ import annotations

from collections import Counter

from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Programme
from speedloom.wording.dates import day_month, span
from speedloom.wording.names import athlete_name, word
from speedloom.wording.units import number


def log_text(log: Log, *, programme: Programme) -> str:
    """Count the entries of each athlete, and name the unusual values and those replaced."""
    if not log.entries:
        return "The log holds no entry.\n"
    days = [entry.date for entry in log.entries]
    count = len(log.entries)
    lines = [f"{count} {'entry' if count == 1 else 'entries'}, {span(min(days), max(days))}."]
    for athlete, own in sorted(Counter(entry.athlete for entry in log.entries).items()):
        lines.append(f"{athlete_name(programme, athlete)}: {own}")
    replaced = sum(entry.replaces is not None for entry in log.entries)
    lines += [f"Corrections: {replaced}"] if replaced else []
    lines += [text for entry in log.entries for text in _unusual(entry, programme)]
    return "\n".join(lines) + "\n"


def _unusual(entry: LogEntry, programme: Programme) -> list[str]:
    """Ask gently about values nobody would expect; they are kept, and change no estimate."""
    who = f"{athlete_name(programme, entry.athlete)}, {day_month(entry.date)}, {word(entry.exercise or '')}"
    return [
        f"Unusual, kept: {who}, set {result.set}{f' repetition {result.rep}' if result.rep else ''}: "
        + ", ".join(_values(result.time_s, result.load_kg, result.reps))
        for result in entry.results
        if result.mark == "unusual"
    ]


def _values(time_s: float | None, load_kg: float | None, reps: int | None) -> list[str]:
    said = [f"{number(time_s)} s" if time_s else "", f"{number(load_kg)} kg" if load_kg else ""]
    return [text for text in (*said, f"{reps} repetitions" if reps else "") if text]
