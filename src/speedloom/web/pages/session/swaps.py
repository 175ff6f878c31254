"""Another exercise instead of a line: the line is left out with its reason, and what was done is an extra."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from speedloom.report.sheets.squad import Attendance
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry
from speedloom.training.programme import Prescription
from speedloom.web.pages.session.pen import Pen
from speedloom.wording.dates import day_month
from speedloom.wording.names import exercise_name, line_name


def instead_of(one: Attendance, line: Prescription, *, on: date, catalogue: Catalogue) -> str:
    """Say what an exercise was done instead of: by these words of its note a swap is found again.

    On the day of another session the planned day tells its lines from those of that session.
    """
    planned = "" if on == one.session.date else f", planned {day_month(one.session.date)}"
    return f"Instead of {line_name(line, catalogue=catalogue)}{planned}"


def swapped(
    last: Iterable[LogEntry], one: Attendance, line: Prescription, *, on: date, catalogue: Catalogue
) -> LogEntry | None:
    """Give the entry that holds what was done instead of a line, among the entries nobody replaced."""
    said = instead_of(one, line, on=on, catalogue=catalogue)
    found = [
        entry
        for entry in last
        if entry.athlete == one.athlete
        and entry.status == "extra"
        and entry.date == on
        and (entry.note == said or entry.note.startswith(f"{said}:"))
    ]
    return found[-1] if found else None


def swap(
    pen: Pen, one: Attendance, line: Prescription, to: str, reason: str | None, *, catalogue: Catalogue
) -> Iterator[LogEntry]:
    """Write that somebody does another exercise: two entries, since no line of the programme is that one."""
    name = exercise_name(to, catalogue=catalogue)
    why = f": {reason}" if reason else ""
    yield pen.of_line(one, line, status="skipped", reason=reason, note=f"Instead: {name}")
    said = f"{instead_of(one, line, on=pen.day(one), catalogue=catalogue)}{why}"
    yield pen.outside(one, to, reason=reason, note=said)
