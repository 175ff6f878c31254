"""The session sheet's grid: a column an exercise, a row an athlete, boxes to fill; and how it fits the page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from speedloom.report.charts.widths import SEMIBOLD, text_width
from speedloom.report.sheets.line_words import TIMES, boxes, dose, load, load_meaning, manner, rests, stop_time, stop_words
from speedloom.report.sheets.squad import Attendance
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription
from speedloom.wording.names import exercise_name, line_name
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
    """What one athlete does in one exercise: large words, the own dose beside them, small words, boxes."""

    main: str
    own: str
    sub: str
    boxes: int


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

    def need(self, box_pt: dict[str, float], *, scale: float = 1.0) -> float:
        """Give the width the column needs [pt] with boxes of a width and words of a size."""
        heading = max(text_width(word, size=11.0, stretch=SEMIBOLD) for word in self.name.split()) + 24.0
        return max(self.words_pt * scale + self.boxes * box_pt[self.kind] + 10.0, heading, _LEAST_COLUMN)


def exercise_columns(
    present: Sequence[Attendance], *, catalogue: Catalogue, units: Units = METRIC
) -> tuple[ColumnWords, ...]:
    """Lay the squad's lines side by side, in the order in which they are done."""
    lines = [dict(_keyed(one.work)) for one in present]
    order = _order(lines)
    return tuple(
        _column(number, [own.get(key) for own in lines], catalogue=catalogue, units=units)
        for number, key in enumerate(order, start=1)
    )


def _keyed(lines: Iterable[Prescription]) -> Iterable[tuple[Key, Prescription]]:
    seen: Counter[tuple[str, str]] = Counter()
    for line in lines:
        kind = (line.exercise, line.run or "")
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


def _column(
    number: int, lines: Sequence[Prescription | None], *, catalogue: Catalogue, units: Units
) -> ColumnWords:
    known = [line for line in lines if line is not None]
    shared = _shared(known, lambda line: dose(line, units=units))
    how = _shared(known, manner)
    cells = tuple(line and _cell(line, bare=(not shared, not how), catalogue=catalogue, units=units) for line in lines)
    filled = [cell for cell in cells if cell]
    words = max(_words_width(cell) for cell in filled)
    first = known[0]
    held = _shared(known, lambda line: load_meaning(line, catalogue=catalogue))
    notes = (how, _shared(known, rests) or _rest_span(known), held, _shared(known, stop_words))
    exercise = catalogue.get(first.exercise)
    own = first.exercise == "own_line" or exercise is None
    return ColumnWords(
        number=number,
        name=line_name(first, catalogue=catalogue) if own else exercise_name(first.exercise, catalogue=catalogue),
        dose=shared or "each as below",
        notes=tuple(filter(None, notes)),
        cue=first.cue or (exercise.cue if exercise else ""),
        kind=boxes(first)[1],
        boxes=max(cell.boxes for cell in filled),
        words_pt=words + 6.0 if words else 0.0,
        cells=cells,
    )


def _shared(lines: Sequence[Prescription], say: Callable[[Prescription], str]) -> str:
    said = {say(line) for line in lines}
    return said.pop() if len(said) == 1 else ""


def _rest_span(lines: Sequence[Prescription]) -> str:
    longest = max(lines, key=lambda line: line.rest_reps_s or line.rest_s or 0)
    return f"{rests(longest)} at most" if rests(longest) else ""


def _cell(line: Prescription, *, bare: tuple[bool, bool], catalogue: Catalogue, units: Units) -> CellWords:
    own_dose, own_manner = bare
    heavy = load(line, catalogue=catalogue, units=units)
    time = f"{line.expect.time_s:.2f} s" if line.expect else ""
    main = heavy or time
    stop = stop_time(line)
    own = dose(line, units=units) if own_dose else ""
    sub = (manner(line) if own_manner else "", time if heavy else "", f"stop {stop}" if stop else "")
    return CellWords(main=main, own=own, sub=" · ".join(filter(None, sub)), boxes=boxes(line)[0])


def _words_width(cell: CellWords) -> float:
    main = text_width(cell.main, size=MAIN_SIZE, stretch=SEMIBOLD)
    own = text_width(cell.own, size=OWN_SIZE, stretch=SEMIBOLD)
    return max(main + own + (OWN_GAP if main and own else 0.0), text_width(cell.sub, size=SUB_SIZE))


@dataclass(frozen=True)
class Pages:
    """The columns of each page with their widths [pt], and how much larger than usual the words are."""

    scale: float
    columns: tuple[tuple[tuple[ColumnWords, float], ...], ...]


def pages_of(columns: Sequence[ColumnWords], *, width_pt: float) -> Pages:
    """Share a page's width among the columns [pt]; what does not fit goes on to a further page."""
    few = len(columns[0].cells) <= FEW if columns else True
    for scale, box_pt in _ATTEMPTS:
        needs = [column.need(box_pt, scale=scale) for column in columns]
        if sum(needs) <= width_pt and (few or scale <= 1.0):
            return Pages(scale, (_stretched(list(zip(columns, needs, strict=True)), width_pt),))
    pages: list[list[tuple[ColumnWords, float]]] = [[]]
    for column in columns:
        need = min(column.need(_ROOMY), width_pt)
        if sum(width for _, width in pages[-1]) + need > width_pt:
            pages.append([])
        pages[-1].append((column, need))
    return Pages(1.0, tuple(_stretched(page, width_pt) for page in pages if page))


def _stretched(page: list[tuple[ColumnWords, float]], width_pt: float) -> tuple[tuple[ColumnWords, float], ...]:
    spare = (width_pt - sum(width for _, width in page)) / max(len(page), 1)
    return tuple((column, width + spare) for column, width in page)
