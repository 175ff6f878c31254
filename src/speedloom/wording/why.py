"""The derivation of one number in numbered sentences: rule, measurement, formula, rounding, clock."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from speedloom.training.formula import Formula
from speedloom.training.programme import Expect, Node, Prescription, Programme
from speedloom.training.rule import Rulebook
from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import word
from speedloom.wording.rules import citation as cited
from speedloom.wording.units import METRIC, Units, number, quantity, seconds
from speedloom.workflows.explain import Explanation, find

QUANTITIES: Mapping[str, str] = {
    "f0": "start force (F0)",
    "v0": "top speed without air (v0)",
    "vmax": "top speed",
    "tau": "time to come up to speed (tau)",
    "length": "acceleration length",
    "correlation": "correlation of F0 and v0",
    "drag": "air drag",
    "decrement": "slower at the distance by",
    "share_1rm": "share of the one-repetition maximum",
    "rir": "repetitions in reserve",
}
UNIT_ENDING = re.compile(r"_(npkg|mps|kgpm3|kgpm|kg|m|s|c)$")
UNITS_OF_ENDINGS: Mapping[str, str] = {
    "npkg": "N/kg", "mps": "m/s", "kgpm3": "kg/m3", "kgpm": "kg/m", "kg": "kg", "m": "m", "s": "s", "c": "°C",
}  # fmt: skip
PRACTICE = frozenset({None, "common_practice", "speedloom_structure"})
MEASURED_BY: Mapping[str, str] = {"hand": "hand timing"}


@dataclass(frozen=True)
class WhyBook:
    """What the sentences are made from beside the derivation."""

    programme: Programme
    rulebook: Rulebook
    formulas: Mapping[str, Formula]
    units: Units = METRIC


def why_sentences(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    """Write a derivation as sentences, inputs before results, with what the clock would show at the end."""
    told = [step.node for step in explanation.steps if not _folded(step.node)] or [explanation.node]
    if told[-1] is not explanation.node:
        told.append(explanation.node)
    return (*(_sentence(node, book=book) for node in told), *_clock(explanation, book=book))


def why_text(explanation: Explanation, *, book: WhyBook) -> str:
    """Write the heading and the numbered sentences."""
    value = amount(explanation.value, explanation.unit, units=book.units)
    sentences = why_sentences(explanation, book=book)
    lines = [f"Why {explanation.ref} is {value}"]
    lines += [f"{index}. {sentence}" for index, sentence in enumerate(sentences, start=1)]
    return "\n".join(lines) + "\n"


def amount(value: float | str | None, unit: str, *, units: Units = METRIC) -> str:
    """Write a node's value with its unit."""
    if value is None:
        return "nothing"
    return word(value) if isinstance(value, str) else quantity(value, unit, units=units)


def _amount(node: Node, value: float | str | None, *, book: WhyBook) -> str:
    # Specificity is a place on a scale, 0 general to 1 specific: per cent would say something else.
    scale = node.quantity.startswith(("specificity", "mesocycle point"))
    return amount(value, "1" if scale else node.unit, units=book.units)


def citation(source: str | None, mark: str, *, rulebook: Rulebook) -> str:
    """Write a source and how well it is known, such as `Haugen and others 2019, read`."""
    if source in PRACTICE:
        return mark
    known = {entry.ref: entry for entry in rulebook.sources}
    named = cited(known[source]) if source in known else word(source or "")
    return f"{named}, {mark}"


def _folded(node: Node) -> bool:
    """Say whether a step is told inside the steps that use it: a number that is only read."""
    return node.by == "given" and not any(value.startswith("test:") for value in node.inputs.values())


def _sentence(node: Node, *, book: WhyBook) -> str:
    name = QUANTITIES.get(node.quantity, word(node.quantity))
    value = f"{_first_upper(name)}: {_with_band(node, book=book)}"
    if node.by == "coach":
        return f"{value}, {_by_the_coach(node, book=book)}"
    inputs = listing(_input(key, link, book=book) for key, link in sorted(node.inputs.items()))
    reason = f" {node.reason.rstrip('.')}." if node.reason else ""
    return f"{value}. {_said(node, inputs, book=book)}{reason}"


