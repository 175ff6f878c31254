"""Planning again from the command line: said first, written when accepted, the same bytes without news."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from shutil import copy
from typing import Any

import pytest

from house import ROOT

Ask = Callable[..., Any]
MISSED = ("2026-09-14", "2026-09-16", "2026-09-17", "2026-09-21")
SINCE = "2026-09-23"


@pytest.fixture
def brief(tmp_path: Path) -> Path:
    """The brief of the planned example in a folder of its own."""
    for name in ("short_block.toml", "short_block_tests.csv"):
        copy(ROOT / "examples" / name, tmp_path)
    return tmp_path / "short_block.toml"


@pytest.fixture
def log(planned: Path, tmp_path: Path) -> Path:
    """A log that says of four sessions that they were missed."""
    document = json.loads(planned.read_text(encoding="utf-8"))
    sessions = [s for own in document["programmes"] for week in own["weeks"] for s in week["sessions"]]
    entries = [
        {
            "id": f"0190b7c2-7e1a-7c3e-9b1f-2f6f6a1d2c{number:02d}",
            "at": f"{session['date']}T20:00:00+02:00",
            "by": "coach",
            "revision": 1,
            "athlete": "tereza",
            "session": session["ref"],
            "line": None,
            "date": session["date"],
            "exercise": None,
            "replaces": None,
            "status": "absent",
            "reason": "illness",
            "timing": None,
            "clock": None,
            "behind_m": None,
            "surface": None,
            "results": [],
            "effort": None,
            "minutes": None,
            "note": "",
        }
        for number, session in enumerate(one for one in sessions if one["date"] in MISSED)
    ]
    path = tmp_path / "log.json"
    whole = {"schema": "speedloom.log/1", "programme": document["id"], "timezone": "Europe/Prague"}
    path.write_text(
        json.dumps(whole | {"timezone": document["timezone"], "entries": entries}), encoding="utf-8"
    )
    return path


def test_no_news_writes_the_very_bytes(ask: Ask, planned: Path, brief: Path, tmp_path: Path) -> None:
    # A file that was laid out by another program holds the same programme: it is not laid out anew.
    laid_out = tmp_path / "laid_out.json"
    laid_out.write_text(
        json.dumps(json.loads(planned.read_text(encoding="utf-8")), indent=1), encoding="utf-8"
    )
    new = tmp_path / "new.json"
    answer = ask("replan", laid_out, "--from", SINCE, "--brief", brief, "-o", new)
    assert answer.code == 0
    assert answer.out == "Nothing changed: there is no news. Revision 1 stays as it is.\n"
    assert new.read_bytes() == laid_out.read_bytes()


def test_missed_days_are_said_first_and_written_when_accepted(
    ask: Ask, planned: Path, log: Path, tmp_path: Path
) -> None:
    said = ask("replan", planned, "--from", SINCE, "--log", log)
    assert said.code == 0
    assert said.out.startswith("Revision 2: everything until Tue 22 Sep stands as it is.\n")
    assert "no training Mon 14, Wed 16, Thu 17 and Mon 21 Sep." in said.out
    assert said.out.endswith("Nothing is stacked: what was missed on these days stays missed.\n")
    assert said.err.endswith("Nothing was written; to accept it, give -o.\n")
    new = tmp_path / "new.json"
    written = ask("replan", planned, "--from", SINCE, "--log", log, "--reason", "Ill", "-o", new)
    assert (written.code, written.out) == (0, said.out)
    revision = json.loads(new.read_text(encoding="utf-8"))["revision"]
    assert (revision["number"], revision["reason"], revision["frozen_until"]) == (2, "Ill", "2026-09-22")
    again = ask("replan", new, "--from", "2026-09-30", "--log", log)
    assert again.out == "Nothing changed: there is no news. Revision 2 stays as it is.\n"


def test_a_brief_read_again_does_not_forget_lost_days(
    ask: Ask, planned: Path, log: Path, brief: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new.json"
    ask("replan", planned, "--from", SINCE, "--log", log, "-o", new)
    again = ask("replan", new, "--from", "2026-09-30", "--brief", brief)
    assert again.out == "Nothing changed: there is no news. Revision 2 stays as it is.\n"


def test_a_brief_with_news_and_one_json_value(ask: Ask, planned: Path, brief: Path) -> None:
    text = brief.read_text(encoding="utf-8")
    assert 'date = 2026-10-17, size = "minor"' in text
    brief.write_text(text.replace("date = 2026-10-17, size", "date = 2026-10-10, size"), encoding="utf-8")
    answer = ask("replan", planned, "--from", SINCE, "--brief", brief, "--json")
    value = json.loads(answer.out)
    assert value["changed"] is True
    assert value["revision"]["cause"] == "replan"
    assert value["said"][1] == "New: minor peak from Sat 17 Oct to Sat 10 Oct."
    assert value["differences"]["lines"]
    assert {finding["weight"] for finding in value["findings"]} <= {"warning", "advice"}


def test_a_clash_is_said_and_nothing_written(ask: Ask, planned: Path, brief: Path, tmp_path: Path) -> None:
    text = brief.read_text(encoding="utf-8")
    brief.write_text(text.replace("minutes = 75", "minutes = 20"), encoding="utf-8")
    assert brief.read_text(encoding="utf-8") != text
    new = tmp_path / "new.json"
    answer = ask("replan", planned, "--from", SINCE, "--brief", brief, "-o", new)
    assert answer.code == 3
    assert "needs at least" in answer.err
    assert "Nothing was written." in answer.err
    assert "1. " in answer.err
    assert not new.exists()


def test_days_that_are_frozen_are_refused_in_words(
    ask: Ask, planned: Path, log: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new.json"
    ask("replan", planned, "--from", SINCE, "--log", log, "-o", new)
    answer = ask("replan", new, "--from", "2026-09-20")
    assert answer.code == 2
    assert answer.err.startswith("Expected a first day after 2026-09-22, which is frozen, got 2026-09-20")
