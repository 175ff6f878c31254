from __future__ import annotations

import json

from speedloom.checking.finding import Finding, merge


def a_finding(**fields: object) -> Finding:
    facts = {
        "rule": "sled_session",
        "weight": "warning",
        "athlete": "ada",
        "week": 2,
        "session": "ada-1",
    } | fields
    return Finding(**facts)  # type: ignore[arg-type]


def test_findings_of_one_rule_number_and_session_become_the_worst_of_them() -> None:
    low = a_finding(line="ada-2", value=31.0, limit=30.0)
    high = a_finding(line="ada-3", value=45.0, limit=30.0)
    merged = merge([low, high, a_finding(session="ada-9", line="ada-10", value=32.0, limit=30.0)])
    assert [(one.session, one.value, dict(one.detail)) for one in merged] == [
        ("ada-1", 45.0, {"lines": "2"}),
        ("ada-9", 32.0, {}),
    ]


def test_hard_findings_come_first_and_the_order_of_finding_does_not_matter() -> None:
    findings = [
        a_finding(rule="taper", weight="advice"),
        a_finding(rule="sled_session"),
        a_finding(rule="slot_minutes", weight="hard"),
        a_finding(rule="screening", weight="hard"),
    ]
    merged = merge(findings)
    assert [one.rule for one in merged] == ["screening", "slot_minutes", "sled_session", "taper"]
    assert merge(reversed(findings)) == merged
    assert (len(merged.hard()), len(merged.warnings()), len(merged.advice())) == (2, 1, 1)


def test_json_holds_every_field() -> None:
    merged = merge([a_finding(value=31.0, limit=30.0, unit="m", detail=(("why", "novice"),))])
    written = json.loads(merged.to_json())
    assert written[0]["value"] == 31.0
    assert written[0]["detail"] == {"why": "novice"}
    assert written[0]["line"] is None
