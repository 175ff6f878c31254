"""Every step of a derivation, one sentence a step, inputs before results: enough to redo it by hand."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from speedloom.training.formula import Formula
from speedloom.training.programme import Node
from speedloom.wording.names import word
from speedloom.wording.why_inputs import (
    QUANTITIES,
    WhyBook,
    amount,
    citation,
    inputs_text,
    literal,
    node_amount,
)
from speedloom.workflows.explain import CAP, Explanation

SAYS: Mapping[str, str] = {
    "kit.round_load": "the nearest mass this kit can make; a tie goes to the lighter, and no limit is passed",
    "one_rep_max.estimate": "one-repetition maximum from a set: the median of seven published formulas",
    "dose.geometric": "a dose between its general, middle and specific value, in equal ratios",
    "resistance.load_for_decrement_at_distance": (
        "the load, sled included, with which the speed at the end of the run is that much slower than free"
    ),
}
"""Formulas whose own words need the page they stand on; all others say it themselves."""

COUNT = "volume.count"
"""The formula that turns a dose into a count, before the solver chooses."""


def step_sentences(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    """Write each step as a sentence; numbers that came out of one computation share one.

    A cap that comes from the week before is told as a number: its own derivation stands at that week's line.
    """
    near = _near(explanation)
    told = [step.node for step in explanation.steps[:-1] if step.id in near and not _folded(step.node)]
    groups = groupby((*told, explanation.node), key=lambda node: (node.by, sorted(node.inputs.items())))
    return tuple(together(list(nodes), book=book) for _, nodes in groups)


def _near(explanation: Explanation) -> set[str]:
    """Give the steps that lead to the number without passing a cap."""
    nodes = {step.id: step.node for step in explanation.steps}
    near: set[str] = set()
    waiting = [explanation.steps[-1].id]
    while waiting:
        name = waiting.pop()
        if name in nodes and name not in near:
            near.add(name)
            waiting += [link for key, link in nodes[name].inputs.items() if key != CAP]
    return near


def _folded(node: Node) -> bool:
    """Say whether a step is told inside the steps that use it: a number that is only read."""
    return node.by == "given" and not any(value.startswith("test:") for value in node.inputs.values())


def together(nodes: list[Node], *, book: WhyBook) -> str:
    """Tell numbers that came out of one computation in one sentence."""
    first = nodes[0]
    if first.by == "coach":
        return " ".join(f"{_value(node, book=book)}, {by_the_coach(node, book=book)}." for node in nodes)
    values = "; ".join(_value(node, book=book) for node in nodes)
    reason = f" {first.reason.rstrip('.')}." if first.reason else ""
    return f"{values}. {_said(first, book=book)}{reason}"


def _value(node: Node, *, book: WhyBook) -> str:
    name = QUANTITIES.get(node.quantity, word(node.quantity))
    return f"{first_upper(name)}: {_with_band(node, book=book)}"


def _said(node: Node, *, book: WhyBook) -> str:
    known = book.formulas.get(node.by)
    inputs = inputs_text(node, book=book)
    origin = _origin(node, known, book=book)
    if node.by == "given":
        told = any(value.startswith(("rule:", "brief:")) for value in node.inputs.values())
        return f"Read: {inputs or 'it stands on the line itself'}{f' ({origin})' * (not told)}."
    says = SAYS.get(node.by) or (known.says if known else f"By {node.by}")
    source = f", from {inputs}" if inputs else ""
    # A rounding or a sum whose inputs name their origin needs no "common practice" of its own.
    cited = f" ({origin})" * (origin != "common practice" or "(" not in source)
    return f"{first_upper(says)}{source}{cited}."


def _origin(node: Node, known: Formula | None, *, book: WhyBook) -> str:
    if node.source is None and known is not None:
        return citation(known.source, known.mark, rulebook=book.rulebook)
    return citation(node.source, node.mark, rulebook=book.rulebook)


def by_the_coach(node: Node, *, book: WhyBook) -> str:
    """Say that the coach set a number, what stood there before, and why."""
    proposed = node.inputs.get("proposed", "")
    instead = f" instead of {_proposed(proposed, node, book=book)}" if proposed else ""
    earlier = book.programme.basis.get(proposed)
    if earlier is not None and earlier.by == COUNT:
        # What the solver then chose rests on the whole squad's minutes, and is not in the document any more.
        instead = f"; the dose alone asks for {node_amount(earlier, earlier.value, book=book)}"
    return f"set by the coach{instead}: {(node.reason or 'no reason given').rstrip('.')}"


def _proposed(link: str, node: Node, *, book: WhyBook) -> str:
    earlier = book.programme.basis.get(link)
    if earlier is not None:
        return node_amount(earlier, earlier.value, book=book)
    kind, _, rest = link.partition(":")
    return literal(f"proposed_{node.unit}", rest, book=book) if kind == "literal" else link


def _with_band(node: Node, *, book: WhyBook) -> str:
    value = node_amount(node, node.value, book=book)
    if node.low is None or node.high is None:
        return value
    low, high = (amount(end, node.unit, units=book.units) for end in (node.low, node.high))
    unit = value.partition(" ")[2]
    return f"{value} (90 % band {low.removesuffix(f' {unit}')} to {high})"


def first_upper(text: str) -> str:
    """Begin a sentence with a capital.

    >>> first_upper("the nearest mass")
    'The nearest mass'
    """
    return text[:1].upper() + text[1:]
