"""A season in one script: test, plan, logs, reviews, three re-plans, retest (the living programme)."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from played_season import played
from speedloom.exchange.documents import read_log, read_programme
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme

SINCE = {3: date(2026, 2, 18), 4: date(2026, 2, 24), 5: date(2026, 3, 9)}


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return played(tmp_path_factory)


def revision(season: Path, number: int) -> Programme:
    return read_programme(season / f"season_{number}.json")


def raw_sessions(season: Path, number: int, *, before: date) -> list[dict[str, Any]]:
    """Give a revision's sessions before a day, read from the JSON alone."""
    content = json.loads((season / f"season_{number}.json").read_text(encoding="utf-8"))
    return [
        session
        for own in content["programmes"]
        for week in own["weeks"]
        for session in week["sessions"]
        if session["date"] < before.isoformat()
    ]


@pytest.mark.parametrize("number", SINCE)
def test_the_past_stands(season: Path, number: int) -> None:
    since = SINCE[number]
    assert raw_sessions(season, number, before=since) == raw_sessions(season, number - 1, before=since)
    assert revision(season, number).revision.number == number


@pytest.mark.parametrize("number", range(1, 6))
def test_no_revision_breaks_a_hard_rule(season: Path, number: int) -> None:
    findings = check_programme(
        revision(season, number), brief=None, rulebook=load_rulebook(), catalogue=load_catalogue()
    )
    assert findings.hard() == ()


def test_only_who_was_ill_is_changed_by_an_illness(season: Path) -> None:
    old, new = revision(season, 2), revision(season, 3)
    changed = [
        own.athlete
        for own, other in zip(old.programmes, new.programmes, strict=True)
        if [week.sessions for week in own.weeks] != [week.sessions for week in other.weeks]
    ]
    assert changed == ["ines"]


def test_a_limit_is_kept_while_it_holds(season: Path) -> None:
    amina = next(own for own in revision(season, 4).programmes if own.athlete == "amina")
    limited = [
        line
        for week in amina.weeks
        for session in week.sessions
        if date(2026, 2, 24) <= session.date <= date(2026, 3, 8)
        for line in session.prescriptions
    ]
    assert limited
    assert all(line.effort is not None and line.effort <= 0.8 for line in limited if line.run is not None)
    assert not any(line.contacts for line in limited)


def test_the_log_of_five_revisions_is_one_log(season: Path) -> None:
    log = read_log(season / "log_week_12.json")
    assert {entry.revision for entry in log.entries} == {1, 2, 3, 4, 5}
    assert len({entry.id for entry in log.entries}) == len(log.entries)


def test_the_retest_tells_no_cause_and_no_promise(season: Path) -> None:
    story = (season / "story.md").read_text(encoding="utf-8")
    retest = story.rpartition("speedloom retest")[2]
    assert "%" in retest
    assert not any(
        word in retest.lower() for word in ("because of the programme", "guarantee", "will be faster")
    )
    assert (season / "retest_athlete.pdf").read_bytes().startswith(b"%PDF")
    assert (season / "retest_colleagues.pdf").read_bytes().startswith(b"%PDF")
