"""What athletes read stands on one page, without blame, promises or words of risk (DESIGN: care)."""

from __future__ import annotations

import re
import runpy

import pytest

from house import DOCS, ROOT

MADE = runpy.run_path(str(ROOT / "docs" / "athlete_words.py"))
BANNED = {
    "blame": r"\b(your fault|blame|lazy|you (failed|missed)|should have|not good enough|disappoint\w*)\b",
    "promises": r"\b(guarantee\w*|will (improve|be faster|make you|get you|run faster)|proven|prevents?)\b",
    "risk": r"\b(risks?|risky|danger\w*|injury[- ]prone|red flag|overload(ed)?|overtrain\w*|at risk)\b",
    "weight": r"\b(lose weight|weight loss|overweight|fat|lighter body|body weight target)\b",
    "statistics": r"\b(significant\w*|p-value)\b",
    "ranking": r"\b(score|rank(ed|ing)?|best in the squad|worst|leader ?board|badge)\b",
}


def test_the_page_is_fresh() -> None:
    page = (DOCS / "reference" / "athlete-words.md").read_text(encoding="utf-8")
    assert MADE["page"]() == page, "run: .venv/bin/python docs/athlete_words.py"


def test_it_gathers_what_is_handed_out() -> None:
    found = MADE["everything"]()
    assert "A lighter week: the speed stays, the amount drops." in found["report/sheets/week_words.py"]
    assert any("go to a professional" in text for text in found["wording/cautions.py"])
    assert any("Stiff ankles" in text for text in found["training/data/warm_ups.toml"])
    assert len(found["training/data/exercises.toml"]) > 150


@pytest.mark.parametrize("what", BANNED)
def test_nothing_banned_is_said(what: str) -> None:
    said = [
        (name, text)
        for name, texts in MADE["everything"]().items()
        for text in texts
        if re.search(BANNED[what], text, re.IGNORECASE)
    ]
    assert said == []


@pytest.mark.parametrize(
    ("what", "text"),
    [
        ("blame", "You missed two sessions."),
        ("promises", "This will make you faster: it will improve your start."),
        ("risk", "You are at risk of an injury."),
        ("weight", "Lose weight to run faster."),
        ("statistics", "A significant change."),
        ("ranking", "Ranked third in the squad."),
    ],
)
def test_each_ban_is_alive(what: str, text: str) -> None:
    assert re.search(BANNED[what], text, re.IGNORECASE)
