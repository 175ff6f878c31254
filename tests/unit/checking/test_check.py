"""The check as a whole: any programme, as far as it can be judged, in any order, quickly."""

from __future__ import annotations

import json

import pytest

import invented_briefs
from speedloom.checking.finding import Findings
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.workflows.check_programme import check_programme
from unit.checking.good_programme import good_programme
from unit.checking.programme_edit import Json, entry_of, line_of, put, session_of

MOST_SECONDS = 4.0


def check(document: Json) -> Findings:
    programme = Programme.model_validate_json(json.dumps(document))
    return check_programme(programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())


def rules(findings: Findings) -> set[str]:
    return {finding.rule for finding in findings}


def by_hand() -> Json:
    """The good programme as a coach's own file: no brief, no derivations."""
    document = good_programme()
    document["basis"] = {}
    document["brief"]["content"] = None
    for programme in document["programmes"]:
        programme["profile"] = None
        for week in programme["weeks"]:
            for owner in (
                week,
                *week["sessions"],
                *(line for s in week["sessions"] for line in s["prescriptions"]),
            ):
                owner["basis"] = {}
    return document


def test_a_programme_by_hand_is_checked_as_far_as_it_goes_without_a_flood() -> None:
    findings = check(by_hand())
    assert len(findings.of_rule("basis_present")) == 1
    assert findings.hard() == ()
    assert rules(findings) & {"derivation", "athlete_away", "slot_minutes", "kit_present"} == set()


def test_what_can_be_judged_by_hand_is_judged() -> None:
    document = by_hand()
    line_of(session_of(document, "ada", 5, "mon"), "sled_sprint")["distance_m"] = 45.0
    session_of(document, "ada", 5, "thu")["date"] = "2026-02-03"
    line_of(session_of(document, "bo", 5, "mon"), "acceleration_run")["minutes"] = 200.0
    assert {"sled_session", "sprint_gap", "slot_minutes"} <= rules(check(document))


def test_athletes_in_any_order_give_the_same_findings() -> None:
    document = good_programme()
    line_of(session_of(document, "cy", 3, "mon"), "sled_sprint")["stop_rule"] = None
    line_of(session_of(document, "ada", 2, "mon"), "sled_sprint")["stop_rule"] = None
    there = check(document)
    document["programmes"].reverse()
    document["basis"] = dict(reversed(document["basis"].items()))
    assert check(document) == there


def test_the_past_is_frozen_and_not_judged_but_the_document_is() -> None:
    document = good_programme()
    put(document, line_of(session_of(document, "ada", 2, "mon"), "broad_jump_stick"), "rest_s", 10)
    assert "short_rest" in rules(check(document))
    document["revision"] = {"number": 2, "cause": "replan", "frozen_until": "2026-01-18"}
    assert "short_rest" not in rules(check(document))
    line_of(session_of(document, "ada", 2, "mon"), "broad_jump_stick")["rest_s"] = 99
    assert "derivation" in rules(check(document))


def test_the_briefs_own_changes_of_the_rulebook_count() -> None:
    document = good_programme()
    change = {"rule": "sprint_gap", "number": "gap_h", "value": 73.0, "reason": "Hard floor"}
    document["brief"]["content"]["rules"] = [change]
    found = check(document).of_rule("sprint_gap")
    assert {one.limit for one in found} == {73.0}


@pytest.mark.parametrize(("name", "sound"), [("", False), ("Dr A. Heel", True)])
def test_a_hard_health_rule_is_loosened_only_with_a_name(name: str, *, sound: bool) -> None:
    document = good_programme()
    change = {"rule": "sprint_gap", "number": "hard_gap_h", "value": 12.0, "reason": "Camp"}
    document["brief"]["content"]["rules"] = [change | {"approved_by": name}]
    assert (check(document).of_rule("document_sound") == ()) is sound


def test_a_stricter_hard_rule_needs_no_name() -> None:
    document = good_programme()
    change = {"rule": "sprint_gap", "number": "hard_gap_h", "value": 36.0, "reason": "Young squad"}
    document["brief"]["content"]["rules"] = [change]
    assert check(document).hard() == ()


def test_a_rulebook_with_changes_is_taken_as_it_is() -> None:
    programme = Programme.model_validate_json(json.dumps(good_programme()))
    change = RuleChange(rule="sled_session", number="session_high_m", value=20.0, reason="a test")
    book = load_rulebook().with_changes((change,))
    findings = check_programme(programme, brief=None, rulebook=book, catalogue=load_catalogue())
    assert findings.of_rule("sled_session")


def test_a_limit_on_one_side_counts_that_side() -> None:
    document = good_programme()
    line = line_of(session_of(document, "ada", 5, "mon"), "countermovement_jump_stick")
    line |= {"side": "each"}
    put(document, line, "contacts", 20)
    limit = {"what": "contacts", "at_most": 10, "exercise": "countermovement_jump_stick", "side": "right"}
    entry_of(document, "ada")["restrictions"][0]["limits"] = [limit]
    assert check(document).of_rule("restriction_kept") == ()
    limit["at_most"] = 9
    assert {one.value for one in check(document).of_rule("restriction_kept")} == {10.0}


def test_a_derivation_that_rests_on_itself_is_named_and_ends() -> None:
    document = good_programme()
    basis = document["basis"]
    basis["c1"] = {"quantity": "x", "value": 1.0, "unit": "1", "by": "given", "mark": "read"}
    basis["c2"] = basis["c1"] | {"inputs": {"value": "c1"}}
    basis["c1"] = basis["c1"] | {"inputs": {"value": "c2"}}
    found = check(document).of_rule("document_sound")
    assert [dict(one.detail)["what"] for one in found] == ["basis_circle"]


def test_one_wrong_step_is_one_finding_at_its_first_use() -> None:
    document = good_programme()
    basis = document["basis"]
    ref = next(ref for ref, node in basis.items() if node["by"] == "one_rep_max.estimate")
    basis[ref]["value"] *= 1.3
    found = check(document).of_rule("derivation")
    assert [(one.number, dict(one.detail)["node"], one.limit) for one in found] == [("load_kg", ref, 90.0)]


def test_pain_bars_from_sprints_even_where_somebody_cleared() -> None:
    document = good_programme()
    entry_of(document, "ada")["screening"] = {"on": "2026-01-02", "pain": True, "cleared": True}
    assert {(one.weight, one.value) for one in check(document).of_rule("screening")} == {("hard", "pain")}


def test_a_limit_on_the_load_counts_what_is_worn_too() -> None:
    document = good_programme()
    line_of(session_of(document, "ada", 5, "mon"), "countermovement_jump_stick")["added_kg"] = 8.0
    limit = {"what": "load_kg", "at_most": 5.0, "exercise": "countermovement_jump_stick"}
    entry_of(document, "ada")["restrictions"][0]["limits"] = [limit]
    assert {one.value for one in check(document).of_rule("restriction_kept")} == {8.0}


def test_a_youth_is_measured_by_a_novices_rests_and_warm_up_whatever_level_is_written() -> None:
    data = invented_briefs.brief(
        invented_briefs.athlete(born="2010-09-09", level="advanced"),
        end="2026-02-08",
        responsible_adult="P. Vos",
    )
    found = invented_briefs.findings(invented_briefs.planned(data))
    assert {one.rule for one in found.warnings()} & {"short_rest", "warm_up_present"} == set()
