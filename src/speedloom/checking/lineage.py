"""What a derivation rests on: whose tests, which kit, and whether it is about this very line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from speedloom.checking.inputs import Inputs, UnresolvedError
from speedloom.training.programme import Node, Prescription
from speedloom.training.words import SPRINTS

_PASSED = ("round.up", "effort.time")
"""Steps that lead on to the formula a field is about."""

OWN: Mapping[str, tuple[str, ...]] = {
    "minutes.line": ("sets", "reps", "rest_reps_s", "rest_s"),
    "contacts.line": ("sets", "reps"),
    "rest.run": ("distance_m", "run_in_m"),
    "repetitions.share": ("reps", "rir"),
    "resistance.decrement_at_distance": ("distance_m", "load_kg"),
    "sprint.time": ("distance_m", "load_kg"),
    "sprint.zone_time": ("distance_m", "run_in_m"),
    "sprint.share_of_top_speed": ("distance_m", "run_in_m", "load_kg", "effort"),
    "effort.time": ("effort",),
}
"""Arguments of a formula that are numbers of the line itself."""

_NEARLY = 1e-6


@dataclass(frozen=True)
class Strange:
    """A step of a derivation that is about something else than its line."""

    node: str
    name: str
    value: float | str
    wanted: float | str


@dataclass(frozen=True)
class Lineage:
    """Walks derivations, each node once."""

    inputs: Inputs
    _roots: dict[str, frozenset[str]] = field(default_factory=dict)

    def roots(self, ref: str) -> frozenset[str]:
        """Give the athletes and pieces of kit under a node, as `athletes.mila` and `kit.sled`."""
        if ref not in self._roots:
            self._roots[ref] = frozenset()  # a node on its own path adds nothing
            node = self.inputs.nodes.get(ref)
            under = [self._root(path) for path in (node.inputs.values() if node else ())]
            self._roots[ref] = frozenset().union(*under)
        return self._roots[ref]

    def _root(self, path: str) -> frozenset[str]:
        kind, colon, rest = path.partition(":")
        if not colon:
            return self.roots(path)
        if kind == "test":
            return frozenset({f"athletes.{rest.partition('/')[0]}"})
        first, _, second = rest.partition(".")
        known = kind == "brief" and first in {"athletes", "kit"}
        return frozenset({f"{first}.{second.partition('.')[0]}"}) if known else frozenset()

    def strange(self, ref: str, line: Prescription) -> Iterator[Strange]:
        """Give the steps above a field's node whose arguments are not this line's numbers."""
        node = self.inputs.nodes.get(ref)
        while node is not None:
            yield from self._differing(ref, node, line)
            ref = node.inputs.get("time_s" if node.by == "effort.time" else "value", "")
            node = self.inputs.nodes.get(ref) if node.by in _PASSED else None

    def _differing(self, ref: str, node: Node, line: Prescription) -> Iterator[Strange]:
        for name in OWN.get(node.by, ()):
            wanted = getattr(line, name)
            if name not in node.inputs or _runs_on(node, name, line) or _not_taken(name, wanted):
                continue
            value, wanted = self._value(node.inputs[name]), wanted or 0
            if isinstance(value, int | float) and abs(value - wanted) > _NEARLY:
                yield Strange(ref, name, float(value), float(wanted))

    def _value(self, path: str) -> object:
        try:
            return self.inputs.value(path)
        except UnresolvedError:
            return None


def _runs_on(node: Node, name: str, line: Prescription) -> bool:
    """Say whether a whole set counts as one repetition, as in jumps and lifts."""
    within = node.by == "minutes.line" and name in {"reps", "rest_reps_s"}
    return within and line.method not in SPRINTS


def _not_taken(name: str, wanted: float | None) -> bool:
    """Say whether a rest does not occur, with one repetition or one set; then it adds no minutes either."""
    return wanted is None and name in {"rest_reps_s", "rest_s"}
