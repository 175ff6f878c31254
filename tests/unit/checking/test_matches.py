"""S8b and N1: a peak is a day to be fresh for, like a match, and so is each day of a competition."""

from __future__ import annotations

import json
from typing import Any

import pytest

from speedloom.checking.finding import Finding
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.workflows.check_programme import check_programme
from unit.checking.good_programme import good_programme
from unit.checking.programme_edit import Json, line_of, session_of

DAY = "2026-02-06"
"""The day after a hard day on the field in week 5."""
MATCH: dict[str, Any] = {"kind": "match", "title": "Cup", "date": DAY}


def found(rule: str, *, events: list[dict[str, Any]], peaks: list[str], nordics: int = 5) -> list[Finding]:
    """Check the good programme with other dates to be fresh for."""
    document = good_programme()
    content = document["brief"]["content"]
    content["events"], content["goal"]["peaks"] = events, [{"date": day, "size": "main"} for day in peaks]
    line_of(session_of(document, "cy", 5, "tue"), "nordic_lower")["reps"] = nordics
    return list(_checked(document).of_rule(rule))


def _checked(document: Json) -> Any:  # noqa: ANN401 - findings
    programme = Programme.model_validate_json(json.dumps(document))
    return check_programme(programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())


def places(findings: list[Finding]) -> list[tuple[object, ...]]:
    return [(one.athlete, one.session, one.line, one.number, one.value) for one in findings]


def test_the_day_before_a_peak_is_the_day_before_a_match() -> None:
    before_match = found("match_gap", events=[MATCH], peaks=[])
    assert {one.weight for one in before_match} >= {"hard"}
    assert places(found("match_gap", events=[], peaks=[DAY])) == places(before_match)


def test_a_peak_on_the_day_of_a_match_is_not_counted_twice() -> None:
    assert found("match_gap", events=[MATCH], peaks=[DAY]) == found("match_gap", events=[MATCH], peaks=[])


def test_every_day_of_a_competition_counts() -> None:
    late = MATCH | {"kind": "competition", "date": "2026-02-02", "until": DAY}
    before_last_day = places(found("match_gap", events=[MATCH], peaks=[]))
    assert before_last_day
    assert set(before_last_day) <= set(places(found("match_gap", events=[late], peaks=[])))


def test_new_nordics_stay_away_from_a_peak_too() -> None:
    by_match = found("hamstring_week", events=[MATCH], peaks=[], nordics=9)
    assert [one.number for one in by_match] == ["match_gap_h"]
    assert places(found("hamstring_week", events=[], peaks=[DAY], nordics=9)) == places(by_match)


@pytest.mark.parametrize(
    ("events", "peaks", "named"), [([MATCH], [], "match: Cup"), ([], [DAY], "peak 2026-02-06")]
)
def test_the_finding_says_what_it_is_near(events: list[dict[str, Any]], peaks: list[str], named: str) -> None:
    programme = Programme.model_validate_json(json.dumps(good_programme()))
    book = FindingsBook(load_rulebook(), load_catalogue(), programme)
    (first, *_) = found("match_gap", events=events, peaks=peaks)
    assert named in finding_sentence(first, book=book)
