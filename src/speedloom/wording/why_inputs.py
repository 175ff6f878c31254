"""What a step of a derivation is made from, in words: each input with its value and where that comes from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

from speedloom.training.formula import Formula
from speedloom.training.programme import Node, Programme
from speedloom.training.rule import Rulebook
from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import word
from speedloom.wording.rules import citation as cited
from speedloom.wording.units import METRIC, Units, number, quantity

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
TIMING_NAMES: Mapping[str, str] = {"hand": "hand timing"}


@dataclass(frozen=True)
class WhyBook:
    """What the sentences are made from beside the derivation."""

    programme: Programme
    rulebook: Rulebook
    formulas: Mapping[str, Formula]
    units: Units = METRIC


@dataclass(frozen=True)
class Part:
    """An input in words, and where it comes from."""

    text: str
    origin: str = ""


def citation(source: str | None, mark: str, *, rulebook: Rulebook) -> str:
    """Write a source and how well it is known, such as `Haugen and others 2019, read`."""
    if source in PRACTICE:
        return mark
    known = {entry.ref: entry for entry in rulebook.sources}
    named = cited(known[source]) if source in known else word(source or "")
    return f"{named}, {mark}"


def amount(value: float | str | None, unit: str, *, units: Units = METRIC) -> str:
    """Write a node's value with its unit."""
    if value is None:
        return "nothing"
    return word(value) if isinstance(value, str) else quantity(value, unit, units=units)


def node_amount(node: Node, value: float | str | None, *, book: WhyBook) -> str:
    """Write a value of a node in the node's unit."""
    # Specificity is a place on a scale, 0 general to 1 specific: per cent would say something else.
    scale = node.quantity.startswith(("specificity", "mesocycle point"))
    return amount(value, "1" if scale else node.unit, units=book.units)


def inputs_text(node: Node, *, book: WhyBook) -> str:
    """Write a node's inputs in the order of its formula; an origin that several share is said once."""
    known = book.formulas.get(node.by)
    order = list(known.arguments) if known else []
    keys = sorted(node.inputs, key=lambda key: (order.index(key) if key in order else len(order), key))
    parts = [_part(key, node.inputs[key], book=book) for key in keys]
    return listing(_joined(parts))


def _joined(parts: list[Part]) -> Iterator[str]:
    for origin, group in groupby(parts, key=lambda part: part.origin):
        texts = [part.text for part in group]
        if origin:
            yield f"{', '.join(texts)} ({origin})"
        else:
            yield from texts


def _part(key: str, link: str, *, book: WhyBook) -> Part:
    kind, _, rest = link.partition(":")
    name = argument(key)
    if kind == "test":
        return Part(_test(rest))
    if kind == "rule":
        return _rule(name, rest, book=book)
    if kind == "brief":
        return _brief(name, rest, book=book)
    if kind == "literal":
        return Part(f"{name}{literal(key, rest, book=book)}")
    return _node(name, link, book=book)


def argument(key: str) -> str:
    """Name an argument, with a space after it; a plain `value` has no name."""
    name = UNIT_ENDING.sub("", key)
    return "" if name == "value" else f"{QUANTITIES.get(name, word(name))} "


def _node(name: str, link: str, *, book: WhyBook) -> Part:
    node = book.programme.basis.get(link)
    if node is None:
        return Part(f"{name}{link}")
    source = node.inputs.get("value", "")
    if node.by == "given" and source.startswith("rule:"):
        return _rule(name, source.removeprefix("rule:"), book=book)
    return Part(f"{name}{node_amount(node, node.value, book=book)}")


def _rule(name: str, ref: str, *, book: WhyBook) -> Part:
    rule, _, entry = ref.partition(".")
    if not book.rulebook.has(rule, entry):
        return Part(f"{name}rule {ref}")
    known = book.rulebook.rule(rule).numbers[entry]
    value = quantity(book.rulebook.number(rule, entry), known.unit, units=book.units)
    origin = citation(*book.rulebook.mark_of(rule, entry), rulebook=book.rulebook)
    changed = ", changed by the coach" if ref in book.rulebook.changed else ""
    return Part(f"{name}{value}", f"rule {rule}: {origin}{changed}")


def _brief(name: str, path: str, *, book: WhyBook) -> Part:
    value = _in_brief(path, book=book)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return Part(f"{name}{literal(path, str(value), book=book)}", f"brief: {path}")
    return Part(f"{name}{word(path.rpartition('.')[2])}", f"brief: {path}")


def _in_brief(path: str, *, book: WhyBook) -> object:
    value: Any = book.programme.brief.content
    for step in path.split("."):
        if isinstance(value, tuple):
            by_ref = {getattr(item, "ref", str(index)): item for index, item in enumerate(value)}
            value = by_ref.get(step)
        else:
            value = value.get(step) if isinstance(value, dict) else getattr(value, step, None)
    return value


def literal(key: str, text: str, *, book: WhyBook) -> str:
    """Write a plain fact, in the unit its name ends with."""
    ending = UNIT_ENDING.search(key)
    try:
        value = float(text)
    except ValueError:
        return word(text)
    return quantity(value, UNITS_OF_ENDINGS[ending[1]], units=book.units) if ending else number(value)


def _test(ref: str) -> str:
    athlete, _, rest = ref.partition("/")
    day, _, timing = rest.partition("/")
    method = TIMING_NAMES.get(timing, timing)
    return f"the trials of {athlete} on {full_date(date.fromisoformat(day))}{f' by {method}' * bool(method)}"
