"""Planned beside done: what counts, what is left open, who differed, and how days make loads."""

from __future__ import annotations

import json
from datetime import date
from math import log
from typing import Any

import pytest

from log_entries import entry, key, log_of, result
from small_programme import document
from speedloom.errors import LogError, ReviewError
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.workflows.review_days import last_day_over
from speedloom.workflows.review_week import review
from speedloom.workflows.reviewed import AthleteWeek, Review

FIELD, GYM = {"session": "mila-200"}, {"session": "mila-250", "date": "2026-01-21"}
SQUAT = {**GYM, "line": "mila-252", "exercise": "back_squat"}
SLED = {**FIELD, "line": "mila-203", "exercise": "sled_sprint"}


def programme(**changes: Any) -> Programme:  # noqa: ANN401 — fields of a line
    """Give the small programme, the run of week 2 changed."""
    plain = document()
    week = plain["programmes"][0]["weeks"][1]
    week["sessions"][0]["prescriptions"][1] |= changes
    plain["programmes"][0]["retired"] = ["mila-290"]
    return Programme.model_validate_json(json.dumps(plain))


def reviewed(*entries: dict[str, Any], week: int | None = 2, plan: Programme | None = None) -> Review:
    return review(
        plan or programme(),
        log_of(*entries),
        week=week,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )


def own(*entries: dict[str, Any], plan: Programme | None = None) -> AthleteWeek:
    """Review week 2 of the only athlete."""
    return reviewed(*entries, plan=plan).weeks[0].athletes[0]


def test_what_was_planned() -> None:
    """Counted by hand from tests/small_programme.py: 6 × 10 m, 4 × 10 m sled, 20 contacts, 9 lifting sets."""
    planned = own().amounts.planned
    assert (planned.sprint_m, planned.resisted_m) == (60.0, 40.0)
    assert planned.contacts == {"long": 20, "loaded": 15}
    assert {name: (lift.sets, lift.hard_sets, lift.tonnage_kg) for name, lift in planned.lifts.items()} == {
        "jump_squat": (3, 0, 450.0),
        "back_squat": (3, 3, 1740.0),
        "split_squat": (3, 3, None),
    }
    assert planned.minutes == 110.0
    assert planned.volumes["acceleration"] == 60.0


def test_metres_near_top_speed_of_planned_and_done_runs() -> None:
    """v/vmax = 1 − e^(−g), x/L = g + e^(−g) − 1 (Furusawa 1927, read): 90 % at L(ln 10 − 0.9)."""
    length = 8.4  # rulebook, assumed_body.length_unknown_m: no test in this programme
    from_90, from_95 = 40.0 - length * (log(10) - 0.9), 40.0 - length * (log(20) - 0.95)
    plan = programme(run="top_speed", exercise="top_speed_run", reps=3, distance_m=20.0, run_in_m=20.0)
    runs = [result(set=1, rep=rep, distance_m=20.0) for rep in (1, 2)]
    week = own(entry(1, **FIELD, line="mila-202", status="modified", results=runs), plan=plan)
    assert week.measured is False
    planned, done = week.amounts.planned, week.amounts.done
    assert (planned.sprint_m, done.sprint_m) == (120.0, 80.0)
    assert planned.from_90_m == pytest.approx(3 * from_90)
    assert done.from_90_m == pytest.approx(2 * from_90)
    assert done.from_95_m == pytest.approx(2 * from_95)


def test_nothing_written_is_neither_done_nor_missed() -> None:
    week = own()
    assert week.amounts.unwritten == week.amounts.planned
    assert week.amounts.done.sprint_m == 0.0
    assert (week.sessions.planned, week.sessions.nothing_written, week.sessions.not_done) == (2, 2, 0)
    assert [one.kind for one in week.differences] == ["nothing_written", "nothing_written"]
    assert (week.load.total, week.load.state, week.load.is_least) == (0.0, "incomplete", True)


def test_absent_is_known_to_be_nothing_with_its_reason() -> None:
    week = own(
        entry(1, **FIELD, status="absent", reason="illness"), entry(2, **GYM, status="skipped", reason="kit")
    )
    assert week.amounts.unwritten.sprint_m == 0.0
    assert week.sessions.not_done == 2
    assert [(one.kind, one.reason) for one in week.differences] == [
        ("not_done", "illness"),
        ("not_done", "kit"),
    ]
    # Every day is known to be 0: no spread, so no monotony, and nothing is missing.
    assert (week.load.state, week.load.is_least, week.load.count.trained) == ("undefined", False, 0)


