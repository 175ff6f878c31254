"""What was done between two tests is a plain count of what the log says."""

from __future__ import annotations

from datetime import date

from log_entries import entry, log_of, result
from small_programme import small_programme
from speedloom.workflows.done_between import DoneBetween, done_between, done_by_athlete
from speedloom.workflows.standing_log import standing_log

FIRST, LAST = date(2026, 1, 8), date(2026, 2, 10)
SLED = {"line": "mila-203", "exercise": "sled_sprint"}


def counted(*entries: dict[str, object], first: date = FIRST, last: date = LAST) -> DoneBetween:
    standing = standing_log(log_of(*entries), small_programme())
    return done_between(standing, "mila", first=first, last=last)


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
    found = done_by_athlete(standing, [("mila", FIRST, LAST), ("noa", FIRST, LAST)])
    assert (found["mila"].sessions, found["noa"].planned) == (1, 0)