def _said(node: Node, inputs: str, *, book: WhyBook) -> str:
    known = book.formulas.get(node.by)
    origin = _origin(node, known, book=book)
    if node.by == "given":
        return f"Read from {inputs or 'the line itself'} ({origin})."
    says = known.says if known else f"By {node.by}"
    source = f", from {inputs}" if inputs else ""
    return f"{_first_upper(says)}{source} ({origin})."


def _origin(node: Node, known: Formula | None, *, book: WhyBook) -> str:
    if node.source is None and known is not None:
        return citation(known.source, known.mark, rulebook=book.rulebook)
    return citation(node.source, node.mark, rulebook=book.rulebook)


def _by_the_coach(node: Node, *, book: WhyBook) -> str:
    proposed = node.inputs.get("proposed", "")
    instead = f" instead of {_value_of(proposed, node.unit, book=book)}" if proposed else ""
    return f"set by the coach{instead}: {(node.reason or 'no reason given').rstrip('.')}."


def _with_band(node: Node, *, book: WhyBook) -> str:
    value = _amount(node, node.value, book=book)
    if node.low is None or node.high is None:
        return value
    low, high = (amount(end, node.unit, units=book.units) for end in (node.low, node.high))
    low = low.removesuffix(value[len(value.partition(" ")[0]) :])
    return f"{value} (90 % band {low} to {high})"


def _input(key: str, link: str, *, book: WhyBook) -> str:
    kind, _, rest = link.partition(":")
    if kind == "test":
        return _test(rest)
    if kind == "rule":
        return f"{_argument(key)}{_rule(rest, book=book)}"
    if kind == "brief":
        return f"{_argument(key)}{rest} of the brief"
    if kind == "literal":
        return f"{_argument(key)}{_literal(key, rest, book=book)}"
    return f"{_argument(key)}{_node(link, book=book)}"


def _node(link: str, *, book: WhyBook) -> str:
    node = book.programme.basis[link]
    source = node.inputs.get("value", "")
    if node.by == "given" and source.startswith("rule:"):
        return _rule(source.removeprefix("rule:"), book=book)
    return _amount(node, node.value, book=book)


def _rule(name: str, *, book: WhyBook) -> str:
    rule, _, entry = name.partition(".")
    if not book.rulebook.has(rule, entry):
        return f"rule {name}"
    known = book.rulebook.rule(rule).numbers[entry]
    value = quantity(book.rulebook.number(rule, entry), known.unit, units=book.units)
    origin = citation(*book.rulebook.mark_of(rule, entry), rulebook=book.rulebook)
    changed = ", changed by the coach" if name in book.rulebook.changed else ""
    return f"{value} (rule {rule}: {origin}{changed})"


def _literal(key: str, text: str, *, book: WhyBook) -> str:
    ending = UNIT_ENDING.search(key)
    try:
        value = float(text)
    except ValueError:
        return word(text)
    return quantity(value, UNITS_OF_ENDINGS[ending[1]], units=book.units) if ending else number(value)


def _value_of(link: str, unit: str, *, book: WhyBook) -> str:
    node = book.programme.basis.get(link)
    if node is not None:
        return amount(node.value, node.unit, units=book.units)
    kind, _, rest = link.partition(":")
    return _literal(f"x_{unit}", rest, book=book) if kind == "literal" else link


def _argument(key: str) -> str:
    name = UNIT_ENDING.sub("", key)
    return "" if name == "value" else f"{QUANTITIES.get(name, word(name))} "


def _test(ref: str) -> str:
    athlete, _, rest = ref.partition("/")
    day, _, timing = rest.partition("/")
    method = MEASURED_BY.get(timing, timing)
    return f"the trials of {athlete} on {full_date(date.fromisoformat(day))}{f' by {method}' * bool(method)}"


def _clock(explanation: Explanation, *, book: WhyBook) -> Iterator[str]:
    name, _, field = explanation.ref.partition(".")
    holder = find(book.programme, name)
    if isinstance(holder, Prescription) and holder.expect and field in {"load_kg", "distance_m", "run_in_m"}:
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
