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
ARGUMENTS: Mapping[str, str] = {
    "at_most": "never above",
    "before_m": "used before it",
    "border_m": "border between the two",
    "change_over_s": "change-over",
    "coarse_m": "coarse steps",
    "contacts_per_rep": "contacts a repetition",
    "days_to_peak": "days to the peak",
    "distance_m": "distance",
    "emphasis": "the coach's emphasis",
    "extra": "more in reserve by",
    "factor": "the week's part",
    "fewest": "at least",
    "fine_m": "fine steps",
    "floor_s": "never under",
    "longest_m": "longest",
    "most": "at most",
    "per_10_m_s": "for each 10 m",
    "point": "95 % point",
    "present": "athletes present",
    "prior": "",
    "ramp_up_s": "ramp-up sets",
    "rest_reps_s": "rest between repetitions",
    "rest_s": "rest between sets",
    "rir": "repetitions in reserve",
    "run_in_m": "run-in",
    "run_out_m": "run-out",
    "se": "standard error",
    "share": "share",
    "step": "steps of",
    "straight_m": "straight",
    "timing_s": "timing spread",
    "timing_sd_s": "timing spread",
    "work_s": "work",
}
"""Arguments of formulas as a sentence calls them."""
BOUNDS = {"low": "not below", "high": "not above"}
"""The same for a number kept between two bounds."""
DIRECTIONS = {"-1": "a heavier day", "0": "a neutral day", "1": "a faster day"}
OWNERS = {
    "athletes": "athlete",
    "kit": "kit",
    "own_lines": "own line",
    "places": "place",
    "slots": "slot",
}
PRIORS = {"none": "nothing assumed", "population": "what is usual in a population"}
NUMBERED = re.compile(r"(line|sets|reps|each)_(\d+)")
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
    bounds = BOUNDS if node.by == "clamp" else {}
    steps = {"step": f"step_{node.unit}"} if node.unit in UNITS_OF_ENDINGS else {}
    names = bounds | steps
    parts = [_part(names.get(key, key), node.inputs[key], book=book) for key in keys]
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
        return Part(_fact(key, rest, name=name, book=book))
    if kind == "past":
        return Part(f"{name}as it stood in {rest.partition('.')[0]}, which is over")
    return _node(name, link, book=book)


def argument(key: str) -> str:
    """Name an argument, with a space after it; a plain `value` has no name."""
    numbered = NUMBERED.fullmatch(key)
    if numbered:
        return "" if numbered[1] == "line" else f"{numbered[1]} "
    bare = UNIT_ENDING.sub("", key)
    name = ARGUMENTS.get(key, ARGUMENTS.get(bare))
    if name is None:
        name = "" if bare == "value" else QUANTITIES.get(bare, word(bare))
    return f"{name} " if name else ""


def _fact(key: str, text: str, *, name: str, book: WhyBook) -> str:
    """Write a plain fact; a direction and a prior are words, whatever number stands for them."""
    if key == "direction":
        return DIRECTIONS.get(text, text)
    if key == "prior":
        return PRIORS.get(text, word(text))
    return f"{name}{literal(key, text, book=book)}"


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
        return Part(f"{name}{literal(path, str(value), book=book)}", f"brief: {owner_in_brief(path)}")
    return Part(f"{name}{word(path.rpartition('.')[2])}", "brief")


def owner_in_brief(path: str) -> str:
    """Say whose number a place in the brief holds.

    >>> owner_in_brief("places.hall.straight_m"), owner_in_brief("phases.specificity.0")
    ('place hall', 'phases')
    """
    group, _, rest = path.partition(".")
    owner = OWNERS.get(group)
    return f"{owner} {word(rest.partition('.')[0])}" if owner else word(group)


def _in_brief(path: str, *, book: WhyBook) -> object:
    value: Any = book.programme.brief.content
    for step in path.split("."):
        if isinstance(value, tuple):
            by_ref = {getattr(item, "ref", str(index)): item for index, item in enumerate(value)}
            value = by_ref.get(step)
        else:
            value = value.get(step) if isinstance(value, dict) else getattr(value, step, None)
    return value


def number_of(link: str, *, book: WhyBook) -> float | None:
    """Give the number behind an input: a step's, a rule's, a plain fact's or the brief's; None for a word."""
    kind, _, rest = link.partition(":")
    node = book.programme.basis.get(link)
    found: object = node.value if node else rest
    if kind == "rule":
        rule, _, name = rest.partition(".")
        found = book.rulebook.number(rule, name) if book.rulebook.has(rule, name) else None
    if kind == "brief":
        found = _in_brief(rest, book=book)
    try:
        return float(str(found))
    except ValueError:
        return None


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
