"""The session sheet's grid: a column an exercise, a row an athlete, boxes to fill; how it fits the page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from speedloom.report.charts.widths import SEMIBOLD, text_width
from speedloom.report.sheets.squad import Attendance
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription
from speedloom.wording.clocks import clock_long, clock_short
from speedloom.wording.line_words import (
    TIMES,
    boxes,
    dose,
    load,
    load_meaning,
    load_unsaid,
    manner,
    ramp_up,
    rests,
    side_words,
    stop_time,
    stop_words,
)
from speedloom.wording.names import full_name, short_name
from speedloom.wording.units import METRIC, Units

Key = tuple[str, str, int]
MAIN_SIZE = 12.0
OWN_SIZE = 10.5
OWN_GAP = 6.0
SUB_SIZE = 9.0
_ROOMY = {TIMES: 31.0, "ticks": 27.0}
_TIGHT = {TIMES: 23.5, "ticks": 19.0}
"""The width of a box [pt]: 1.98 in a hurried hand takes 8 mm."""
_LEAST_COLUMN = 70.0
FEW = 8
"""Up to so many athletes the rows are tall enough for larger words."""
_ATTEMPTS = ((1.3, _ROOMY), (1.3, _TIGHT), (1.15, _TIGHT), (1.0, _ROOMY), (1.0, _TIGHT))
"""Sizes of the words and widths of the boxes, the best first."""


@dataclass(frozen=True)
class CellWords:
    """What one athlete does in one exercise: large words, own dose, small words, boxes, where to stand."""

    main: str
    own: str
    sub: str
    boxes: int
    stand: str = ""


@dataclass(frozen=True)
class ColumnWords:
    """An exercise: heading, boxes and a cell for each athlete (None: not for this one)."""

    number: int
    name: str
    dose: str
    notes: tuple[str, ...]
    cue: str
    kind: str
    boxes: int
    words_pt: float
    cells: tuple[CellWords | None, ...]
    exercises: tuple[str, ...] = ()

    def need(self, box_pt: dict[str, float], *, scale: float = 1.0) -> float:
        """Give the width the column needs [pt] with boxes of a width and words of a size."""
        heading = max(text_width(word, size=11.0, stretch=SEMIBOLD) for word in self.name.split()) + 24.0
        return max(self.words_pt * scale + self.boxes * box_pt[self.kind] + 10.0, heading, _LEAST_COLUMN)


@dataclass(frozen=True)
class _Says:
    """How loads are written: in whose units, or without kilograms where others read them."""

    catalogue: Catalogue
    units: Units
    kilograms: bool

    def load(self, line: Prescription) -> str:
        """Write the load a person moves."""
        if self.kilograms:
            return load(line, catalogue=self.catalogue, units=self.units)
        return load_unsaid(line, catalogue=self.catalogue)

    def meaning(self, line: Prescription) -> str:
        """Write what the kilograms hold."""
        return load_meaning(line, catalogue=self.catalogue, units=self.units) if self.kilograms else ""


def exercise_columns(
    present: Sequence[Attendance], *, catalogue: Catalogue, units: Units = METRIC, kilograms: bool = True
) -> tuple[ColumnWords, ...]:
    """Lay the squad's lines side by side, in the order in which they are done."""
    says = _Says(catalogue, units, kilograms)
    lines = [dict(_keyed(one.work, catalogue=catalogue)) for one in present]
    stands = _Stands({})
    return tuple(
        _column(number, [own.get(key) for own in lines], stands, says)
        for number, key in enumerate(_order(lines), start=1)
    )


@dataclass(frozen=True)
class _Stands:
    """Where athletes stand and what starts their clocks, as far as the sheet has said it: column by start."""

    said: dict[tuple[str, ...], int]

    def heading(self, lines: Sequence[Prescription], number: int) -> str:
        """Say it for all; empty where each athlete's own stands in the cells."""
        clocks = [line.expect.clock for line in lines if line.expect]
        if not clocks:
            return ""
        if len(set(clocks)) == 1:
            return clock_long(clocks[0])
        before = self.said.setdefault(tuple(clocks), number)
        return "" if before == number else f"times: start as in {before}"


def _keyed(lines: Iterable[Prescription], *, catalogue: Catalogue) -> Iterable[tuple[Key, Prescription]]:
    """Give lines by what they are for: athletes of other levels do another exercise in the same place."""
    seen: Counter[tuple[str, str]] = Counter()
    for line in lines:
        exercise = catalogue.get(line.exercise)
        kind = (exercise.slot if exercise and exercise.slot else line.exercise, line.run or "")
        yield (*kind, seen[kind]), line
        seen[kind] += 1


def _order(lines: Sequence[dict[Key, Prescription]]) -> list[Key]:
    order: list[Key] = []
    for own in sorted(lines, key=len, reverse=True):
        at = 0
        for key in own:
            if key in order:
                at = order.index(key) + 1
            else:
                order.insert(at, key)
                at += 1
    return order


@dataclass(frozen=True)
class _Heading:
    """What stands above a column: the words that hold for most; a cell says only what differs."""

    exercise: str
    dose: str
    manner: str
    side: str
    load: str
    stand: str = ""
    few: bool = False