def test_done_as_a_whole_counts_as_written_with_the_planned_minutes_and_says_so() -> None:
    week = own(entry(1, **FIELD, effort=6.0), entry(2, **GYM, effort=5.0, minutes=40.0))
    assert week.amounts.done.sprint_m == 60.0
    assert week.amounts.done.minutes == 60.0 + 40.0
    assert (week.sessions.done, week.sessions.as_written) == (2, 2)
    assert week.load.days == (360.0, 0.0, 200.0, 0.0, 0.0, 0.0, 0.0)
    assert (week.load.count.minutes_from_plan, week.load.state) == (1, "known")
    assert week.differences == ()


def test_lines_that_nobody_wrote_of_stay_open_once_others_are_written() -> None:
    sled = [result(set=1, rep=rep, load_kg=37.5, distance_m=10.0, time_s=3.4) for rep in (1, 2, 3)]
    week = own(entry(1, **FIELD, effort=6.0, minutes=58.0), entry(2, **SLED, status="modified", results=sled))
    assert (week.amounts.done.resisted_m, week.amounts.unwritten.sprint_m) == (30.0, 60.0)
    assert week.sessions.partly == 1
    lines = week.differences[0].lines
    assert [(one.exercise, one.change) for one in lines] == [
        ("acceleration_run", "nothing_written"),
        ("sled_sprint", "amount"),
        ("broad_jump_stick", "nothing_written"),
    ]
    assert (lines[1].done, lines[1].planned, lines[1].unit) == (3, 4, "runs")


def test_tonnage_is_what_was_lifted_and_a_set_typed_rep_by_rep_is_one_set() -> None:
    heavy = [result(set=number, load_kg=75.0, reps=8) for number in (1, 2)]
    singles = [result(set=3, rep=rep, load_kg=75.0) for rep in (1, 2, 3)]
    week = own(entry(1, **SQUAT, results=[*heavy, *singles]))
    lift = week.amounts.done.lifts["back_squat"]
    assert (lift.sets, lift.hard_sets, lift.tonnage_kg) == (3, 3, 75.0 * 19)
    change = next(one for one in week.differences[1].lines if one.exercise == "back_squat")
    assert (change.change, change.done, change.planned) == ("load", 75.0, 72.5)


@pytest.mark.parametrize("one_by_one", [False, True])
def test_gates_of_one_run_are_one_run(*, one_by_one: bool) -> None:
    gates = [result(set=1, rep=1, distance_m=at, time_s=time) for at, time in ((10.0, 1.9), (5.0, 1.2))]
    whole = [result(set=1, rep=rep, distance_m=10.0, time_s=1.9) for rep in (2, 3)]
    parts = [[one] for one in gates] if one_by_one else [gates]
    run = {**FIELD, "line": "mila-202", "exercise": "acceleration_run"}
    rows = [entry(number, **run, results=part) for number, part in enumerate([*parts, whole], start=1)]
    week = own(*rows)
    assert week.amounts.done.sprint_m == 30.0
    change = next(
        one
        for line in week.differences
        for one in line.lines
        if (one.exercise, one.change) == ("acceleration_run", "amount")
    )
    assert (change.done, change.planned) == (3, 6)


def test_plates_that_were_nearly_those_planned_are_no_difference() -> None:
    sets = [result(set=number, load_kg=73.0, reps=8) for number in (1, 2, 3)]
    week = own(entry(1, **SQUAT, results=sets), entry(2, **GYM))
    assert "back_squat" not in [line.exercise for one in week.differences for line in one.lines]


def test_how_near_the_plates_must_be_is_a_number_of_the_book() -> None:
    sets = [result(set=number, load_kg=73.0, reps=8) for number in (1, 2, 3)]
    change = RuleChange(rule="review", number="same_load", value=0.005, reason="Small plates here")
    strict = review(
        programme(),
        log_of(entry(1, **SQUAT, results=sets), entry(2, **GYM)),
        week=2,
        rulebook=load_rulebook().with_changes((change,)),
        catalogue=load_catalogue(),
    )
    differences = strict.weeks[0].athletes[0].differences
    assert "back_squat" in [line.exercise for one in differences for line in one.lines]


