"""Why a re-plan changes what it changes, as far as the two programmes know it."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from datetime import date
from typing import Any

import pytest

from speedloom.training.programme import Programme
from speedloom.wording.replanned import replanned_text
from unit.report.sample import programme

SINCE = date(2026, 1, 19)
Data = dict[str, Any]


def changed(change: Callable[[Data], None]) -> Programme:
    """Give the squad's next revision, Brit's limits tightened and more besides."""
    content = deepcopy(programme(3).model_dump(mode="json", by_alias=True))
    content["revision"] = {"number": 3, "frozen_until": "2026-01-18"}
    content["brief"]["content"]["athletes"][1]["restrictions"][0]["limits"][0]["at_most"] = 0.7
    change(content)
    return Programme.model_validate_json(json.dumps(content))


def lines_of(content: Data, athlete: int, session: int = 0) -> list[Data]:
    found: list[Data] = content["programmes"][athlete]["weeks"][2]["sessions"][session]["prescriptions"]
    return found


def fewer_runs(content: Data) -> None:
    lines_of(content, 0)[2]["reps"] = 3


def another_day(content: Data) -> None:
    fewer_runs(content)
    content["programmes"][1]["weeks"][2]["sessions"][1]["date"] = "2026-01-28"


def squad_day(content: Data) -> None:
    content["programmes"][0]["weeks"][2]["sessions"].pop()


@pytest.mark.parametrize(
    ("change", "cause"),
    [
        (fewer_runs, "it follows from what is new for the rest"),
        (another_day, "it follows from the days that moved"),
        (squad_day, "the squad trains on the same days"),
    ],
)
def test_what_is_not_known_is_said_plainly(change: Callable[[Data], None], cause: str) -> None:
    text = replanned_text(programme(3), changed(change), since=SINCE)
    assert f"Why others change: Ada Maarleveld, {cause}.\n" in text


def test_who_has_news_of_their_own_is_no_other() -> None:
    def hers(content: Data) -> None:
        lines_of(content, 1)[2]["reps"] = 3

    text = replanned_text(programme(3), changed(hers), since=SINCE)
    assert "Brit Sandoval: fewer runs" in text
    assert "Why others change" not in text


def test_news_for_everybody_explains_everybody() -> None:
    def wider(content: Data) -> None:
        fewer_runs(content)
        content["brief"]["content"]["events"].pop()

    text = replanned_text(programme(3), changed(wider), since=SINCE)
    assert "Ada Maarleveld: fewer runs" in text
    assert "Why others change" not in text


def test_without_any_news_what_was_changed_by_hand_is_the_reason() -> None:
    def nothing_new(content: Data) -> None:
        whole = programme(3).model_dump(mode="json", by_alias=True)
        content["brief"] = whole["brief"]
        fewer_runs(content)

    text = replanned_text(programme(3), changed(nothing_new), since=SINCE)
    assert "Why it changes: it follows from what was changed by hand before." in text
    assert "what is new" not in text
