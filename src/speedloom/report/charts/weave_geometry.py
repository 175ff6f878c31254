"""Where everything of the weave stands, in the picture's own units: no colours, no elements."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from speedloom.report.charts.weave import Pin, WeaveData, Word
from speedloom.report.charts.widths import SEMIBOLD, text_width

Point = tuple[float, float]


@dataclass(frozen=True)
class Measure:
    """The picture's measures; `stretch` is how much wider than Source Sans the words may run."""

    width: float = 1000.0
    left: float = 132.0
    right: float = 6.0
    band_top: float = 2.0
    band_height: float = 20.0
    weeks_at: float = 38.0
    notes_at: float = 51.0
    lanes_top: float = 58.0
    lane: float = 45.0
    thickest: float = 36.0
    thinnest: float = 1.4
    plateau: float = 0.36
    text: float = 12.0
    small: float = 11.0
    pin_row: float = 15.0
    stretch: float = 1.0


@dataclass(frozen=True)
class Placed:
    """A text and where its middle stands."""

    text: str
    x: float
    y: float
    width: float


@dataclass(frozen=True)
class PlacedPin:
    """A pin's point and its label, which may have been left out; `anchor` is where the label grows from."""

    pin: Pin
    x: float
    y: float
    label: Placed | None


@dataclass(frozen=True)
class Geometry:
    """Everything that is drawn, placed."""

    data: WeaveData
    measure: Measure

    @property
    def column(self) -> float:
        """The width of a week."""
        return (self.measure.width - self.measure.left - self.measure.right) / len(self.data.weeks)

    @property
    def lanes_bottom(self) -> float:
        """Where the lowest lane ends."""
        return self.measure.lanes_top + self.measure.lane * len(self.data.threads)

    @property
    def height(self) -> float:
        """The picture's height, with as many rows of pins as they need."""
        pins = self.pins()
        rows = {placed.y for placed in pins} | {placed.label.y for placed in pins if placed.label}
        return self.lanes_bottom + 6.0 + self.measure.pin_row * len(rows)

    def edge(self, week: float) -> float:
        """Give the left edge of a week (place in the list, from 0)."""
        return self.measure.left + week * self.column

    def middle(self, week: int) -> float:
        """Give the middle of a week."""
        return self.edge(week + 0.5)

    def axis(self, lane: int) -> float:
        """Give the height at which a thread runs."""
        return self.measure.lanes_top + self.measure.lane * (lane + 0.5)

    def half(self, share: float) -> float:
        """Give half a thread's thickness for a share of its largest week; one never planned is a hairline."""
        measure = self.measure
        return (measure.thinnest + (measure.thickest - measure.thinnest) * min(share, 1.2)) / 2.0

    def half_at(self, shares: Sequence[float], x: float) -> float:
        """Give half a thread's thickness anywhere along it."""
        place = (x - self.measure.left) / self.column - 0.5
        week = min(max(int(place), 0), len(shares) - 1)
        following = min(week + 1, len(shares) - 1)
        rest = self.measure.plateau / 2.0
        t = min(max((place - week - rest) / (1.0 - 2.0 * rest), 0.0), 1.0)
        ease = t * t * (3.0 - 2.0 * t)
        return self.half(shares[week]) + ease * (self.half(shares[following]) - self.half(shares[week]))

    def outline(self, shares: Sequence[float], *, first: int = 0) -> tuple[Point, ...]:
        """Give the corners of a thread's upper edge: (x, half thickness), a flat part and a slope in turn."""
        rest = self.measure.plateau / 2.0
        corners: list[Point] = []
        for place, share in enumerate(shares):
            week = first + place
            start = self.edge(week) if place == 0 else self.edge(week + 0.5 - rest)
            end = self.edge(week + 1) if place == len(shares) - 1 else self.edge(week + 0.5 + rest)
            corners += [(start, self.half(share)), (end, self.half(share))]
        return tuple(corners)

    def room(self, shares: Sequence[float], start: float, end: float) -> float:
        """Give the least half thickness between two points."""
        inside = [self.middle(week) for week in range(len(shares)) if start < self.middle(week) < end]
        return min(self.half_at(shares, x) for x in (start, *inside, end))

    def words(self, lane: int) -> tuple[Placed, ...]:
        """Place the words of a thread, each within its own weeks; what does not fit is left out."""
        placed = (self._word(lane, word) for word in self.data.threads[lane].words)
        return tuple(word for word in placed if word is not None)

    def _word(self, lane: int, word: Word) -> Placed | None:
        thread = self.data.threads[lane]
        low, high = self.edge(word.first) + 4.0, self.edge(word.last + 1) - 4.0
        for text in word.texts:
            width = text_width(text, size=self.measure.text, stretch=self.measure.stretch)
            span = high - low - width
            steps = int(span // 3.0) if span >= 0 else -1
            spots = [(low + high) / 2.0 + side * 1.5 * step for step in range(steps + 1) for side in (1, -1)]
            for x in spots:
                start, end = x - width / 2.0 - 3.0, x + width / 2.0 + 3.0
                tall = self.room(thread.thickness, start, end) >= self.measure.text * 0.62
                if tall and not self._crossed(lane, start, end):
                    return Placed(text, x, self.axis(lane), width)
        return None

    def _crossed(self, lane: int, start: float, end: float) -> bool:
        # The line of what was done would run through the word.
        done = self.data.threads[lane].done
        weeks = [week for week in range(len(done)) if self.edge(week) < end and self.edge(week + 1) > start]
        shares = [share for week in weeks if (share := done[week]) is not None]
        return any(self.half(share) < self.measure.text * 0.62 for share in shares)

    def captions(self) -> tuple[Placed | None, ...]:
        """Place the mesocycles' captions."""
        return tuple(
            self._fitting(cycle.captions, self.edge(cycle.first), self.edge(cycle.last + 1))
            for cycle in self.data.mesocycles
        )

    def _fitting(self, texts: tuple[str, ...], start: float, end: float) -> Placed | None:
        stretch = self.measure.stretch * SEMIBOLD
        for text in texts:
            width = text_width(text, size=self.measure.small, stretch=stretch)
            if width <= end - start - 14.0:
                return Placed(text, start + 9.0 + width / 2.0, self.measure.band_top + 14.0, width)
        return None

    def notes(self) -> tuple[Placed | None, ...]:
        """Place the words under the week numbers; a row of equal ones is said once, in its middle."""
        weeks = self.data.weeks
        placed: list[Placed | None] = [None] * len(weeks)
        start = 0
        while start < len(weeks):
            end = start
            while end + 1 < len(weeks) and weeks[end + 1].note == weeks[start].note:
                end += 1
            placed[start] = self._note(start, end)
            start = end + 1
        return tuple(placed)

    def _note(self, start: int, end: int) -> Placed | None:
        week = self.data.weeks[start]
        for note in filter(None, (week.note, week.short_note)):
            width = text_width(note, size=self.measure.small, stretch=self.measure.stretch)
            if width <= (end - start + 1) * self.column - 2.0:
                x = (self.edge(start) + self.edge(end + 1)) / 2.0
                return Placed(note, x, self.measure.notes_at, width)
        return None

    def pins(self) -> tuple[PlacedPin, ...]:
        """Place the pins, peaks' labels first, in two rows at most; what finds no room keeps its point."""
        pins = self.data.pins
        first_row = self.lanes_bottom + 14.0
        rows: dict[float, list[tuple[float, float]]] = {first_row: [], first_row + self.measure.pin_row: []}
        for pin in pins:
            x = self.edge(pin.at)
            rows[first_row].append((x - 6.0, x + 6.0))
        labels: dict[int, Placed] = {}
        for place in sorted(range(len(pins)), key=lambda place: (not pins[place].peak, place)):
            label = self._pin_label(pins[place], rows)
            if label is not None:
                labels[place] = label
        return tuple(
            PlacedPin(pin, self.edge(pin.at), first_row, labels.get(place)) for place, pin in enumerate(pins)
        )

    def _pin_label(self, pin: Pin, rows: dict[float, list[tuple[float, float]]]) -> Placed | None:
        width = text_width(pin.label, size=self.measure.small, stretch=self.measure.stretch * SEMIBOLD)
        x = self.edge(pin.at)
        for y, taken in rows.items():
            beside = y == min(rows)
            starts = (x + 7.0, x - 11.0 - width) if beside else (x - width / 2.0,)
            for start in starts:  # beside its point, or below it
                end = start + width
                inside = start >= 0 and end <= self.measure.width
                if inside and all(end + 4.0 <= low or start >= high + 1.0 for low, high in taken):
                    taken.append((start, end))
                    return Placed(pin.label, (start + end) / 2.0, y, width)
        return None
