"""A finding: one rule that a programme does not keep, where, and by how much."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from speedloom.training.words import Weight

_ORDER: dict[Weight, int] = {"hard": 0, "warning": 1, "advice": 2}


@dataclass(frozen=True)
class Finding:
    """A rule not kept.

    Attributes:
        rule: id of the rule.
        weight: hard, warning or advice (the number's own weight where it has one).
        number: name of the number in the rule, the field of a line, or "".
        athlete, week, session, line: where, as far as it can be said.
        value: what the programme holds.
        limit: what the rule asks for.
        unit: unit of both.
        detail: further facts by name, for the sentence.
    """

    rule: str
    weight: Weight
    number: str = ""
    athlete: str | None = None
    week: int | None = None
    session: str | None = None
    line: str | None = None
    value: float | str | None = None
    limit: float | str | None = None
    unit: str = ""
    detail: tuple[tuple[str, str], ...] = ()

    @property
    def excess(self) -> float:
        """How far the value is from the limit, as a share of the limit; 0 where either is no number."""
        if isinstance(self.value, str) or isinstance(self.limit, str):
            return 0.0
        if self.value is None or self.limit is None:
            return 0.0
        return abs(self.value - self.limit) / max(abs(self.limit), 1e-9)

    def as_dict(self) -> dict[str, object]:
        """Give the finding as plain values."""
        fields = {name: getattr(self, name) for name in self.__dataclass_fields__}
        return fields | {"detail": dict(self.detail)}


@dataclass(frozen=True)
class Findings:
    """All findings of one programme, hard ones first, each rule once a session."""

    items: tuple[Finding, ...] = ()

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)

    def hard(self) -> tuple[Finding, ...]:
        """Give the findings that no programme may hold."""
        return self.of_weight("hard")

    def warnings(self) -> tuple[Finding, ...]:
        """Give the findings a coach may keep with a word."""
        return self.of_weight("warning")

    def advice(self) -> tuple[Finding, ...]:
        """Give the hints."""
        return self.of_weight("advice")

    def of_weight(self, weight: Weight) -> tuple[Finding, ...]:
        """Give the findings of one weight."""
        return tuple(finding for finding in self.items if finding.weight == weight)

    def of_rule(self, rule: str) -> tuple[Finding, ...]:
        """Give the findings of one rule."""
        return tuple(finding for finding in self.items if finding.rule == rule)

    def to_json(self) -> str:
        """Give the findings as JSON text."""
        return json.dumps([finding.as_dict() for finding in self.items], ensure_ascii=False, indent=2) + "\n"


def _place(finding: Finding) -> tuple[str, str, str, int, str]:
    return (
        finding.rule,
        finding.number,
        finding.athlete or "",
        finding.week or 0,
        finding.session or "",
    )


def merge(found: Iterable[Finding]) -> Findings:
    """Join findings of one rule, number and session into the worst of them, in a fixed order."""
    groups: dict[tuple[str, str, str, int, str], list[Finding]] = {}
    for finding in found:
        groups.setdefault(_place(finding), []).append(finding)
    merged = [_worst(group) for group in groups.values()]
    return Findings(
        tuple(sorted(merged, key=lambda one: (_ORDER[one.weight], one.athlete or "", *_place(one))))
    )


def _worst(group: list[Finding]) -> Finding:
    worst = max(group, key=lambda finding: (-_ORDER[finding.weight], finding.excess))
    lines = {finding.line for finding in group if finding.line}
    if len(lines) < 2:  # noqa: PLR2004 (several, not one)
        return worst
    return replace(worst, detail=(*worst.detail, ("lines", str(len(lines)))))
