"""Times, speeds and sled loads by the equation of motion, many nodes at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from speedloom.checking.recompute.arguments import Arguments, number
from speedloom.science.mechanics import sprint
from speedloom.science.mechanics.resistance import load_for_decrement_at_distance
from speedloom.science.mechanics.sprint import Course, Runner

Array = NDArray[np.float64]
Rows = Sequence[Arguments]
Batch = Callable[[Rows], Array]


def _column(rows: Rows, name: str, default: float | None = None) -> Array:
    return np.array([number(row, name, default) for row in rows], dtype=np.float64)


def _runner(rows: Rows) -> Runner:
    names = ("f0_npkg", "v0_mps", "mass_kg", "drag_kgpm")
    return Runner(*(_column(rows, name) for name in names))


def _course(rows: Rows) -> Course:
    return Course(load_kg=_column(rows, "load_kg", 0.0), friction=_column(rows, "friction", 0.0))


def time(rows: Rows) -> Array:
    """The time (s) the athlete's own test would show."""
    run = sprint.motion(_runner(rows), _course(rows))
    behind = _column(rows, "behind_m", 0.0)
    clocked = run.time_to_distance(_column(rows, "distance_m") + behind) - run.time_to_distance(behind)
    return np.asarray(clocked + _column(rows, "offset_s", 0.0))


def zone_time(rows: Rows) -> Array:
    """The time (s) through a zone after a run-in."""
    run = sprint.motion(_runner(rows), _course(rows))
    run_in = _column(rows, "run_in_m")
    return np.asarray(
        run.time_to_distance(run_in + _column(rows, "distance_m")) - run.time_to_distance(run_in)
    )


def share_of_top_speed(rows: Rows) -> Array:
    """Share of top speed reached at the end of a run."""
    runner = _runner(rows)
    run = sprint.motion(runner, _course(rows))
    metres = _column(rows, "distance_m") + _column(rows, "run_in_m", 0.0)
    speed = run.state(run.time_to_distance(metres)).speed * _column(rows, "effort", 1.0)
    return np.asarray(np.minimum(1.0, speed / sprint.terminal_speed(runner)))


def decrement(rows: Rows) -> Array:
    """How much slower at the distance with the load that is really on the sled."""
    runner, metres = _runner(rows), _column(rows, "distance_m")
    free, towed = sprint.motion(runner), sprint.motion(runner, _course(rows))
    slow = towed.state(towed.time_to_distance(metres)).speed
    return np.asarray(1.0 - slow / free.state(free.time_to_distance(metres)).speed)


def load(rows: Rows) -> Array:
    """The sled load (kg) at which speed at the distance is the decrement slower than free."""
    return load_for_decrement_at_distance(
        _runner(rows),
        decrement=_column(rows, "decrement"),
        friction=_column(rows, "friction"),
        distance_m=_column(rows, "distance_m"),
    )


BATCHES: Mapping[str, Batch] = {
    "resistance.load_for_decrement_at_distance": load,
    "resistance.decrement_at_distance": decrement,
    "sprint.time": time,
    "sprint.zone_time": zone_time,
    "sprint.share_of_top_speed": share_of_top_speed,
}
