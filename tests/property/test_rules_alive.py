"""Rules are alive: one change and one tightened number break each hard or warning rule (HOUSE: habit 15)."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache

import pytest

from property.alive_rows import ROWS, Row
from speedloom.checking.finding import Finding
from speedloom.checking.register import CHECKS, NOT_IN_A_PROGRAMME
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook, RuleChange, load_rulebook
from speedloom.workflows.check_programme import check_programme
from unit.checking.good_programme import good_programme
from unit.checking.programme_edit import Json

SOURCE: Callable[[], Json] = good_programme
"""Where the good programme comes from."""

STRICT = ("hard", "warning")


def findings(document: Json, book: Rulebook | None = None) -> tuple[Finding, ...]:
    programme = Programme.model_validate_json(json.dumps(document))
    checked = check_programme(
        programme, brief=None, rulebook=book or load_rulebook(), catalogue=load_catalogue()
    )
    return checked.items


@cache
def before() -> tuple[Finding, ...]:
    return findings(SOURCE())


def place(finding: Finding) -> tuple[object, ...]:
    return (finding.rule, finding.number, finding.athlete, finding.week, finding.session)


def fresh(after: tuple[Finding, ...]) -> list[Finding]:
    """Give what was not found at that place before, whatever its value was."""
    known = {place(finding) for finding in before()}
    return [finding for finding in after if place(finding) not in known]


def tightened(row: Row) -> tuple[Finding, ...]:
    document = SOURCE()
    row.before(document)
    if row.tighten is None:
        return findings(document)
    rule, number, value = row.tighten
    change = RuleChange(rule=rule, number=number, value=float(value), reason="a test", approved_by="a test")
    return findings(document, load_rulebook().with_changes((change,)))


def test_the_good_programme_is_good() -> None:
    assert [finding for finding in before() if finding.weight in STRICT] == []


def test_every_rule_is_checked_or_cannot_be_broken() -> None:
    rules = {rule.id for rule in load_rulebook().rules if rule.kind != "dose"}
    assert rules == set(CHECKS) | set(NOT_IN_A_PROGRAMME)
    assert not set(CHECKS) & set(NOT_IN_A_PROGRAMME)


def test_every_hard_or_warning_rule_has_a_row() -> None:
    book = load_rulebook()
    wanted = {rule for rule in CHECKS if book.rule(rule).weight in STRICT}
    assert set(ROWS) == wanted


@pytest.mark.parametrize("rule", sorted(ROWS))
def test_a_corruption_yields_exactly_that_finding(rule: str) -> None:
    document = SOURCE()
    ROWS[rule].corrupt(document)
    found = fresh(findings(document))
    assert {finding.rule for finding in found} == {rule}, found
    assert any(finding.weight in STRICT for finding in found)


@pytest.mark.parametrize("rule", sorted(ROWS))
def test_a_tightened_number_breaks_the_good_programme(rule: str) -> None:
    assert rule in {finding.rule for finding in fresh(tightened(ROWS[rule]))}
