"""Rests, minutes and queues."""

from __future__ import annotations

from math import ceil

from speedloom.checking.recompute.arguments import Arguments, number

_REST_STEP_S = 15.0
_GUARD = 1e-9


def rest(arguments: Arguments) -> float:
    """Rest after a run (s): by distance, never under the floor, up to 15 s."""
    metres = number(arguments, "distance_m") + number(arguments, "run_in_m", 0.0)
    wanted = max(number(arguments, "floor_s"), number(arguments, "per_10_m_s") * metres / 10.0)
    return ceil(wanted / _REST_STEP_S - _GUARD) * _REST_STEP_S


def line_minutes(arguments: Arguments) -> float:
    """Minutes of a line: change-over, ramp-up sets, repetitions, rests, and the queue for kit."""
    sets, reps = number(arguments, "sets"), number(arguments, "reps", 1.0)
    work, waiting = number(arguments, "work_s"), number(arguments, "turns", 1.0) - 1.0
    between_reps = max(number(arguments, "rest_reps_s", 0.0), waiting * work)
    between_sets = max(number(arguments, "rest_s", 0.0), waiting * reps * work)
    once = number(arguments, "change_over_s", 0.0) + number(arguments, "ramp_up_s", 0.0)
    each_set = reps * work + (reps - 1.0) * between_reps
    return (once + sets * each_set + (sets - 1.0) * between_sets) / 60.0


def turns(arguments: Arguments) -> float:
    """How many turns a group needs."""
    places = number(arguments, "stations") * number(arguments, "lanes")
    return float(ceil(number(arguments, "present") / places - _GUARD))
