"""The exercises of a training side by side: whose lines are one step, and in which order they go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from speedloom.report.sheets.squad import Attendance
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Kit
from speedloom.training.programme import Prescription

Key = tuple[str, str, int]
PLATED = frozenset({"sled", "barbell", "trap_bar"})


@dataclass(frozen=True)
class Step:
    """One exercise of the training, with everybody who does it in the order in which they go."""

    lines: tuple[tuple[Attendance, Prescription], ...]

    @property
    def usual(self) -> Prescription:
        """The line whose exercise most of them do."""
        exercise = Counter(line.exercise for _, line in self.lines).most_common(1)[0][0]
        return next(line for _, line in self.lines if line.exercise == exercise)


def steps_of(
    present: Sequence[Attendance], *, catalogue: Catalogue, kits: dict[str, Kit]
) -> tuple[Step, ...]:
    """Lay everybody's work side by side, in the order in which it is done."""
    own = [(one, dict(_keyed(one, catalogue))) for one in present]
    order = _order([lines for _, lines in own])
    return tuple(
        Step(tuple(_running_order([(one, lines[key]) for one, lines in own if key in lines], kits)))
        for key in order
    )


def _keyed(one: Attendance, catalogue: Catalogue) -> Iterator[tuple[Key, Prescription]]:
    """Give lines by what they are for: athletes of other levels do another exercise in the same step."""
    seen: Counter[tuple[str, str]] = Counter()
    for line in one.work:
        exercise = catalogue.get(line.exercise)
        kind = (exercise.slot if exercise and exercise.slot else line.exercise, line.run or "")
        yield (*kind, seen[kind]), line
        seen[kind] += 1


def _order(own: Sequence[dict[Key, Prescription]]) -> list[Key]:
    """Join the athletes' orders: what only some do stands after what they do before it."""
    order: list[Key] = []
    for lines in sorted(own, key=len, reverse=True):
        at = 0
        for key in lines:
            if key in order:
                at = order.index(key) + 1
            else:
                order.insert(at, key)
                at += 1
    return order


def _running_order(
    lines: Sequence[tuple[Attendance, Prescription]], kits: dict[str, Kit]
) -> list[tuple[Attendance, Prescription]]:
    """Let loads rise where plates are changed, so that they are mostly added; else by name."""
    plated = any(line.kit in kits and kits[line.kit or ""].kind in PLATED for _, line in lines)
    if not plated:
        return list(lines)
    return sorted(lines, key=lambda one: (one[1].kit or "", one[1].load_kg or 0.0))
