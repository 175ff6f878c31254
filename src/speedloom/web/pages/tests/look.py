"""A look at a table of tests before anything is kept: faults in their cells, who is meant, what is new."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from django.http import QueryDict
from django.utils.translation import gettext as _

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.pasted_cells import Grid
from speedloom.exchange.pasted_tests import Pasted, names_in, place_of_names, read_pasted
from speedloom.store.cards import Actor, AthleteCard
from speedloom.store.measurements import Compared, compare_measurements, measurements
from speedloom.store.permissions import allowed
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Measurements
from speedloom.web.pages.tests.newcomers import LEFT_OUT, Named, people_made, who_is_meant, with_known
from speedloom.workflows.numbered_after import NumberedAfter, numbered_after


@dataclass(frozen=True)
class Cell:
    """A cell as it was typed, with what is wrong with it."""

    text: str
    faults: tuple[str, ...] = ()


@dataclass(frozen=True)
class Line:
    """A row of the table."""

    number: int
    cells: tuple[Cell, ...]
    faults: tuple[str, ...] = ()


@dataclass(frozen=True)
class Look:
    """What a table holds, and what would become of it."""

    lines: tuple[Line, ...]
    faults: tuple[str, ...]
    named: tuple[Named, ...]
    people: tuple[Athlete, ...]
    without: tuple[str, ...] = ()
    numbered: NumberedAfter | None = None
    compared: Compared | None = None

    @property
    def strange(self) -> tuple[Named, ...]:
        """Names that the squad does not have."""
        return tuple(one for one in self.named if one.strange)

    @property
    def sound(self) -> bool:
        """Whether it can be kept as it is."""
        clean = not self.faults and not any(line.faults or _wrong(line) for line in self.lines)
        forms = all(one.form is None or not one.form.is_bound or not one.form.errors for one in self.named)
        return clean and forms and self.compared is not None and not any(one.open for one in self.named)

    @property
    def wrong_cells(self) -> int:
        """How many faults there are."""
        in_lines = sum(len(line.faults) + sum(len(cell.faults) for cell in line.cells) for line in self.lines)
        return in_lines + len(self.faults)

    @property
    def to_keep(self) -> Measurements:
        """What is new."""
        return self.compared.new if self.compared else Measurements()

    @property
    def count(self) -> int:
        """How many rows are new."""
        new = self.to_keep
        return len(new.trials) + len(new.jumps) + len(new.lifts) + len(new.traces)

    @property
    def already(self) -> int:
        """How many rows are stored already."""
        known = self.compared.known if self.compared else Measurements()
        others = len(known.trials) + len(known.jumps) + len(known.lifts) + len(known.traces)
        return (len(self.numbered.same) if self.numbered else 0) + others

    @property
    def stamp(self) -> str:
        """Tells whether what is saved is what was looked at."""
        people = "".join(one.ref for one in self.people)
        return sha256(f"{self.to_keep.model_dump_json()}{people}".encode()).hexdigest()[:16]


def _wrong(line: Line) -> bool:
    return any(cell.faults for cell in line.cells)


def look_at(
    actor: Actor,
    squad: str,
    grid: Grid,
    *,
    all_rows: Mapping[str, str],
    cards: Sequence[AthleteCard],
    data: QueryDict,
) -> Look:
    """Read a table and hold it beside what is stored."""
    named = who_is_meant(names_in(grid), cards, data)
    kept = _kept(grid, {one.name for one in named if one.choice == LEFT_OUT})
    refs = {one.name: one.ref or "_" for one in named}
    try:
        pasted = read_pasted(kept, all_rows=all_rows, refs=refs)
    except UnusableFileError as error:
        faults = (*error.faults, *_who_faults(actor, squad, grid, named))
        return Look(*_placed(grid, faults), named=named, people=())
    lines, general = _placed(grid, tuple(_who_faults(actor, squad, grid, named)))
    people = tuple(people_made(named, pasted.measurements.trials))
    numbered, compared = _beside(actor, squad, pasted, {one.ref for one in people})
    shown = tuple(with_known(named, people))
    return Look(lines, general, shown, people, pasted.without, numbered, compared)


def _kept(grid: Grid, out: set[str]) -> Grid:
    """Leave out the rows of names that are not taken."""
    if not out:
        return grid
    place = place_of_names(grid) or 0
    return Grid(grid.header, tuple(row for row in grid.rows if row[1][place] not in out))


def _who_faults(actor: Actor, squad: str, grid: Grid, named: Iterable[Named]) -> tuple[Fault, ...]:
    may = allowed(actor, "change_athlete", squad=squad)
    asked = {one.name for one in named if one.is_new and not may}
    if not asked:
        return ()
    place = place_of_names(grid) or 0
    todo = _("ask a coach to add them first, or leave the row out")
    return tuple(
        Fault("", number, grid.header[place], cells[place], _("an athlete of the squad"), todo)
        for number, cells in grid.rows
        if cells[place] in asked
    )


def _beside(actor: Actor, squad: str, pasted: Pasted, new: set[str]) -> tuple[NumberedAfter, Compared]:
    held = pasted.measurements
    stored = [
        trial
        for ref in sorted({trial.athlete for trial in held.trials} - new)
        for trial in measurements(actor, squad, athlete=ref).trials
    ]
    numbered = numbered_after(held.trials, stored=stored)
    ready = held.model_copy(update={"trials": numbered.trials})
    return numbered, compare_measurements(actor, squad, ready)


def _placed(grid: Grid, faults: Iterable[Fault]) -> tuple[tuple[Line, ...], tuple[str, ...]]:
    """Put each fault into its cell; one without a cell stands at its row, or above the table."""
    by_cell: dict[tuple[int, int], list[str]] = {}
    by_row: dict[int, list[str]] = {}
    general: list[str] = []
    numbers = {1, *(number for number, _cells in grid.rows)}
    places = {header: place for place, header in reversed(list(enumerate(grid.header)))}
    for fault in faults:
        place = places.get(fault.column) if fault.column else None
        if fault.row not in numbers:
            general.append(said(fault))
        elif place is None:
            by_row.setdefault(fault.row or 1, []).append(said(fault))
        else:
            by_cell.setdefault((fault.row or 1, place), []).append(said(fault, cell=True))
    shared = _same_everywhere(by_row)
    lines = tuple(
        Line(
            number,
            tuple(Cell(text, tuple(by_cell.get((number, at), ()))) for at, text in enumerate(cells)),
            tuple(text for text in by_row.get(number, ()) if text not in shared),
        )
        for number, cells in ((1, grid.header), *grid.rows)
        if cells
    )
    return lines, (*general, *shared)


def _same_everywhere(by_row: Mapping[int, Sequence[str]]) -> tuple[str, ...]:
    """Give what is said of more than one row: it is about what holds for all, and is said once."""
    texts = [text for those in by_row.values() for text in those]
    return tuple(dict.fromkeys(text for text in texts if texts.count(text) > 1))


def said(fault: Fault, *, cell: bool = False) -> str:
    """Say a fault without its place, or with its column where it has no cell."""
    where = "" if cell or not fault.column else f"{fault.column}: "
    got = f", got {fault.what_came}" if fault.what_came and not cell else ""
    todo = f"; {fault.todo}" if fault.todo else ""
    text = f"{where}{_('expected')} {fault.expected}{got}{todo}"
    return text[:1].upper() + text[1:]
