"""The served demo lies in week 7 of its programme on any day, with an invented life behind it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from living_squad import TODAY, demo_brief, demo_on, living
from speedloom.cli._demo_life import life
from speedloom.cli._demo_luck import HURT
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.log_questions import questions
from speedloom.workflows.missed_days import missed_days
from speedloom.workflows.retest import retest
from speedloom.workflows.standing_log import standing_log

DAYS = (date(2026, 1, 5), TODAY, date(2027, 2, 28), date(2028, 2, 29), date(2031, 12, 31))


@pytest.mark.parametrize("today", DAYS)
def test_today_lies_in_week_seven_and_everybody_is_as_old_as_written(today: date) -> None:
    brief, measurements = demo_on(today)
    written, tests = demo_brief()
    assert brief.start.weekday() == written.start.weekday() == 0
    assert 42 <= (today - brief.start).days < 49
    ages = [one.age_years(brief.start) for one in brief.athletes]
    assert ages == [one.age_years(written.start) for one in written.athletes]
    by = brief.start - written.start
    assert [one.date for one in measurements.trials] == [one.date + by for one in tests.trials]
    assert [one.date for one in brief.events] == [one.date + by for one in written.events]


def test_the_moved_programme_has_no_hard_finding() -> None:
    squad = living()
    found = check_programme(squad.programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())
    assert list(found.hard()) == []


def test_the_life_is_the_same_each_time_and_ends_yesterday() -> None:
    squad = living()
    again = life(squad.programme, squad.measurements, today=TODAY)
    assert canonical(again.log) == canonical(squad.life.log)
    assert again == squad.life
    days = [entry.date for entry in squad.life.log.entries]
    assert min(days) == squad.brief.start
    assert max(days) == TODAY - timedelta(days=1)
    assert len({entry.id for entry in squad.life.log.entries}) == len(days)
    on_a_later_day = life(squad.programme, squad.measurements, today=TODAY + timedelta(days=2))
    assert on_a_later_day.log.entries[: len(days)] == squad.life.log.entries


def test_the_story_has_what_the_pages_show() -> None:
    squad = living()
    standing = standing_log(squad.life.log, squad.programme)
    lost = missed_days(standing, until=TODAY)
    rain = {day for days in lost.values() for day in days}
    assert {len(days) for days in lost.values()} >= {1, 4}, "somebody missed a week, and everybody the rain"
    assert rain
    statuses = {(entry.status, entry.reason) for entry in squad.life.log.entries}
    assert {
        ("stopped", "pain"),
        ("absent", "illness"),
        ("skipped", "weather"),
        ("modified", "other"),
    } <= statuses
    assert questions(standing, rulebook=load_rulebook()) == ()
    assert squad.life.restriction.ref.startswith(HURT)
    assert squad.life.restriction.holds(TODAY)
    assert {one.date for one in squad.life.test.trials} == {squad.brief.start + timedelta(days=39)}
    assert all("invented" in entry.by or entry.by == entry.athlete for entry in squad.life.log.entries)


def test_some_got_faster_and_not_everybody_did() -> None:
    squad = living()
    both = squad.measurements.model_copy(
        update={"trials": (*squad.measurements.trials, *squad.life.test.trials), "lifts": ()}
    )
    people = {one.ref: one for one in squad.brief.athletes}
    found = retest(both, trial_rule="best", rulebook=load_rulebook(), people=people)
    said = {
        change.verdict for panel in found.panels if panel.measure.distance_m == 30 for change in panel.changes
    }
    assert {"better", "unclear"} <= said


def test_nobody_says_how_hard_a_session_was_in_which_nothing_was_done() -> None:
    """Fenna is spared after her hamstring pulled: an evening of runs only is one she was not trained on."""
    entries = living().life.log.entries
    worked = {one.session for one in entries if one.line is not None and one.status != "skipped"}
    assert {one.session for one in entries if one.effort is not None} <= worked
    spared = [one for one in entries if one.athlete == HURT and one.line is None and one.reason == "pain"]
    assert {one.status for one in spared} >= {"stopped", "skipped"}
    assert all(one.effort is None for one in spared if one.status == "skipped")