def test_each_side_counts_twice_and_contacts_as_somebody_counted_them() -> None:
    split = [result(set=1, load_kg=20.0, reps=8)]
    jumps = [result(set=1, reps=5, contacts=7), result(set=2, reps=5)]
    week = own(
        entry(1, **GYM, line="mila-253", exercise="split_squat", results=split),
        entry(2, **FIELD, line="mila-204", exercise="broad_jump_stick", results=jumps),
    )
    assert week.amounts.done.lifts["split_squat"].tonnage_kg == 2 * 8 * 20.0
    assert week.amounts.done.contacts == {"long": 12}


def test_unusual_results_are_asked_about_and_in_no_sum() -> None:
    """Bad input gets a question, keeps the value, and lets it change no estimate."""
    sets = [result(set=1, load_kg=72.5, reps=8), result(set=2, load_kg=400.0, reps=8, mark="unusual")]
    week = own(entry(1, **SQUAT, results=sets))
    assert week.amounts.done.lifts["back_squat"].tonnage_kg == 580.0
    assert week.amounts.unwritten.lifts["back_squat"].sets == 1
    assert [(one.exercise, one.set, one.load_kg) for one in week.questions] == [("back_squat", 2, 400.0)]
    squat = [one for one in week.differences[1].lines if one.exercise == "back_squat"]
    assert [(one.change, one.done, one.planned) for one in squat] == [("amount", 2, 3)]


def test_minutes_beyond_a_day_of_sport_are_asked_about_and_make_no_load() -> None:
    week = own(entry(1, **FIELD, effort=6.0, minutes=3600.0), entry(2, **GYM, status="absent"))
    assert (week.load.total, week.load.count.without_effort) == (0.0, 1)
    assert [one.minutes for one in week.questions] == [3600.0]


def test_a_correction_replaces_and_the_same_entry_twice_counts_once() -> None:
    first = entry(1, **FIELD, effort=9.0, minutes=60.0)
    later = entry(2, **FIELD, effort=5.0, minutes=60.0, replaces=key(1), at="2026-01-19T21:00:00+01:00")
    week = own(first, first, later, entry(3, **GYM, status="absent"))
    assert (week.load.total, week.load.count.trained) == (300.0, 1)


def test_what_two_people_wrote_of_one_session_is_one_session() -> None:
    coach = entry(1, **FIELD, minutes=60.0)
    athlete = entry(2, **FIELD, by="mila", effort=7.0, minutes=62.0, at="2026-01-19T20:30:00+01:00")
    assert own(coach, athlete).load.days[0] == 7.0 * 62.0


def test_two_sessions_of_a_day_are_summed_and_an_extra_counts() -> None:
    extra = entry(2, session=None, status="extra", date="2026-01-19", effort=3.0, minutes=30.0)
    week = own(entry(1, **FIELD, effort=6.0, minutes=60.0), extra, entry(3, **GYM, status="absent"))
    assert week.load.days[0] == 360.0 + 90.0
    assert week.load.count.trained == 2
    assert [one.kind for one in week.differences] == ["extra", "not_done"]


def test_extra_work_is_counted_by_the_catalogue() -> None:
    runs = [result(set=1, rep=rep, distance_m=30.0) for rep in (1, 2)]
    extra = entry(1, session=None, status="extra", exercise="acceleration_run", results=runs)
    sled = entry(
        2,
        session=None,
        status="extra",
        exercise="sled_sprint",
        results=[result(set=1, rep=1, distance_m=15.0)],
    )
    done = own(extra, sled).amounts.done
    assert (done.sprint_m, done.resisted_m) == (60.0, 15.0)
    assert done.from_90_m == pytest.approx(2 * (30.0 - 8.4 * (log(10) - 0.9)))


def test_a_retired_line_counts_in_what_was_done_and_is_shown_as_not_in_the_programme_now() -> None:
    sets = [result(set=1, load_kg=60.0, reps=5)]
    week = own(entry(1, **FIELD, line="mila-290", exercise="trap_bar_deadlift", results=sets))
    assert week.amounts.done.lifts["trap_bar_deadlift"].tonnage_kg == 300.0
    assert ("not_in_programme", "trap_bar_deadlift") in [(one.kind, one.exercise) for one in week.differences]


