"""Differences of two programmes."""

from __future__ import annotations

import json
from typing import Any

from small_programme import document, small_programme
from speedloom.workflows.compare import Differences, compare


def differences(content: dict[str, Any]) -> Differences:
    return compare(small_programme(), small_programme(content))


def test_no_news_is_no_difference() -> None:
    assert not differences(document())


def test_a_moved_session_keeps_its_reference() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][0]["date"] = "2026-01-20"
    (session,) = differences(content).sessions
    assert (session.kind, session.ref) == ("moved", "mila-200")
    assert [change.field for change in session.changes] == ["date"]


def test_sessions_added_and_removed() -> None:
    content = document()
    sessions = content["programmes"][0]["weeks"][1]["sessions"]
    sessions[0]["ref"] = "mila-499"
    assert sorted(one.kind for one in differences(content).sessions) == ["added", "removed"]


def test_a_changed_line_says_old_and_new() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]["load_kg"] = 35.0
    (line,) = differences(content).lines
    (change,) = line.changes
    assert (line.kind, change.field, change.old, change.new) == ("changed", "load_kg", 37.5, 35.0)


def test_another_exercise_is_one_line_less_and_one_more() -> None:
    content = document()
    line = content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][3]
    line["exercise"], line["ref"] = "low_bound", "mila-480"
    assert sorted(one.kind for one in differences(content).lines) == ["added", "removed"]


def test_a_new_reference_alone_is_no_difference() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]["ref"] = "mila-480"
    assert not differences(content)


def test_programmes_of_other_briefs_meet_by_day() -> None:
    content = document()
    content["id"] = "000000000000"
    for number, week in enumerate(content["programmes"][0]["weeks"]):
        for session in week["sessions"]:
            session["ref"] = f"mila-{600 + number * 10 + len(session['place'])}"
    assert not differences(content)


def test_athletes_added_and_removed() -> None:
    content = document()
    content["programmes"][0]["athlete"] = "noa"
    found = differences(content)
    assert (found.athletes_added, found.athletes_removed) == (("noa",), ("mila",))


def test_the_json_is_plain() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][0]["date"] = "2026-01-20"
    content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]["load_kg"] = 35.0
    value = json.loads(json.dumps(differences(content).to_json()))
    assert value["sessions"][0]["changes"] == [{"field": "date", "old": "2026-01-19", "new": "2026-01-20"}]
    assert value["lines"][0]["changes"] == [{"field": "load_kg", "old": 37.5, "new": 35.0}]
