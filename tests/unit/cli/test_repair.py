"""A clash's repairs by number: tried for the programme, said in words, and never written into the brief."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from shutil import copy
from typing import Any

import pytest

from house import ROOT

Ask = Callable[..., Any]


@pytest.fixture
def impossible(tmp_path: Path) -> Path:
    """The impossible example in a folder of its own."""
    for name in ("impossible.toml", "impossible_tests.csv"):
        copy(ROOT / "examples" / name, tmp_path)
    return tmp_path / "impossible.toml"


def test_the_cheapest_repair_is_tried_and_the_brief_stays(ask: Ask, impossible: Path) -> None:
    before, out = impossible.read_bytes(), impossible.with_name("made.json")
    answer = ask("plan", impossible, "--repair", 1, "-o", out)
    assert answer.code == 0
    assert "Repair 1 is tried: lengthen the slot of thu_lunch by 10 minutes." in answer.err
    assert impossible.read_bytes() == before
    slots = json.loads(out.read_text(encoding="utf-8"))["brief"]["content"]["slots"]
    assert next(slot["minutes"] for slot in slots if slot["ref"] == "thu_lunch") == 40


def test_the_made_programme_stands_alone(ask: Ask, impossible: Path) -> None:
    out = impossible.with_name("made.json")
    ask("plan", impossible, "--repair", 1, "-o", out)
    assert ask("check", out).code == 0


def test_repairs_are_listed_by_number(ask: Ask, impossible: Path) -> None:
    answer = ask("plan", impossible, "-o", impossible.with_name("made.json"))
    lines = answer.err.splitlines()
    assert lines[1] == "Nothing was written."
    assert lines[3].startswith("1. lengthen the slot of thu_lunch")
    assert lines[4].startswith("2. ")


def test_a_number_that_is_not_listed_is_unusable(ask: Ask, impossible: Path) -> None:
    out = impossible.with_name("made.json")
    answer = ask("plan", impossible, "--repair", 9, "-o", out)
    assert answer.code == 2
    assert answer.err.startswith("Expected --repair from 1 to ")
    assert not out.exists()


def test_a_clearance_is_never_given_by_the_program(ask: Ask, impossible: Path) -> None:
    text = impossible.read_text(encoding="utf-8")
    assert "cleared = true" in text
    impossible.write_text(text.replace("cleared = true", "cleared = false"), encoding="utf-8")
    out = impossible.with_name("made.json")
    answer = ask("plan", impossible, "--repair", 1, "-o", out)
    assert answer.code == 3
    assert "is not for a program to try" in answer.err
    assert not out.exists()


def test_a_brief_without_a_clash_has_nothing_to_repair(ask: Ask, tmp_path: Path) -> None:
    answer = ask("plan", ROOT / "examples" / "short_block.toml", "--repair", 1, "-o", tmp_path / "p.json")
    assert answer.code == 0
    assert "Nothing clashes" in answer.err
