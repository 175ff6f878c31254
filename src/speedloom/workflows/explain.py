"""Walk the basis of one number, from what was measured and the rules to the number itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel

from speedloom.errors import UnknownNumberError
from speedloom.planning.edited import holders
from speedloom.science.strength.one_rep_max import estimate_one_rep_max
from speedloom.training.measurement import Lift
from speedloom.training.programme import Node, Prescription, Programme, Session, Week

Holder = Week | Session | Prescription
CAP = "at_most"
"""The argument that holds another week's number, with a whole derivation of its own."""


@dataclass(frozen=True)
class Step:
    """One node of a derivation."""

    id: str
    node: Node


@dataclass(frozen=True)
class Explanation:
    """The derivation of one number: inputs before results, the number's own node last."""

    ref: str
    value: float | str | None
    unit: str
    steps: tuple[Step, ...]

    @property
    def node(self) -> Node:
        """The number's own node."""
        return self.steps[-1].node

    def to_json(self) -> dict[str, Any]:
        """Give the shape that `why --json` prints."""
        steps = [{"id": step.id, **step.node.model_dump(mode="json")} for step in self.steps]
        return {"ref": self.ref, "value": self.value, "unit": self.unit, "steps": steps}


def explain(programme: Programme, ref: str) -> Explanation:
    """Explain one number, named `ref.field`, such as `mila-2.expect.time_s` or `mila-w6.specificity`.

    Raises:
        UnknownNumberError: when there is no such reference, or no derivation for such a field.
    """
    name, _, field = ref.partition(".")
    return _explained(programme, name, field, holder=find(programme, name))


def explain_all(programme: Programme, ref: str) -> tuple[Explanation, ...]:
    """Explain every number of a line, session or week.

    Raises:
        UnknownNumberError: when there is no such reference.
    """
    holder = find(programme, ref)
    return tuple(_explained(programme, ref, field, holder=holder) for field in sorted(holder.basis))


def _explained(programme: Programme, ref: str, field: str, *, holder: Holder) -> Explanation:
    if field not in holder.basis:
        raise UnknownNumberError(_no_such_field(ref, field, holder=holder))
    steps = tuple(_walk(programme.basis, holder.basis[field]))
    node = steps[-1].node
    stored = _stored(holder, field)
    value = node.value if stored is None else stored
    return Explanation(ref=f"{ref}.{field}", value=value, unit=node.unit, steps=steps)


def find(programme: Programme, ref: str) -> Holder:
    """Find the line, session or week (`mila-w6`) of a reference.

    Raises:
        UnknownNumberError: when there is none; names the nearest known one.
    """
    athlete = ref.rpartition("-")[0]
    for own in programme.programmes:
        if own.athlete == athlete:
            for name, holder in holders(own):
                if name == ref:
                    return holder
    raise UnknownNumberError(_no_such_ref(programme, ref))


def _no_such_ref(programme: Programme, ref: str) -> str:
    known = [name for own in programme.programmes for name, _ in holders(own)]
    near = get_close_matches(ref, known, n=1)
    hint = f"; did you mean {near[0]}?" if near else "; the programme and the sheets print them."
    example = known[2] if len(known) > 2 else "mila-2"  # noqa: PLR2004 - a line stands third
    return f"Expected the reference of a line, a session or a week (such as {example}), got {ref}{hint}"


def _no_such_field(name: str, field: str, *, holder: Holder) -> str:
    known = ", ".join(sorted(holder.basis)) or "none"
    what = f"got {field}" if field else "got none"
    return f"Expected a number of {name} that has a derivation ({known}), {what}."


def _walk(basis: Mapping[str, Node], last: str) -> Iterator[Step]:
    # Depth first, without recursion: a hand-made file may hold a chain of any length.
    done: set[str] = set()
    opened: set[str] = set()
    waiting = [last]
    while waiting:
        name = waiting[-1]
        inputs = [] if name in opened else [one for one in _inputs(basis, name) if one not in done]
        opened.add(name)
        if not opened.isdisjoint(inputs):
            raise UnknownNumberError(
                f"Expected the steps of {last} to end somewhere, and they go in a circle."
            )
        waiting += inputs
        if not inputs:
            waiting.pop()
            opened.discard(name)
            if name not in done:
                done.add(name)
                yield Step(id=name, node=_node(basis, name))


def _node(basis: Mapping[str, Node], name: str) -> Node:
    if name not in basis:
        raise UnknownNumberError(f"Expected the basis to hold the step {name}, and it does not.")
    return basis[name]


def _inputs(basis: Mapping[str, Node], name: str) -> list[str]:
    """List a node's inputs in the order of a stack: the rules are told before the measurement, a cap last."""
    named = [(key, value) for key, value in sorted(_node(basis, name).inputs.items()) if value in basis]
    named.sort(key=lambda item: (item[0] == CAP, _measured(basis[item[1]])))
    return list(dict.fromkeys(value for _, value in named))[::-1]


def _measured(node: Node) -> bool:
    return any(value.startswith("test:") for value in node.inputs.values())


def _stored(holder: Holder, field: str) -> float | str | None:
    value: Any = holder
    for part in field.split("."):
        value = value.get(part) if isinstance(value, dict) else getattr(value, part, None)
    if isinstance(value, BaseModel):
        value = getattr(value, "planned", None)
    return value if isinstance(value, (int, float, str)) else None


def one_rep_max_range(lift: Lift) -> tuple[float, float]:
    """Give the lowest and the highest of the published formulas for a set [kg] (`nsca_formulas`, read)."""
    found = estimate_one_rep_max(lift.load_kg, lift.reps, reps_in_reserve=lift.rir)
    return float(found.low), float(found.high)
