"""The rulebook in words for its pages, searched."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from speedloom.training.rule import Rule, Rulebook, RuleChange, RuleNumber, Source
from speedloom.wording.names import word
from speedloom.wording.rules import (
    CONDUCT,
    DOSES,
    TOPICS,
    amount_text,
    known_by,
    spell_sources,
    topic_of,
)


@dataclass(frozen=True)
class NumberShown:
    """One number of a rule, as it holds for the squad."""

    name: str
    title: str
    value: str
    weight: str
    tighter: str
    note: str
    known: str
    packaged: str
    change: RuleChange | None


@dataclass(frozen=True)
class RuleShown:
    """One rule."""

    id: str
    title: str
    topic: str
    statement: str
    weight: str
    health: bool
    known: str
    more: tuple[tuple[str, str], ...]
    numbers: tuple[NumberShown, ...]

    @property
    def changed(self) -> tuple[NumberShown, ...]:
        """The numbers that the squad changed."""
        return tuple(one for one in self.numbers if one.change)

    def holds(self, words: Iterable[str]) -> bool:
        """Say whether every word of a search stands somewhere in the rule."""
        more = " ".join(text for _, text in self.more)
        numbers = " ".join(f"{one.title} {one.note} {one.known}" for one in self.numbers)
        text = f"{self.title} {self.topic} {self.statement} {self.weight} {self.known} {more} {numbers}"
        if self.health:
            text += " health"
        return all(one in text.casefold() for one in words)


def number_title(name: str, number: RuleNumber) -> str:
    """Name a number without the unit at its end, which stands beside the value.

    >>> number_title("hard_gap_h", RuleNumber(value=24.0, unit="h"))
    'hard gap'
    """
    return word(name.removesuffix(f"_{number.unit}"))


@dataclass(frozen=True)
class RulesBook:
    """The rulebook with a squad's changes."""

    rulebook: Rulebook

    @cached_property
    def cited(self) -> dict[str, Source]:
        """The sources by their keys."""
        return {source.ref: source for source in self.rulebook.sources}

    @cached_property
    def changes(self) -> dict[tuple[str, str], RuleChange]:
        """The squad's changes."""
        return {(change.rule, change.number): change for change in self.rulebook.changes}

    def rule(self, rule: Rule) -> RuleShown:
        """Put one rule into words."""
        return RuleShown(
            id=rule.id,
            title=word(rule.id).capitalize(),
            topic=topic_of(rule),
            statement=rule.statement,
            weight=rule.weight,
            health=rule.health,
            known=known_by(rule.source, rule.mark, self.cited),
            more=tuple(self._more(rule)),
            numbers=tuple(self._number(rule, name, number) for name, number in rule.numbers.items()),
        )

    def _more(self, rule: Rule) -> Iterator[tuple[str, str]]:
        said = (("Holds for", rule.population), ("Conflict", rule.conflict), ("To do", rule.todo))
        yield from ((label, spell_sources(text, self.cited)) for label, text in said if text)
        if rule.kind == "conduct":
            yield "Kept", CONDUCT

    def _number(self, rule: Rule, name: str, number: RuleNumber) -> NumberShown:
        change = self.changes.get((rule.id, name))
        own = number.source or number.mark
        return NumberShown(
            name=name,
            title=number_title(name, number),
            value=amount_text(change.value if change else number.value, number.unit),
            weight=number.weight or rule.weight,
            tighter=number.tighter,
            note=spell_sources(number.note, self.cited),
            known=known_by(number.source or rule.source, number.mark or rule.mark, self.cited) if own else "",
            packaged=amount_text(number.value, number.unit),
            change=change,
        )

    def topics(self, search: str) -> list[tuple[str, list[RuleShown]]]:
        """Give the rules that a search finds, by topic."""
        words = search.casefold().split()
        found = [shown for rule in self.rulebook.rules if (shown := self.rule(rule)).holds(words)]
        names = dict.fromkeys([*TOPICS.values(), DOSES])
        groups = [(name, [one for one in found if one.topic == name]) for name in names]
        return [(name, rules) for name, rules in groups if rules]

    def sources(self) -> list[Source]:
        """Give the sources that rules and numbers rest on."""
        used = {rule.source for rule in self.rulebook.rules}
        used |= {number.source for rule in self.rulebook.rules for number in rule.numbers.values()}
        return sorted((one for one in self.rulebook.sources if one.ref in used), key=lambda one: one.ref)
