"""What could not be had, merged by cause."""

from __future__ import annotations

import json
from typing import Any

from speedloom.training.programme import Programme
from speedloom.wording.unmet import unmet_lines
from unit.report.sample import programme

HOLIDAY = {
    "kind": "holiday",
    "training": "none",
    "title": "Autumn holiday",
    "date": "2026-01-19",
    "until": "2026-01-25",
}


def missed(**changes: object) -> dict[str, object]:
    return {"athlete": "ada", "week": 2, "wish": "session", "reason": "mon_hall", **changes}


def lines(unmet: list[dict[str, object]], *, off: tuple[str, ...] = ()) -> list[str]:
    """Say what was not had by the invented squad; those named train nothing in week 2, a holiday."""
    content: dict[str, Any] = json.loads(programme().model_dump_json(by_alias=True))
    content["unmet"] = unmet
    for own in content["programmes"]:
        if own["athlete"] in off:
            own["weeks"][1]["sessions"] = []
    content["brief"]["content"]["events"] = [HOLIDAY] if off else []
    content["brief"]["content"]["athletes"][0]["away"] = [{"date": "2026-02-02", "until": "2026-02-08"}]
    return list(unmet_lines(Programme.model_validate_json(json.dumps(content))))


def test_nothing_missed_is_no_word() -> None:
    assert lines([]) == []


def test_a_holiday_of_everybody_is_one_line() -> None:
    squad = ("ada", "brit", "cleo")
    unmet = [missed(athlete=one, reason=slot) for one in squad for slot in ("mon_hall", "tue_gym")]
    assert lines(unmet, off=squad) == [
        "Not had in full:",
        "  Week 2: nobody trains, Autumn holiday.",
        "  To do: days away and holidays are your own: nothing to do, or move their dates in the brief.",
    ]


def test_one_slot_lost_is_named_with_whom_and_why() -> None:
    assert lines([missed(week=4)])[1] == "  Mon 18:00 hall in week 4: Ada Maarleveld, away."
    assert lines([missed(week=3)])[1:] == [
        "  Mon 18:00 hall in week 3: Ada Maarleveld.",
        "  To do: add a slot, move an event, or accept it.",
    ]


def test_a_method_cut_is_merged_over_weeks_and_athletes() -> None:
    cut = {"wish": "volume", "method": "plyometric", "reason": "slot_minutes", "wanted": 104.8, "got": 64.0}
    unmet = [missed(athlete=one, week=week, **cut) for one in ("ada", "brit") for week in (1, 2, 4)]
    assert lines(unmet)[1:] == [
        "  Plyometric in weeks 1–2, 4: Ada Maarleveld and Brit Sandoval, the slot is too short for more.",
        "  To do: lengthen the slot, or say in phases.drop_first what should go before it.",
    ]


def test_a_method_without_kit_or_tests_says_what_to_add() -> None:
    unmet = [missed(wish="frequency", method="resisted_sprint", reason="kit_or_tests")]
    assert lines(unmet)[1:] == [
        "  Sessions of resisted sprint in week 2: Ada Maarleveld, the kit or the tests do not allow it.",
        "  To do: add the kit to the brief, or timed runs to the tests.",
    ]
