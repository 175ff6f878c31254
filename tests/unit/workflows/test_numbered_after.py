"""Runs of a day that has runs already: none counts twice, none takes another's number."""

from __future__ import annotations

from datetime import date

from speedloom.training.measurement import Split, Trial
from speedloom.workflows.numbered_after import numbered_after


def run(number: int, *times: float, day: int = 20) -> Trial:
    return Trial(
        athlete="mila",
        date=date(2026, 1, day),
        trial=number,
        timing="gates",
        clock="movement",
        splits=tuple(Split(distance_m=10.0 * at, time_s=time) for at, time in enumerate(times, 1)),
    )


def test_a_run_that_is_stored_is_known_under_any_number() -> None:
    found = numbered_after([run(1, 1.9, 3.2)], stored=[run(2, 1.9, 3.2)])
    assert (found.trials, found.same) == ((), (run(1, 1.9, 3.2),))


def test_another_run_under_a_taken_number_takes_the_next() -> None:
    found = numbered_after([run(1, 1.8, 3.1), run(2, 1.7, 3.0)], stored=[run(1, 1.9, 3.2)])
    assert [(one.trial, one.splits[0].time_s) for one in found.trials] == [(2, 1.8), (3, 1.7)]
    assert [(one.before, one.trial.trial) for one in found.renumbered] == [(1, 2), (2, 3)]


def test_one_time_alone_can_come_twice() -> None:
    found = numbered_after([run(2, 4.4)], stored=[run(1, 4.4)])
    assert found.trials == (run(2, 4.4),)
    assert numbered_after([run(1, 4.4)], stored=[run(1, 4.4)]).trials == ()


def test_equal_runs_of_one_paste_and_of_another_day_are_kept() -> None:
    both = [run(1, 1.9, 3.2), run(2, 1.9, 3.2)]
    found = numbered_after(both, stored=[run(1, 1.9, 3.2, day=19)])
    assert found.trials == tuple(both)
