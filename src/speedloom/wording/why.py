"""The derivation of one number in numbered sentences: rule, measurement, formula, rounding, clock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from speedloom.training.formula import Formula
from speedloom.training.programme import Expect, Node, Prescription
from speedloom.wording.names import word
from speedloom.wording.units import seconds
from speedloom.wording.why_inputs import (
    QUANTITIES,
    WhyBook,
    amount,
    citation,
    inputs_text,
    literal,
    node_amount,
)
from speedloom.workflows.explain import CAP, Explanation, find

ON_THE_CLOCK = frozenset({"load_kg", "distance_m", "run_in_m"})
"""Numbers after which a coach asks what the clock will show."""


def why_sentences(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    """Write a derivation as sentences, inputs before results, with what the clock would show at the end.

    A cap that comes from the week before is told as a number: its own derivation stands at that week's line.
    """
    near = _near(explanation)
    told = [step.node for step in explanation.steps[:-1] if step.id in near and not _folded(step.node)]
    groups = groupby((*told, explanation.node), key=lambda node: (node.by, sorted(node.inputs.items())))
    sentences = [_together(list(nodes), book=book) for _, nodes in groups]
    return (*sentences, *_clock(explanation, book=book))


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


def why_text(explanation: Explanation, *, book: WhyBook) -> str:
    """Write the heading and the numbered sentences of one number."""
    return why_texts((explanation,), book=book)


def why_texts(explanations: Iterable[Explanation], *, book: WhyBook) -> str:
    """Write several derivations; a step that was told under an earlier number is not told again."""
    told: set[str] = set()
    parts = []
    for explanation in explanations:
        sentences = why_sentences(explanation, book=book)
        new = [sentence for sentence in sentences[:-1] if sentence not in told] + [sentences[-1]]
        told.update(sentences)
        value = amount(explanation.value, explanation.unit, units=book.units)
        again = len(sentences) - len(new)
        lines = [f"Why {explanation.ref} is {value}{f' (told above: {again} of its steps)' * bool(again)}"]
        lines += [f"{index}. {sentence}" for index, sentence in enumerate(new, start=1)]
        parts.append("\n".join(lines) + "\n")
    return "\n".join(parts)


def _folded(node: Node) -> bool:
    """Say whether a step is told inside the steps that use it: a number that is only read."""
    return node.by == "given" and not any(value.startswith("test:") for value in node.inputs.values())


def _together(nodes: list[Node], *, book: WhyBook) -> str:
    """Tell numbers that came out of one computation in one sentence."""
    first = nodes[0]
    if first.by == "coach":
        return " ".join(f"{_value(node, book=book)}, {_by_the_coach(node, book=book)}" for node in nodes)
    values = "; ".join(_value(node, book=book) for node in nodes)
    reason = f" {first.reason.rstrip('.')}." if first.reason else ""
    return f"{values}. {_said(first, book=book)}{reason}"


def _value(node: Node, *, book: WhyBook) -> str:
    name = QUANTITIES.get(node.quantity, word(node.quantity))
    return f"{_first_upper(name)}: {_with_band(node, book=book)}"


def _said(node: Node, *, book: WhyBook) -> str:
    known = book.formulas.get(node.by)
    inputs = inputs_text(node, book=book)
    origin = _origin(node, known, book=book)
    if node.by == "given":
        told = any(value.startswith(("rule:", "brief:")) for value in node.inputs.values())
        return f"Read: {inputs or 'it stands on the line itself'}{f' ({origin})' * (not told)}."
    says = known.says if known else f"By {node.by}"
    source = f", from {inputs}" if inputs else ""
    return f"{_first_upper(says)}{source} ({origin})."


def _origin(node: Node, known: Formula | None, *, book: WhyBook) -> str:
    if node.source is None and known is not None:
        return citation(known.source, known.mark, rulebook=book.rulebook)
    return citation(node.source, node.mark, rulebook=book.rulebook)


def _by_the_coach(node: Node, *, book: WhyBook) -> str:
    proposed = node.inputs.get("proposed", "")
    instead = f" instead of {_proposed(proposed, node, book=book)}" if proposed else ""
    return f"set by the coach{instead}: {(node.reason or 'no reason given').rstrip('.')}."


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


def _clock(explanation: Explanation, *, book: WhyBook) -> Iterator[str]:
    name, _, field = explanation.ref.partition(".")
    if field not in ON_THE_CLOCK:
        return
    holder = find(book.programme, name)
    if isinstance(holder, Prescription) and holder.expect:
        yield expected_sentence(holder.expect)


def expected_sentence(expect: Expect) -> str:
    """Say what the athlete's own clock would show for one repetition, as a band and no promise."""
    timing = expect.clock.partition("/")[0]
    low, high = f"{expect.low:.2f}", seconds(expect.high)
    time = seconds(expect.time_s)
    return (
        f"On the clock ({timing}, started as in the test): about {time}, 9 runs in 10 from {low} to {high}."
    )


def _first_upper(text: str) -> str:
    return text[:1].upper() + text[1:]
