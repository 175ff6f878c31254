"""People who are not the usual athlete: masters, one arm or leg, late, mixed levels, no clinician."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise

import pytest

from golden.missing import FIVE_WEEKS, plan, runs, work
from invented_briefs import CATALOGUE, Data, athlete, brief, sessions
from speedloom.training.programme import Programme
from speedloom.training.words import METHODS
from speedloom.wording.calendar_entries import entry_text
from speedloom.wording.cautions import MASTERS, NO_CLINICIAN, is_master
from speedloom.wording.names import athletes_of
from speedloom.wording.unmet import unmet_lines

JANUARY = date(2026, 1, 12)


def limited(*limits: Data, **more: object) -> Data:
    """Make a brief whose athlete is limited throughout."""
    held = {
        "ref": "arm",
        "limits": list(limits),
        "from": "2026-01-12",
        "set_by": "physio",
        "set_as": "clinician",
    }
    return brief(athlete(restrictions=[held], **more), end=FIVE_WEEKS)


def calendar(programme: Programme) -> str:
    """Give what the calendar says of the first session."""
    return entry_text(sessions(programme)[0], catalogue=CATALOGUE, person=athletes_of(programme)["ada"])


# ------------------------------------------------------------------ masters


@pytest.mark.parametrize(("born", "master"), [("1991-01-12", True), ("1991-01-13", False), (None, False)])
def test_masters_are_those_known_to_be_35(born: str | None, *, master: bool) -> None:
    programme = plan(brief(athlete(born=born), end=FIVE_WEEKS))
    assert is_master(athletes_of(programme)["ada"], on=JANUARY) is master
    assert (MASTERS in calendar(programme)) is master


def hours_between_fast_days(**more: object) -> list[float]:
    """Give the hours between days with runs at 90 % and faster, trained on Monday and Wednesday."""
    data = brief(athlete(born="1970-05-05"), end=FIVE_WEEKS, **more)
    data["slots"][2]["day"] = "wednesday"
    starts = [
        datetime.combine(session.date, session.start)
        for session in sessions(plan(data))
        if any(line.expect and (line.expect.share_vmax or 0) >= 0.9 for line in session.prescriptions)
    ]
    return [(later - sooner).total_seconds() / 3600 for sooner, later in pairwise(starts)]


def test_a_coach_gives_masters_longer_gaps_and_the_plan_keeps_them() -> None:
    longer = [{"rule": "sprint_gap", "number": "gap_h", "value": 96, "reason": "Masters need longer"}]
    assert min(hours_between_fast_days()) < 96
    assert min(hours_between_fast_days(rules=longer)) >= 96


# ------------------------------------------------------------------ one arm, one leg


def test_one_arm_that_must_not_push_does_not_push_on_either_side() -> None:
    programme = plan(limited({"what": "sets", "at_most": 0, "tag": "push", "side": "left"}))
    tags = {tag for line in work(programme) for tag in (CATALOGUE.get(line.exercise).tags or ())}
    assert "push" not in tags
    assert work(programme, method="general_strength")
    assert runs(programme)


def test_one_leg_that_must_not_hop_leaves_two_legged_jumps() -> None:
    programme = plan(limited({"what": "contacts", "at_most": 0, "tag": "hop", "side": "right"}))
    jumps = work(programme, method="plyometric")
    assert jumps
    assert all("hop" not in CATALOGUE.get(line.exercise).tags for line in jumps)


def test_one_leg_that_must_not_sprint_takes_the_runs_away_and_says_so() -> None:
    limit = {"what": "share_vmax", "at_most": 0, "method": "unloaded_sprint", "side": "left"}
    programme = plan(limited(limit))
    assert runs(programme) == []
    text = "\n".join(unmet_lines(programme))
    assert "unloaded sprint" in text
    assert "the limits in force" in text


# ------------------------------------------------------------------ levels that differ


def test_advanced_in_one_method_and_novice_in_another_is_each_in_its_own() -> None:
    levels = dict.fromkeys(METHODS, "advanced") | {"maximal_strength": "novice", "power": "novice"}
    mixed = plan(brief(athlete(level="advanced") | {"level": levels}, end=FIVE_WEEKS))
    advanced, novice = (plan(brief(athlete(level=level), end=FIVE_WEEKS)) for level in ("advanced", "novice"))
    assert [line.distance_m for line in runs(mixed)] == [line.distance_m for line in runs(advanced)]
    assert all(line.load_kg is None for line in work(mixed, method="maximal_strength"))
    assert [line.reps for line in work(mixed, method="maximal_strength")] == [
        line.reps for line in work(novice, method="maximal_strength")
    ]


# ------------------------------------------------------------------ late, and away


def test_who_joins_three_weeks_late_begins_gently_and_nobody_waits() -> None:
    away = [{"date": "2026-01-12", "until": "2026-02-01"}]
    data = brief(athlete("ada"), athlete("ben", away=away), end="2026-03-08")
    programme = plan(data)
    first = sessions(programme, "ben")[0]
    assert first.date == date(2026, 2, 2)
    efforts = [line.effort for line in first.prescriptions if line.run in {"acceleration", "top_speed"}]
    assert efforts
    assert all(effort is not None and effort <= 0.9 for effort in efforts)
    alone = plan(brief(athlete("ada"), end="2026-03-08"))
    assert [one.date for one in sessions(programme, "ada")] == [one.date for one in sessions(alone)]


# ------------------------------------------------------------------ no clinician


def test_who_trains_without_a_clinician_is_told_that_a_return_needs_a_clearance() -> None:
    from speedloom.report.sheets.restrictions import clinician_named

    assert not clinician_named(plan(brief(end=FIVE_WEEKS)))
    assert clinician_named(plan(limited({"what": "contacts", "at_most": 40})))
    assert "written clearance" in NO_CLINICIAN
