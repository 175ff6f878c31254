"""What was done between two tests is a plain count of what the log says."""

from __future__ import annotations

from datetime import date

from log_entries import entry, log_of, result
from small_programme import small_programme
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.workflows.done_between import DoneBetween, done_by_athlete
from speedloom.workflows.review_week import review
from speedloom.workflows.standing_log import standing_log

FIRST, LAST = date(2026, 1, 8), date(2026, 2, 10)
RULEBOOK, CATALOGUE = load_rulebook(), load_catalogue()
SLED = {"line": "mila-203", "exercise": "sled_sprint"}


def counted(*entries: dict[str, object], first: date = FIRST, last: date = LAST) -> DoneBetween:
    standing = standing_log(log_of(*entries), small_programme())
    return done_by_athlete(standing, [("mila", first, last)], rulebook=RULEBOOK, catalogue=CATALOGUE)["mila"]


def test_nothing_logged_is_nothing_done() -> None:
    assert counted() == DoneBetween(sessions=0, planned=8, extras=0, metres=0, sets=0)


def test_a_session_done_as_written_counts_its_lines() -> None:
    # Monday of week 2: six runs and four sled runs of 10 m; Wednesday: 3 jump squats, squats, split squats.
    monday = counted(entry(1))
    assert monday == DoneBetween(sessions=1, planned=8, extras=0, metres=100.0, sets=0)
    wednesday = counted(entry(1, session="mila-250", date="2026-01-21"))
    assert (wednesday.sessions, wednesday.sets) == (1, 9)


def test_results_count_as_they_were_and_unusual_ones_do_not() -> None:
    runs = [result(rep=rep, load_kg=37.5, distance_m=10.0, time_s=3.1) for rep in (1, 2, 3)]
    odd = result(rep=4, load_kg=37.5, distance_m=10.0, time_s=0.3, mark="unusual")
    done = counted(entry(1, **SLED, results=[*runs, odd]), entry(2, minutes=60))
    assert (done.sessions, done.metres, done.sets) == (1, 30.0, 0)
    lifts = [result(set=number, load_kg=72.5, reps=8) for number in (1, 2)]
    squat = {"session": "mila-250", "line": "mila-252", "exercise": "back_squat", "date": "2026-01-21"}
    assert counted(entry(1, **squat, results=lifts)).sets == 2


def test_absent_days_test_days_and_days_outside_are_not_done() -> None:
    assert counted(entry(1, status="absent")).sessions == 0
    assert counted(entry(1), first=date(2026, 1, 19)).sessions == 0
    outside = counted(entry(1), last=date(2026, 1, 19))
    assert (outside.sessions, outside.planned) == (0, 2)


def test_extra_training_is_counted_by_day() -> None:
    extra = {"session": None, "status": "extra", "exercise": "back_squat", "date": "2026-01-22"}
    done = counted(*(entry(number, **extra, results=[result(load_kg=60.0, reps=5)]) for number in (1, 2)))
    assert (done.sessions, done.extras, done.sets) == (0, 1, 2)


def test_each_athlete_has_days_of_its_own() -> None:
    standing = standing_log(log_of(entry(1)), small_programme())
    found = done_by_athlete(
        standing, [("mila", FIRST, LAST), ("noa", FIRST, LAST)], rulebook=RULEBOOK, catalogue=CATALOGUE
    )
    assert (found["mila"].sessions, found["noa"].planned) == (1, 0)


def test_metres_are_those_of_the_review() -> None:
    """A run-in, gates of one run, a set without repetitions, extra runs: what the review adds up."""
    gates = [result(rep=1, distance_m=at, time_s=time) for at, time in ((5.0, 1.2), (10.0, 1.9))]
    run = {"line": "mila-202", "exercise": "acceleration_run"}
    extra = {"session": None, "line": None, "status": "extra", "exercise": "acceleration_run"}
    rows = [
        entry(1, **run, results=[*gates, result(rep=2), result(rep=3, distance_m=20.0)]),
        entry(2, **SLED),
        entry(3, **extra, date="2026-01-22", results=[result(rep=1, distance_m=30.0)]),
        entry(4, session="mila-250", date="2026-01-21"),
    ]
    whole = review(small_programme(), log_of(*rows), week=None, rulebook=RULEBOOK, catalogue=CATALOGUE)
    done = [week.athletes[0].amounts.done for week in whole.weeks]
    found = counted(*rows)
    assert found.metres == sum(one.metres for one in done) == 10 + 10 + 20 + 40 + 30
    assert found.sets == sum(lift.sets for one in done for lift in one.lifts.values())
