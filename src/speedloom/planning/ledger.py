"""The ledger: every number of a programme with how it came about, computed from its inputs as stored."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import count
from typing import Any

from speedloom.planning.formulas import FORMULAS
from speedloom.science.constants import BAND_90_SD
from speedloom.training.brief import ResolvedBrief
from speedloom.training.formula import load_formulas
from speedloom.training.programme import Node, node_precision
from speedloom.training.rule import Rulebook
from speedloom.training.words import Mark

SLOPE = 1e-3  # relative step of the central differences that carry a profile's uncertainty into a time
BAND_WIDTH = 2 * BAND_90_SD


@dataclass(frozen=True)
class Tag:
    """A node's place in the ledger, and its stored value."""

    index: int
    value: Any


Input = Tag | str


def literal(value: object) -> str:
    """Write a plain fact of the line itself as an input.

    >>> literal(6.0)
    'literal:6'
    """
    return f"literal:{value:g}" if isinstance(value, (int, float)) else f"literal:{value}"


class Ledger:
    """Collects nodes; equal nodes are kept once.

    Args:
        brief: the brief that `brief:` inputs are read from.
        rulebook: the rulebook that `rule:` inputs are read from.
        basis: nodes of an earlier revision, which keep their names: a number whose derivation is the same
            has the same node.
        after: the highest number a name of that revision has; new names come after it.
    """

    def __init__(
        self,
        brief: ResolvedBrief,
        rulebook: Rulebook,
        *,
        basis: Mapping[str, Node] | None = None,
        after: int = 0,
    ) -> None:
        self.brief = brief
        self.rulebook = rulebook
        self.nodes: list[Node] = []
        self._links: list[dict[str, Input]] = []
        self._seen: dict[tuple[object, ...], int] = {}
        self._names: dict[int, str] = {}
        self._after = max(after, last_number(basis or {}))
        self._named = self.taken(basis or {})
        for name, tag in self._named.items():
            self._names.setdefault(tag.index, name)

    def taken(self, basis: Mapping[str, Node]) -> dict[str, Tag]:
        """Take over the nodes of another revision, each with all that it rests on; give them by name."""
        found: dict[str, Tag] = {}
        for name in basis:
            self._take(name, basis, found)
        return found

    def _take(self, name: str, basis: Mapping[str, Node], found: dict[str, Tag]) -> Tag:
        if name not in found:
            node = basis[name]
            inputs: dict[str, Input] = {
                key: link if ":" in link else self._take(link, basis, found)
                for key, link in node.inputs.items()
            }
            found[name] = self._stands(node, inputs)
        return found[name]

    def _stands(self, node: Node, inputs: dict[str, Input]) -> Tag:
        """Enter a node of a revision as it stands there: its numbers are as stored already."""
        values = (node.quantity, node.value, node.unit, node.by, node.low, node.high, node.reason)
        key = _key(values, inputs)
        if key not in self._seen:
            self._seen[key] = len(self.nodes)
            self.nodes.append(node)
            self._links.append(inputs)
        return Tag(self._seen[key], node.value)

    def named(self, name: str) -> Tag:
        """Give the node of an earlier revision by its name."""
        return self._named[name]

    def name_of(self, tag: Tag) -> str | None:
        """Give the name a node had in the earlier revision, or None for a new one."""
        return self._names.get(tag.index)

    def put(
        self,
        quantity: str,
        value: float | str | None,
        unit: str,
        *,
        by: str,
        inputs: dict[str, Input],
        band: tuple[float, float] | None = None,
        origin: tuple[str | None, Mark] | None = None,
        reason: str | None = None,
    ) -> Tag:
        """Enter a number whose value is known."""
        source, mark = origin or self._origin(by, inputs)
        stored = node_precision(float(value)) if isinstance(value, (int, float)) else value
        low, high = (node_precision(band[0]), node_precision(band[1])) if band else (None, None)
        key = _key((quantity, stored, unit, by, low, high, reason), inputs)
        if key not in self._seen:
            self._seen[key] = len(self.nodes)
            self.nodes.append(
                Node.model_construct(
                    quantity=quantity,
                    value=stored,
                    unit=unit,
                    low=low,
                    high=high,
                    by=by,
                    inputs={},
                    source=source,
                    mark=mark,
                    reason=reason,
                )
            )
            self._links.append(inputs)
        return Tag(self._seen[key], stored)

    def compute(
        self,
        quantity: str,
        unit: str,
        by: str,
        **inputs: Input,
    ) -> Tag:
        """Enter a number that a formula gives from its inputs as stored."""
        value = FORMULAS[by](**{name: self.value_of(link) for name, link in inputs.items()})
        return self.put(quantity, value, unit, by=by, inputs=inputs, origin=self._origin(by, inputs))

    def _origin(self, by: str, inputs: dict[str, Input]) -> tuple[str | None, Mark]:
        """Give a node's source and mark: a dose's own, else the formula's."""
        doses = [link for link in inputs.values() if isinstance(link, str) and link.startswith("rule:")]
        if by.startswith("dose.") and doses:
            rule, _, number = doses[0].removeprefix("rule:").partition(".")
            return self.rulebook.mark_of(rule, number)
        formula = load_formulas()[by]
        return (formula.source, formula.mark)

    def rule(self, quantity: str, rule: str, number: str) -> Tag:
        """Enter a number read from the rulebook."""
        entry = self.rulebook.rule(rule).numbers[number]
        origin = self.rulebook.mark_of(rule, number)
        return self.put(
            quantity,
            self.rulebook.number(rule, number),
            entry.unit,
            by="given",
            inputs={"value": f"rule:{rule}.{number}"},
            origin=origin,
        )

    def given(self, quantity: str, value: float | str, unit: str, source: str) -> Tag:
        """Enter a number read from the brief or stated for the line."""
        return self.put(quantity, value, unit, by="given", inputs={"value": source})

    def time_spread(self, time: Tag, *, f0: Tag, v0: Tag, correlation: Tag) -> Tag:
        """Enter what the profile's uncertainty adds to an expected time [s]."""
        a = self._slope(time, "f0_npkg") * self._sd(f0)
        b = self._slope(time, "v0_mps") * self._sd(v0)
        variance = a * a + b * b + 2 * float(correlation.value) * a * b
        return self.put(
            "profile spread",
            max(0.0, variance) ** 0.5,
            "s",
            by="expect.profile_spread",
            inputs={"time_s": time, "f0_npkg": f0, "v0_mps": v0, "correlation": correlation},
        )

    def friction_spread(self, time: Tag, *, friction: Tag) -> Tag:
        """Enter what friction's uncertainty adds to an expected time [s]."""
        spread = abs(self._slope(time, "friction")) * self._sd(friction)
        inputs: dict[str, Input] = {"time_s": time, "friction": friction}
        return self.put("friction spread", spread, "s", by="expect.friction_spread", inputs=inputs)

    def by_coach(
        self, tag: Tag | None, value: float | str, *, unit: str, reason: str | None, quantity: str = ""
    ) -> Tag:
        """Enter the coach's own number in the place of another; what would stand here otherwise is kept."""
        if tag is None:
            named = quantity or "coach's number"
            return self.put(named, value, unit, by="coach", inputs={}, reason=reason)
        node = self.nodes[tag.index]
        # A count that was chosen has a proposal of its own; the choice itself is not what would stand here.
        chosen = node.by in {"coach", "solver.count"}
        proposed = self._links[tag.index].get("proposed") if chosen else tag
        inputs = {} if proposed is None else {"proposed": proposed}
        named = quantity or node.quantity
        return self.put(named, value, node.unit, by="coach", inputs=inputs, reason=reason)

    def recast(self, tag: Tag, swaps: dict[int, Tag]) -> Tag:
        """Compute a number again with some of the nodes it rests on swapped for others.

        Args:
            tag: the number.
            swaps: nodes by index of what they stand in for; a node swapped for itself stays as it is. What
                is found on the way is added, so that the same swaps serve many numbers.
        """
        if tag.index not in swaps:
            links = self._links[tag.index]
            inputs = {
                name: self.recast(link, swaps) if isinstance(link, Tag) else link
                for name, link in links.items()
            }
            swaps[tag.index] = tag if inputs == links else self._again(tag, inputs)
        return swaps[tag.index]

    def _again(self, tag: Tag, inputs: dict[str, Input]) -> Tag:
        node = self.nodes[tag.index]
        if node.by == "expect.profile_spread":
            of_time = {name: inputs[name] for name in ("time_s", "f0_npkg", "v0_mps", "correlation")}
            time, f0, v0, correlation = (as_tag(link) for link in of_time.values())
            return self.time_spread(time, f0=f0, v0=v0, correlation=correlation)
        if node.by == "expect.friction_spread":
            return self.friction_spread(as_tag(inputs["time_s"]), friction=as_tag(inputs["friction"]))
        if node.by not in FORMULAS:
            # A choice stays a choice, whatever it was chosen from.
            return self.put(
                node.quantity, node.value, node.unit, by=node.by, inputs=inputs, reason=node.reason
            )
        return self.compute(node.quantity, node.unit, node.by, **inputs)

    def links_of(self, tag: Tag) -> Mapping[str, Input]:
        """Give a node's inputs by name."""
        return self._links[tag.index]

    def source_of(self, tag: Tag, name: str) -> Tag | None:
        """Give the node that stands behind one input of a node, or None."""
        link = self._links[tag.index].get(name)
        return link if isinstance(link, Tag) else None

    def value_of(self, link: Input) -> Any:  # noqa: ANN401 - a number, a word or a piece of kit
        """Give an input's stored value."""
        if isinstance(link, Tag):
            return link.value
        kind, _, rest = link.partition(":")
        if kind == "rule":
            rule, _, number = rest.partition(".")
            return self.rulebook.number(rule, number)
        if kind == "brief":
            return self._from_brief(rest)
        return _number_or_word(rest)

    def _from_brief(self, path: str) -> Any:  # noqa: ANN401 - any part of the brief
        part: Any = self.brief
        for step in path.split("."):
            if isinstance(part, tuple):
                by_ref = {getattr(item, "ref", None): item for item in part}
                part = by_ref[step] if step in by_ref else part[int(step)]
            elif isinstance(part, dict):
                part = part[step]
            else:
                part = getattr(part, step)
        return part

    def _slope(self, time: Tag, name: str) -> float:
        formula = FORMULAS[self.nodes[time.index].by]
        links = self._links[time.index]
        values = {key: self.value_of(link) for key, link in links.items()}
        step = SLOPE * values[name]
        up, down = (
            formula(**values | {name: values[name] + step}),
            formula(**values | {name: values[name] - step}),
        )
        return float((up - down) / (2 * step))

    def _sd(self, tag: Tag) -> float:
        node = self.nodes[tag.index]
        if node.low is None or node.high is None:
            return 0.0
        return (node.high - node.low) / BAND_WIDTH

    def numbered(self, order: Iterable[Tag]) -> tuple[dict[int, str], dict[str, Node]]:
        """Name the nodes that are used b1, b2 … in order of first use, inputs before results.

        Nodes of an earlier revision keep their names, and new ones take the numbers after them.
        """
        names: dict[int, str] = {}
        fresh = count(1 + self._after)
        for tag in order:
            self._name(tag.index, names, fresh)
        basis = {}
        for index, name in names.items():
            inputs = {
                key: names[link.index] if isinstance(link, Tag) else link
                for key, link in self._links[index].items()
            }
            node = self.nodes[index]
            # What has not changed stays the very one in memory: who comes after need not look at it again.
            basis[name] = node if node.inputs == inputs else node.model_copy(update={"inputs": inputs})
        return names, basis

    def _name(self, index: int, names: dict[int, str], fresh: count[int]) -> None:
        if index in names:
            return
        for link in self._links[index].values():
            if isinstance(link, Tag):
                self._name(link.index, names, fresh)
        names[index] = self._names.get(index) or f"b{next(fresh)}"


def _key(values: tuple[object, ...], inputs: Mapping[str, Input]) -> tuple[object, ...]:
    """Give what makes a node the same node: its values, and what it rests on.

    Sorted: a node read back from a file is the same node, whatever the order its inputs stand in.
    """
    links = sorted((name, link.index if isinstance(link, Tag) else link) for name, link in inputs.items())
    return (*values, *links)


def last_number(basis: Iterable[str]) -> int:
    """Give the highest number among the names of nodes.

    >>> last_number(["b2", "b17"])
    17
    """
    return max((int(name[1:]) for name in basis), default=0)


def as_tag(link: Input | None) -> Tag:
    """Give a link that is a node.

    Raises:
        TypeError: it names something else, or nothing.
    """
    if not isinstance(link, Tag):
        raise TypeError(link)
    return link


def _number_or_word(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text