def test_a_session_done_on_another_day_stands_there_in_the_loads() -> None:
    week = own(
        entry(1, session="mila-200", date="2026-01-20", effort=6.0, minutes=60.0),
        entry(2, **GYM, status="absent"),
    )
    assert week.load.days[:2] == (0.0, 360.0)
    assert (week.differences[0].kind, week.differences[0].planned_date) == ("other_day", date(2026, 1, 19))


def test_stopped_for_pain_keeps_what_was_done() -> None:
    sled = [result(set=1, rep=1, load_kg=37.5, distance_m=10.0, time_s=3.5)]
    week = own(
        entry(1, **FIELD, status="stopped", reason="pain", effort=4.0, minutes=25.0),
        entry(2, **SLED, status="stopped", reason="pain", results=sled),
    )
    assert (week.differences[0].kind, week.differences[0].reason) == ("stopped", "pain")
    assert (week.amounts.done.resisted_m, week.load.days[0]) == (10.0, 100.0)


def test_no_effort_is_said_and_leaves_monotony_unknown() -> None:
    week = own(entry(1, **FIELD, minutes=60.0), entry(2, **GYM, effort=5.0, minutes=50.0))
    assert (week.load.total, week.load.count.without_effort, week.load.is_least) == (250.0, 1, True)
    assert (week.load.state, week.load.monotony, week.load.strain) == ("incomplete", None, None)


def test_days_to_come_are_neither_planned_yet_nor_missed() -> None:
    found = review(
        programme(),
        log_of(entry(1, **FIELD, effort=6.0, minutes=60.0)),
        week=2,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
        until=date(2026, 1, 20),
    )
    week = found.weeks[0].athletes[0]
    assert (week.sessions.to_come, week.sessions.nothing_written) == (1, 0)
    assert (week.amounts.planned.lifts, week.load.state) == ({}, "not_over")
    assert found.until == date(2026, 1, 20)


def test_what_one_wrote_early_is_missing_for_nobody_else() -> None:
    """Mila's session of Wednesday is written on Monday: Noa's is still to come."""
    plain = document()
    plain["programmes"].append(json.loads(json.dumps(plain["programmes"][0]).replace("mila", "noa")))
    squad = Programme.model_validate_json(json.dumps(plain))
    today = date(2026, 1, 19)
    found = review(
        squad,
        log_of(entry(1, **GYM, effort=6.0, minutes=60.0)),
        week=None,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
        until=last_day_over(squad, today=today),
    )
    mila, noa = found.weeks[-1].athletes
    assert found.until == today
    assert (mila.sessions.to_come, mila.sessions.nothing_written) == (0, 1), "written early is done early"
    assert (noa.sessions.to_come, noa.sessions.nothing_written) == (1, 1)
    assert last_day_over(squad, today=date(2026, 12, 1)) is None, "after the end the log says how far"


def test_all_weeks_so_far_end_with_the_week_of_the_last_entry() -> None:
    found = reviewed(entry(1, **FIELD, effort=6.0, minutes=60.0), week=None)
    assert [week.number for week in found.weeks] == [1, 2]
    assert found.until == date(2026, 1, 25)
    lines = found.lines[0]
    assert (lines.first, len(lines.loads)) == (date(2026, 1, 12), 14)
    # Both sessions of week 1 and Wednesday's of week 2 are days without a load written.
    assert lines.missing == (0, 2, 9)
    assert lines.on(date(2026, 1, 19)) == (lines.short[7], lines.long[7])
    assert found.done_volumes("mila")["acceleration"] == (None, 60.0)


def test_one_athlete_alone_and_plain_json() -> None:
    found = reviewed(entry(1, **FIELD, effort=6.0, minutes=60.0))
    assert found.of_athlete("nobody").weeks == ()
    told = json.loads(json.dumps(found.of_athlete("mila").to_json(), allow_nan=False))
    week = told["weeks"][0]["athletes"][0]
    assert week["amounts"]["done"]["sprint_m"] == 60.0
    assert week["load"]["total"] == 360.0
    assert told["weeks"][0]["squad"]["planned"]["hard_sets"] == 6


def test_another_programme_and_a_week_that_is_not_there() -> None:
    with pytest.raises(ReviewError, match="a week from 1 to 4, got 9"):
        reviewed(week=9)
    with pytest.raises(LogError, match="about programme 4f1c2a90b7de"):
        review(
            programme(),
            log_of(programme="000000000000"),
            week=1,
            rulebook=load_rulebook(),
            catalogue=load_catalogue(),
        )
