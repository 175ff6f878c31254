"""The rulebook: every number a rule or a default dose uses, with its source, mark and weight."""

from __future__ import annotations

import json
import tomllib
from functools import cache, cached_property
from hashlib import sha256
from importlib.resources import files
from itertools import count
from typing import Any

from pydantic import Field

from speedloom.training.fields import Frozen, Ref
from speedloom.training.words import Mark, Weight

POINTS = ("general", "middle", "specific")


class Source(Frozen):
    """A publication or practice that a number rests on."""

    ref: str
    title: str
    authors: str = ""
    year: int | None = None
    where: str = ""
    doi: str = ""
    population: str = ""


class RuleNumber(Frozen):
    """One number of a rule."""

    value: float
    unit: str
    weight: Weight | None = None
    source: str | None = None
    mark: Mark | None = None
    tighter: str = ""
    note: str = ""


class Rule(Frozen):
    """One rule or default dose of the book."""

    id: Ref
    row: str = ""
    kind: str = "rule"
    statement: str
    weight: Weight
    population: str = ""
    source: str | None = None
    mark: Mark
    health: bool = False
    todo: str = ""
    conflict: str = ""
    numbers: dict[str, RuleNumber] = {}


class RuleChange(Frozen):
    """A coach's change to one number, with the reason that is printed beside it."""

    rule: str = Field(description="The rule, by its id.")
    number: str = Field(description="The number of the rule.")
    value: float = Field(description="The new value, in the number's unit; shares are 0 to 1.")
    reason: str = Field(min_length=3, description="Why; printed with the programme.")
    approved_by: str = Field(default="", description="Who allows it; needed to loosen a hard health rule.")


class Rulebook(Frozen):
    """All rules; planner and check read the same numbers from it, by id."""

    rules: tuple[Rule, ...]
    sources: tuple[Source, ...]
    changes: tuple[RuleChange, ...] = ()

    def rule(self, rule_id: str) -> Rule:
        """Find a rule by its id."""
        return self._by_id[rule_id]

    def number(self, rule_id: str, number: str) -> float:
        """Give a number's value, the coach's change included."""
        return self._numbers[f"{rule_id}.{number}"]

    def has(self, rule_id: str, number: str) -> bool:
        """Say whether a rule holds a number."""
        return f"{rule_id}.{number}" in self._numbers

    def steps(self, rule_id: str, name: str) -> int:
        """Count a rule's numbered steps, `name_1`, `name_2` and so on."""
        return next(step for step in count() if not self.has(rule_id, f"{name}_{step + 1}"))

    def mark_of(self, rule_id: str, number: str) -> tuple[str | None, Mark]:
        """Give a number's source and mark: its own, or its rule's."""
        rule = self.rule(rule_id)
        entry = rule.numbers[number]
        return (entry.source or rule.source, entry.mark or rule.mark)

    @cached_property
    def _by_id(self) -> dict[str, Rule]:
        return {rule.id: rule for rule in self.rules}

    @cached_property
    def _numbers(self) -> dict[str, float]:
        packaged = {
            f"{rule.id}.{name}": entry.value for rule in self.rules for name, entry in rule.numbers.items()
        }
        return packaged | {f"{change.rule}.{change.number}": change.value for change in self.changes}

    @property
    def changed(self) -> tuple[str, ...]:
        """The names of the numbers that the coach changed."""
        return tuple(sorted(f"{change.rule}.{change.number}" for change in self.changes))

    def with_changes(self, changes: tuple[RuleChange, ...]) -> Rulebook:
        """Give the book with a coach's changes."""
        ordered = tuple(sorted(changes, key=lambda change: (change.rule, change.number)))
        return Rulebook.model_construct(rules=self.rules, sources=self.sources, changes=ordered)

    @cached_property
    def digest(self) -> str:
        """The digest of all numbers, changes included."""
        content = self.model_dump(mode="json")
        text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        return f"sha256:{sha256(text.encode()).hexdigest()}"


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(files("speedloom.training").joinpath("data", name).read_text(encoding="utf-8"))


def flatten(numbers: dict[str, Any]) -> dict[str, Any]:
    """Spread a {general, middle, specific} number into three named ones.

    >>> flatten({"reps": {"general": 8, "middle": 5, "specific": 3, "unit": "1"}})["reps_middle"]
    {'value': 5, 'unit': '1'}
    """
    flat: dict[str, Any] = {}
    for name, entry in numbers.items():
        rest = {key: value for key, value in entry.items() if key not in POINTS}
        if "value" in entry:
            flat[name] = entry
        else:
            flat |= {f"{name}_{point}": {"value": entry[point], **rest} for point in POINTS if point in entry}
    return flat


@cache
def load_rulebook() -> Rulebook:
    """Read the packaged rulebook: rules, default doses and sources."""
    rules = [
        {"id": ref, "kind": kind, **body, "numbers": flatten(body.get("numbers", {}))}
        for name, kind in (("rules.toml", "rule"), ("doses.toml", "dose"))
        for ref, body in _read(name).items()
    ]
    sources = [{"ref": ref, **body} for ref, body in _read("sources.toml").items()]
    return Rulebook.model_validate_json(json.dumps({"rules": rules, "sources": sources}))
