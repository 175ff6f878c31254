"""Days and times of day on a page are the squad's own: one clock for a stop, its conflict and "today"."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from django.utils import timezone

from field_entries import client, entry, here, run, sent
from invented_squads import Squads
from speedloom.store.briefs import brief, save_brief

LATE = datetime(2026, 1, 20, 4, 58, tzinfo=UTC)
"""Tuesday in Europe, and still Monday evening in Los Angeles."""


@pytest.fixture
def far_west(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> Squads:
    """Move the squad to Los Angeles, nine hours behind its old clock."""
    owner = squads.by_role["owner"]
    was = brief(owner, squads.ours)
    moved = was.brief.model_copy(update={"timezone": "America/Los_Angeles"})
    save_brief(owner, squads.ours, moved, after=was.number)
    monkeypatch.setattr(timezone, "now", lambda: LATE)
    return squads


def test_a_stop_and_the_day_are_told_by_the_squads_clock(far_west: Squads) -> None:
    who = far_west.by_role["assistant"]
    sent(client(who), far_west, [entry(1, who, at=LATE.isoformat(), status="stopped", reason="pain")])
    coach = client(far_west.by_role["coach"])
    page = re.sub(r"\s+", " ", coach.get("/").content.decode())
    assert "Monday 19 January" in page
    assert "Mon 19 Jan, 20:58" in page
    assert "04:58" not in page
    kept = re.sub(r"\s+", " ", client(far_west.keeper).get(f"/squads/{far_west.ours}/data/").content.decode())
    assert "19 Jan 2026 20:58" in kept


def test_two_values_of_one_minute_are_told_by_the_same_clock(squads: Squads) -> None:
    who, other = squads.by_role["assistant"], squads.by_role["coach"]
    for number, each in ((1, who), (2, other)):
        sent(client(each), squads, [entry(number, each, results=[run(1, 3.4 + number / 10)])])
    page = client(other).get(here(squads)).content.decode()
    assert page.count("18:30:00") >= 2, "written at 18:30 in Amsterdam, where the programme's squad is"