def _column(
    number: int,
    lines: Sequence[Prescription | None],
    stands: _Stands,
    says: _Says,
) -> ColumnWords:
    catalogue = says.catalogue
    known = [line for line in lines if line is not None]
    heading = replace(
        _heading(known, says),
        stand=stands.heading(known, number),
        few=len(lines) <= FEW,
    )
    cells = tuple(None if line is None else _cell(line, heading, says) for line in lines)
    filled = [cell for cell in cells if cell]
    words = max(_words_width(cell) for cell in filled)
    first = next(line for line in known if line.exercise == heading.exercise)
    exercise = catalogue.get(first.exercise)
    held = _most([line for line in known if line.load_kg], says.meaning)
    ramp = _most(known, lambda line: ramp_up(line, catalogue=catalogue))
    notes = (
        heading.manner,
        _rest_span(known),
        heading.load or held,
        ramp,
        _most(known, stop_words),
        heading.stand,
    )
    return ColumnWords(
        number=number,
        name=full_name(first, catalogue=catalogue),
        dose=" ".join(filter(None, (heading.dose, heading.side))) or "each as below",
        notes=tuple(filter(None, notes)),
        cue=first.cue or (exercise.cue if exercise else ""),
        kind=boxes(first)[1],
        boxes=max(cell.boxes for cell in filled),
        words_pt=words + 6.0 if words else 0.0,
        cells=cells,
        exercises=tuple(dict.fromkeys(line.exercise for line in known)),
    )


def _heading(known: Sequence[Prescription], says: _Says) -> _Heading:
    sides = {side_words(line) for line in known}
    loads = {says.load(line) for line in known}
    return _Heading(
        exercise=_most(known, lambda line: line.exercise),
        dose=_only(known, lambda line: dose(line, units=says.units)),
        manner=_majority(known, manner),
        side=sides.pop() if len(sides) == 1 else "",
        load=loads.pop() if len(loads) == 1 and len(known) > 1 else "",
    )


def _most(lines: Sequence[Prescription], say: Callable[[Prescription], str]) -> str:
    """Give what most lines say, the first of equals."""
    return Counter(map(say, lines)).most_common(1)[0][0] if lines else ""


def _majority(lines: Sequence[Prescription], say: Callable[[Prescription], str]) -> str:
    """Give what more than half of the lines say, or nothing."""
    said, times = Counter(map(say, lines)).most_common(1)[0]
    return said if 2 * times > len(lines) else ""


def _only(lines: Sequence[Prescription], say: Callable[[Prescription], str]) -> str:
    """Give what all lines say, or nothing: a dose above cells that say another would be read first."""
    said = {say(line) for line in lines}
    return said.pop() if len(said) == 1 else ""


def _rest_span(lines: Sequence[Prescription]) -> str:
    ordered = sorted(filter(rests, lines), key=lambda line: (line.rest_reps_s or 0, line.rest_s or 0))
    ends = dict.fromkeys(rests(line) for line in (*ordered[:1], *ordered[-1:]))
    return " to ".join(ends).replace("to rest ", "to ")


def _cell(line: Prescription, heading: _Heading, says: _Says) -> CellWords:
    heavy = "" if heading.load else says.load(line)
    often = dose(line, units=says.units)
    time = f"{line.expect.time_s:.2f} s" if line.expect else ""
    stop = stop_time(line)
    own = (
        often if often != heading.dose else "",
        side_words(line) if not heading.side else "",
    )
    sub = (
        short_name(line.exercise, catalogue=says.catalogue) if line.exercise != heading.exercise else "",
        manner(line) if manner(line) != heading.manner else "",
        time if heavy else "",
        f"stop {stop}" if stop else "",
    )
    stand = clock_short(line.expect.clock) if line.expect and not heading.stand else ""
    return CellWords(
        main=heavy or time,
        own=" ".join(filter(None, own)),
        sub=" · ".join(filter(None, sub if heading.few else (*sub, stand))),
        boxes=boxes(line)[0],
        stand=stand if heading.few else "",
    )


def _words_width(cell: CellWords) -> float:
    main = text_width(cell.main, size=MAIN_SIZE, stretch=SEMIBOLD)
    own = text_width(cell.own, size=OWN_SIZE, stretch=SEMIBOLD)
    return max(
        main + own + (OWN_GAP if main and own else 0.0),
        *(text_width(words, size=SUB_SIZE) for words in (cell.sub, cell.stand)),
    )


@dataclass(frozen=True)
class Pages:
    """The columns of each page with their widths [pt], and how much larger than usual the words are."""

    scale: float
    columns: tuple[tuple[tuple[ColumnWords, float], ...], ...]


def pages_of(columns: Sequence[ColumnWords], *, width_pt: float) -> Pages:
    """Share a page's width among the columns [pt]; what does not fit goes on to a further page."""
    few = len(columns[0].cells) <= FEW if columns else True
    attempts = [(scale, box_pt) for scale, box_pt in _ATTEMPTS if few or scale <= 1.0]
    tried = [(scale, _bands(columns, width_pt, scale, box_pt)) for scale, box_pt in attempts]
    fewest = min(len(bands) for _, bands in tried)
    # As few bands of columns as can be, with the largest words that allow it.
    scale, bands = next((scale, bands) for scale, bands in tried if len(bands) == fewest)
    return Pages(scale, tuple(_stretched(band, width_pt) for band in bands))


def _bands(
    columns: Sequence[ColumnWords], width_pt: float, scale: float, box_pt: dict[str, float]
) -> list[list[tuple[ColumnWords, float]]]:
    bands: list[list[tuple[ColumnWords, float]]] = [[]]
    for column in columns:
        need = min(column.need(box_pt, scale=scale), width_pt)
        if sum(width for _, width in bands[-1]) + need > width_pt:
            bands.append([])
        bands[-1].append((column, need))
    return [band for band in bands if band]


def _stretched(
    page: list[tuple[ColumnWords, float]], width_pt: float
) -> tuple[tuple[ColumnWords, float], ...]:
    spare = (width_pt - sum(width for _, width in page)) / max(len(page), 1)
    return tuple((column, width + spare) for column, width in page)
