"""Which printed numbers ahead a sharper number moves: computed again through the programme's own basis."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from speedloom.planning.ledger import Ledger, Tag
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import Prescription, Programme
from speedloom.training.rule import Rulebook

DECIMALS = {"load_kg": 2, "expect.time_s": 2}
"""What is looked at, and the decimals it is printed with; a smaller move is no news."""

HUNDREDTH = 0.01 - 1e-9


@dataclass(frozen=True)
class Figure:
    """A number with its 90 % band, None where none is known."""

    value: float
    low: float | None
    high: float | None
    unit: str


@dataclass(frozen=True)
class Moved:
    """A number of a line as printed, and as it would be."""

    line: Prescription
    field: str
    before: float
    after: float


@dataclass(frozen=True)
class Printed:
    """Recomputes lines of a programme with one number swapped."""

    ledger: Ledger
    _names: dict[int, frozenset[int]] = field(default_factory=dict)

    @classmethod
    def of(cls, programme: Programme, brief: ResolvedBrief, rulebook: Rulebook) -> Printed:
        """Take over a programme's basis."""
        return cls(Ledger(brief, rulebook, basis=programme.basis))

    def moved(self, lines: Iterable[Prescription], quantity: str, new: Figure) -> list[Moved]:
        """Give the numbers ahead that rest on a quantity and would be printed otherwise with a new value."""
        band = None if new.low is None or new.high is None else (new.low, new.high)
        swap = self.ledger.put(
            quantity, new.value, new.unit, by="given", inputs={}, band=band, origin=(None, "computed")
        )
        swaps: dict[int, Tag] = {}
        return [one for line in lines for one in self._moved(line, quantity, swap, swaps)]

    def _moved(self, line: Prescription, quantity: str, swap: Tag, swaps: dict[int, Tag]) -> Iterator[Moved]:
        for name, decimals in DECIMALS.items():
            if name not in line.basis:
                continue
            tag = self.ledger.named(line.basis[name])
            under = [index for index in self._under(tag) if self.ledger.nodes[index].quantity == quantity]
            if not under:
                continue
            swaps.update(dict.fromkeys(under, swap))
            after, before = float(self.ledger.recast(tag, swaps).value), float(tag.value)
            raw = abs(self._raw(tag, swaps) - self._raw(tag, {}))
            if round(after, decimals) != round(before, decimals) and raw >= self._least(tag, after, before):
                yield Moved(line, name, before, after)

    def _raw(self, tag: Tag, swaps: dict[int, Tag]) -> float:
        """Give a number before it was rounded to what the kit can make."""
        raw = self.ledger.source_of(tag, "load_kg") if self._is_load(tag) else None
        return float(self.ledger.recast(raw or tag, swaps).value)

    def _least(self, tag: Tag, after: float, before: float) -> float:
        """Give the least move that is more than rounding: half the step of the plates, or a hundredth."""
        return abs(after - before) / 2 if self._is_load(tag) else HUNDREDTH

    def _is_load(self, tag: Tag) -> bool:
        return self.ledger.nodes[tag.index].by == "kit.round_load"

    def _under(self, tag: Tag) -> frozenset[int]:
        """Give all nodes a number rests on, by index."""
        if tag.index not in self._names:
            links = [link for link in self.ledger.links_of(tag).values() if isinstance(link, Tag)]
            self._names[tag.index] = frozenset({tag.index}).union(*(self._under(link) for link in links))
        return self._names[tag.index]
