"""The numbers a person reads in a programme document, each with its node and its stored precision."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Node = dict[str, Any]
# Parts of a week, session or line that are walked elsewhere.
OTHERS = frozenset({"basis", "locked", "sessions", "prescriptions"})
# Addresses and labels, not prescriptions: which week it is, and the share a band is meant to cover.
NOT_NUMBERS = frozenset({"number", "mesocycle", "expect.level"})
# Stored to the thousandth: shares and seconds.
THOUSANDTHS = frozenset(
    {"specificity", "decrement", "share_1rm", "effort", "grade", "value", "rest_reps_s", "rest_s", "hold_s"}
)


@dataclass(frozen=True)
class Number:
    """A number a person reads: where, what, its node (empty where none) and its stored grain."""

    where: str
    value: float
    node: str
    grain: float


def numbers_of(document: Node) -> Iterator[Number]:
    """Every number of every week, session and line of a programme document."""
    for ref, thing in things(document):
        yield from _fields(thing, ref)


def strange_keys(document: Node) -> list[str]:
    """Entries of a `basis` that belong to no number of their week, session or line."""
    known = {n.where for n in numbers_of(document)}
    said = {f"{ref}.{key}" for ref, thing in things(document) for key in thing["basis"]}
    return sorted(said - known)


def things(document: Node) -> Iterator[tuple[str, Node]]:
    for programme in document["programmes"]:
        for week in programme["weeks"]:
            yield f"{programme['athlete']}-w{week['number']}", week
            for session in week["sessions"]:
                yield session["ref"], session
                yield from ((line["ref"], line) for line in session["prescriptions"])


def _fields(thing: Node, ref: str) -> Iterator[Number]:
    basis = thing["basis"]
    for path, value in _leaves({k: v for k, v in thing.items() if k not in OTHERS}, ""):
        if path in NOT_NUMBERS or isinstance(value, bool) or not isinstance(value, int | float):
            continue
        key = path.removesuffix(".planned")
        yield Number(f"{ref}.{key}", value, basis.get(key, ""), grain_of(path))


def _leaves(thing: object, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(thing, dict):
        for key, value in thing.items():
            yield from _leaves(value, f"{path}.{key}" if path else key)
    else:
        yield path, thing


def grain_of(path: str) -> float:
    last = path.rsplit(".", 1)[-1]
    if path.startswith("expect."):
        return 0.001
    if last.endswith(("_kg", "_m")) or path.startswith("volumes"):
        return 0.01
    return 0.001 if last in THOUSANDTHS else 1e-6
