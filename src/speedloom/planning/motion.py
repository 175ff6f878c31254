"""Sprint times, sled loads and decrements of one athlete, as plain floats by argument name."""

from __future__ import annotations

from functools import lru_cache

from speedloom.science.mechanics.resistance import decrement_at_distance, load_for_decrement_at_distance
from speedloom.science.mechanics.sprint import (
    Course,
    Runner,
    speed_at_distance,
    terminal_speed,
    time_to_distance,
)


@lru_cache(maxsize=100_000)
def _time(
    f0: float, v0: float, mass: float, drag: float, load: float, friction: float, distance: float
) -> float:
    if distance <= 0:
        return 0.0
    course = Course(load_kg=load, friction=friction)
    return float(time_to_distance(Runner(f0, v0, mass, drag), distance, course=course))


def time(
    *,
    f0_npkg: float,
    v0_mps: float,
    mass_kg: float,
    drag_kgpm: float,
    distance_m: float,
    load_kg: float = 0.0,
    friction: float = 0.0,
    behind_m: float = 0.0,
    offset_s: float = 0.0,
) -> float:
    """Give the time this athlete's own test would show [s]."""
    motion = (f0_npkg, v0_mps, mass_kg, drag_kgpm, load_kg, friction)
    return _time(*motion, distance_m + behind_m) - _time(*motion, behind_m) + offset_s


def zone_time(
    *, f0_npkg: float, v0_mps: float, mass_kg: float, drag_kgpm: float, run_in_m: float, distance_m: float
) -> float:
    """Give the time through a zone after a run-in [s]."""
    motion = (f0_npkg, v0_mps, mass_kg, drag_kgpm, 0.0, 0.0)
    return _time(*motion, run_in_m + distance_m) - _time(*motion, run_in_m)


@lru_cache(maxsize=20_000)
def load_for_decrement(
    *,
    f0_npkg: float,
    v0_mps: float,
    mass_kg: float,
    drag_kgpm: float,
    friction: float,
    distance_m: float,
    decrement: float,
) -> float:
    """Give the sled load for a velocity decrement at a distance [kg]."""
    runner = Runner(f0_npkg, v0_mps, mass_kg, drag_kgpm)
    return float(
        load_for_decrement_at_distance(runner, decrement=decrement, friction=friction, distance_m=distance_m)
    )


@lru_cache(maxsize=20_000)
def decrement(
    *,
    f0_npkg: float,
    v0_mps: float,
    mass_kg: float,
    drag_kgpm: float,
    friction: float,
    distance_m: float,
    load_kg: float,
) -> float:
    """Give the velocity decrement of a sled load at a distance [share]."""
    runner = Runner(f0_npkg, v0_mps, mass_kg, drag_kgpm)
    return float(decrement_at_distance(runner, load_kg=load_kg, friction=friction, distance_m=distance_m))


@lru_cache(maxsize=20_000)
def share_of_top_speed(
    *,
    f0_npkg: float,
    v0_mps: float,
    mass_kg: float,
    drag_kgpm: float,
    distance_m: float,
    run_in_m: float = 0.0,
    effort: float = 1.0,
    load_kg: float = 0.0,
    friction: float = 0.0,
) -> float:
    """Give the share of top speed reached at the end of a run [share]."""
    runner = Runner(f0_npkg, v0_mps, mass_kg, drag_kgpm)
    course = Course(load_kg=load_kg, friction=friction)
    reached = float(speed_at_distance(runner, distance_m + run_in_m, course=course))
    return min(1.0, effort * reached / float(terminal_speed(runner)))
