"""The columns of a week's sheet: what is planned, and the empty cells that are read back."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.programme import Programme, Week
from speedloom.wording.line_words import boxes
from speedloom.wording.units import Units

META_SHEET = "speedloom"
LINES_SHEET = "lines"
LAYOUT = "speedloom.sheets/1"
HEAD_ROW = 1
"""The row of headings, counted from 0; a title stands above it."""
PLANNED = ("ref", "Exercise", "Do", "Load", "Expect", "Rest", "Stop")
LOAD_DONE = "Load done"
RESERVE = "In reserve"
EFFORT, MINUTES = "Effort 0–10", "Minutes"
AFTER = (RESERVE, EFFORT, MINUTES, "Done on", "Status", "Reason", "Note")
STATUSES = ("done", "modified", "skipped", "stopped", "absent")
REASONS = ("pain", "illness", "kit", "weather", "time", "other")


@dataclass(frozen=True)
class WeekLayout:
    """Where things stand in one week's sheet, by the most boxes that a line needs."""

    boxes: int
    units: Units

    @property
    def headings(self) -> tuple[str, ...]:
        """All headings from the left."""
        numbers = tuple(str(number) for number in range(1, self.boxes + 1))
        return (*PLANNED, f"{LOAD_DONE} {self.units.mass}", *numbers, *AFTER)

    def at(self, heading: str) -> int:
        """Give a heading's column, counted from 0."""
        return self.headings.index(heading)

    @property
    def load_done(self) -> int:
        """The column of the load that was used."""
        return len(PLANNED)

    @property
    def first_box(self) -> int:
        """The column of the first box."""
        return len(PLANNED) + 1


def week_sheet(number: int) -> str:
    """Name a week's sheet."""
    return f"Week {number}"


def week_layout(weeks: list[Week], *, units: Units) -> WeekLayout:
    """Lay out the sheet of one week of one or many athletes."""
    needed = [
        boxes(line)[0]
        for week in weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work"
    ]
    return WeekLayout(boxes=max(needed, default=1), units=units)


def weeks_by_number(programme: Programme, *, athlete: str | None) -> dict[int, list[tuple[str, Week]]]:
    """Give each week's athletes, in the order of weeks."""
    found: dict[int, list[tuple[str, Week]]] = {}
    for own in programme.programmes:
        for week in own.weeks if athlete in (None, own.athlete) else ():
            found.setdefault(week.number, []).append((own.athlete, week))
    return dict(sorted(found.items()))
