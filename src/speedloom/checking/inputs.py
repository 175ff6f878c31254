"""Where a derivation's arguments come from: nodes, tests, brief, rulebook, days gone by, plain facts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from speedloom.training.brief import ResolvedBrief
from speedloom.training.measurement import Trace, Trial
from speedloom.training.programme import Node, Prescription
from speedloom.training.rule import Rulebook

Value = Any


class UnresolvedError(LookupError):
    """An argument that names nothing."""


@dataclass(frozen=True)
class Inputs:
    """Resolves the arguments of basis nodes; `over` are the lines of sessions that are over, by ref."""

    nodes: Mapping[str, Node]
    brief: ResolvedBrief | None
    book: Rulebook
    over: Mapping[str, Prescription] = field(default_factory=dict)

    @cached_property
    def _content(self) -> object:
        return None if self.brief is None else self.brief.model_dump(mode="json", by_alias=True)

    @cached_property
    def _paths(self) -> dict[str, Value]:
        return {}

    @cached_property
    def trials(self) -> dict[str, tuple[Trial, ...]]:
        """The embedded trials by profile reference (athlete, date, timing method)."""
        found: dict[str, tuple[Trial, ...]] = {}
        for trial in self.brief.measurements.trials if self.brief else ():
            found[trial.session] = (*found.get(trial.session, ()), trial)
        return found

    @cached_property
    def traces(self) -> dict[str, tuple[Trace, ...]]:
        """The embedded speed traces by profile reference (athlete, date, device)."""
        found: dict[str, tuple[Trace, ...]] = {}
        for trace in self.brief.measurements.traces if self.brief else ():
            found[trace.session] = (*found.get(trace.session, ()), trace)
        return found

    def arguments(self, node: Node) -> dict[str, Value]:
        """Resolve all arguments of a node.

        Raises:
            UnresolvedError: an argument names nothing.
        """
        if node.by == "profile.fit_trace":
            return {name: self._of_trace(path) for name, path in node.inputs.items()}
        return {name: self.value(path) for name, path in node.inputs.items()}

    def _of_trace(self, path: str) -> Value:
        kind, _, rest = path.partition(":")
        return self.traces[rest] if kind == "test" and rest in self.traces else self.value(path)

    def value(self, path: str) -> Value:
        """Resolve one argument; `test:` gives the trials.

        Raises:
            UnresolvedError: the path names nothing.
        """
        kind, colon, rest = path.partition(":")
        if not colon:
            return self._node(path)
        if kind == "literal":
            return _literal(rest)
        if path not in self._paths:
            self._paths[path] = self._look_up(kind, rest)
        return self._paths[path]

    def _node(self, ref: str) -> Value:
        node = self.nodes.get(ref)
        if node is None:
            msg = f"no node {ref}"
            raise UnresolvedError(msg)
        return node.value

    def _look_up(self, kind: str, rest: str) -> Value:
        if kind == "rule":
            return self._rule(rest)
        if kind == "brief":
            return self._in_brief(rest)
        if kind == "test" and rest in self.trials:
            return self.trials[rest]
        if kind == "past":
            return self._in_the_past(rest)
        msg = f"nothing named {kind}:{rest}"
        raise UnresolvedError(msg)

    def _in_the_past(self, path: str) -> Value:
        ref, _, name = path.partition(".")
        value = getattr(self.over.get(ref), name, None)
        if not isinstance(value, int | float):
            msg = f"no number {path} in a session that is over"
            raise UnresolvedError(msg)
        return value

    def _rule(self, path: str) -> float:
        rule, _, number = path.partition(".")
        if not self.book.has(rule, number):
            msg = f"no number {path} in the rulebook"
            raise UnresolvedError(msg)
        return self.book.number(rule, number)

    def _in_brief(self, path: str) -> Value:
        here = self._content
        for step in path.split("."):
            here = _step(here, step, path)
        return here


def _step(here: object, step: str, path: str) -> object:
    """Go one step down: a key, an item by its ref, or an item by its place in the list."""
    if isinstance(here, dict) and step in here:
        return here[step]
    if isinstance(here, list):
        named = [item for item in here if isinstance(item, dict) and item.get("ref") == step]
        if named:
            return named[0]
        if step.isdigit() and int(step) < len(here):
            return here[int(step)]
    msg = f"nothing at {path} in the brief"
    raise UnresolvedError(msg)


def _literal(text: str) -> Value:
    try:
        return float(text)
    except ValueError:
        return text
