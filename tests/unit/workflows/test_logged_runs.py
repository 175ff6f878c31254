"""Results of one repetition at several distances are the gates of one run."""

from __future__ import annotations

import pytest

from log_entries import entry, log_of, result
from speedloom.training.log import Result
from speedloom.workflows.logged_runs import gates_of, not_later, whole_runs
from speedloom.workflows.two_accounts import differing

RUN = {"line": "mila-202", "exercise": "acceleration_run", "timing": "gates", "clock": "movement"}


def gate(distance_m: float | None, time_s: float | None, **more: float) -> Result:
    return Result.model_validate({"set": 1, "rep": 1, "distance_m": distance_m, "time_s": time_s, **more})


THREE = (gate(10, 1.9), gate(20, 3.2), gate(30, 4.4))


def test_gates_stand_nearest_first_in_whatever_order_they_were_typed() -> None:
    assert gates_of(THREE[::-1]) == THREE


@pytest.mark.parametrize(
    "results",
    [
        THREE[:1],
        (gate(10, 1.9), gate(10, 2.0)),
        (gate(10, 1.9), gate(20, None)),
        (gate(10, 1.9, load_kg=20), gate(20, 3.2, load_kg=40)),
    ],
)
def test_one_time_two_of_one_distance_an_untimed_one_and_two_loads_are_no_gates(
    results: tuple[Result, ...],
) -> None:
    assert gates_of(results) == ()


def test_no_gate_is_passed_before_a_nearer_one() -> None:
    assert not_later(THREE) == ()
    assert not_later((gate(10, 1.9), gate(20, 1.9), gate(30, 4.4))) == (gate(20, 1.9),)


def test_a_run_is_as_long_as_its_farthest_gate() -> None:
    second = gate(10, 1.8).model_copy(update={"rep": 2})
    assert whole_runs((*THREE[::-1], second)) == (THREE[-1], second)


def test_gates_are_not_two_accounts_of_a_run() -> None:
    def written(*distances: float) -> int:
        parts = [result(rep=1, distance_m=at, time_s=0.15 * at) for at in distances]
        log = log_of(*(entry(number, results=[one], **RUN) for number, one in enumerate(parts, start=1)))
        return len(differing(log.entries))

    assert written(10, 20, 30) == 0
    log = log_of(
        entry(1, results=[result(rep=1, distance_m=10, time_s=1.9)], **RUN),
        entry(2, results=[result(rep=1, distance_m=10, time_s=1.8)], **RUN),
    )
    assert len(differing(log.entries)) == 1
