"""The planner's own copy of the formulas a basis node may name (training/data/formulas.toml).

Each takes its arguments by name as they are stored and gives the number; the check holds a second copy on
purpose.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from speedloom.planning import motion
from speedloom.planning.plates import nearest_loadable
from speedloom.science.constants import BAND_90_SD
from speedloom.science.mechanics.air import drag_constant, dry_air_density
from speedloom.science.strength.one_rep_max import estimate_one_rep_max
from speedloom.science.strength.repetitions import share_of_one_rep_max
from speedloom.training.kit import Kit

_TINY = 1e-9
_LAST_CHART_ROW = 12


def step_half_down(value: float, step: float) -> float:
    """Round to the nearest step; a tie goes down.

    >>> step_half_down(12.5, 5)
    10
    """
    return math.ceil(value / step - 0.5 - _TINY) * step


def step_up(value: float, step: float) -> float:
    """Round up to a step.

    >>> step_up(12.1, 0.5)
    12.5
    """
    return math.ceil(value / step - _TINY) * step


def interpolate(general: float, middle: float, specific: float, specificity: float) -> float:
    """Go from general (0) over middle (0.5) to specific (1) in straight lines.

    >>> interpolate(10, 20, 40, 0.75)
    30.0
    """
    if specificity <= 0.5:  # noqa: PLR2004 - the middle of the scale
        return general + (middle - general) * 2 * specificity
    return middle + (specific - middle) * (2 * specificity - 1)


def _geometric(general: float, middle: float, specific: float, specificity: float) -> float:
    logs = (math.log(general), math.log(middle), math.log(specific))
    return math.exp(interpolate(*logs, specificity))


def _specificity(
    first: float, last: float, mesocycle: float, mesocycles: float, before: float, loading: float
) -> float:
    steps = loading + mesocycles - 2
    point = (before + mesocycle - 1) / steps if steps else 1.0
    return first + (last - first) * point


def _in_season(low: float, high: float, place: float) -> float:
    easy = 3
    return low if place == easy else low + (high - low) * place / 2


def _mesocycle_point(first: float, last: float, mesocycle: float, mesocycles: float) -> float:
    if mesocycles == 1:
        return (first + last) / 2
    return first + (last - first) * (mesocycle - 1) / (mesocycles - 1)


def round_distance(
    distance_m: float, longest_m: float, fine_m: float, coarse_m: float, border_m: float
) -> float:
    """Round to the distances a coach writes; a tie goes down, never beyond the longest.

    >>> round_distance(34.9, 100, 5, 10, 30)
    30
    """
    candidates = [fine_m]
    while candidates[-1] < max(distance_m, border_m) + coarse_m:
        step = fine_m if candidates[-1] < border_m else coarse_m
        candidates.append(candidates[-1] + step)
    usable = [value for value in candidates if value <= longest_m + _TINY] or [fine_m]
    return min(usable, key=lambda value: (round(abs(value - distance_m), 9), value))


def _count(wanted: float, each: float, fewest: float, most: float) -> float:
    return min(most, max(fewest, math.ceil(wanted / each - 0.5 - _TINY)))


def _rest_run(distance_m: float, run_in_m: float, floor_s: float, per_10_m_s: float) -> float:
    return step_up(max(floor_s, per_10_m_s * (distance_m + run_in_m) / 10), 15)


def line_minutes(
    *,
    sets: float,
    reps: float,
    work_s: float,
    rest_reps_s: float,
    rest_s: float,
    change_over_s: float,
    ramp_up_s: float,
    turns: float,
) -> float:
    """Minutes of one line with rests and the queue for kit.

    >>> times = {"work_s": 30, "rest_reps_s": 120, "rest_s": 0, "change_over_s": 120, "ramp_up_s": 0}
    >>> line_minutes(sets=1, reps=4, turns=1, **times)
    10.0
    """
    between_reps = max(rest_reps_s, (turns - 1) * work_s)
    between_sets = max(rest_s, (turns - 1) * reps * work_s)
    inside = reps * work_s + (reps - 1) * between_reps
    return (change_over_s + ramp_up_s + sets * inside + (sets - 1) * between_sets) / 60


def _share(reps: float, rir: float) -> float:
    row = min(_LAST_CHART_ROW, reps + rir)
    return float(share_of_one_rep_max(row))


def _contacts(sets: float, reps: float, contacts_per_rep: float, sides: str) -> float:
    return sets * reps * contacts_per_rep * (2 if sides == "each" else 1)


def _taper(days_to_peak: float, taper_days: float, far: float, near: float, short: float) -> float:
    if taper_days <= 10:  # noqa: PLR2004 - 8 to 10 days are one step
        return short
    return near if days_to_peak <= 7 else far  # noqa: PLR2004 - the last week


def _drag(height_m: float, mass_kg: float, density_kgpm3: float) -> float:
    return float(drag_constant(height_m, mass_kg, density_kgpm3))


def _one_rep_max(load_kg: float, reps: float, rir: float) -> float:
    return float(estimate_one_rep_max(load_kg, reps, reps_in_reserve=rir).value)


def _round_load(load_kg: float, kit: Kit, at_most: float | None = None) -> float:
    return nearest_loadable(load_kg, kit=kit, at_most=at_most)


def _share_point(length_m: float, share: float) -> float:
    return length_m * (-math.log1p(-share) - share)


FORMULAS: dict[str, Callable[..., Any]] = {
    "given": lambda value: value,
    "profile.typical": lambda value: value,
    "total": lambda **terms: sum(terms.values()),
    "product": lambda **terms: math.prod(terms.values()),
    "least": lambda **terms: min(terms.values()),
    "air.density": lambda temperature_c, altitude_m: float(dry_air_density(temperature_c, altitude_m)),
    "air.drag": _drag,
    "one_rep_max.estimate": _one_rep_max,
    "weeks.specificity": _specificity,
    "weeks.in_season": _in_season,
    "weeks.mesocycle_point": _mesocycle_point,
    "role.shift": lambda specificity, shift, direction: min(1.0, max(0.0, specificity + direction * shift)),
    "taper.factor": _taper,
    "dose.linear": interpolate,
    "dose.geometric": _geometric,
    "round.step": step_half_down,
    "round.up": step_up,
    "round.distance": round_distance,
    "run.distance": lambda lengths, length_m: lengths * length_m,
    "run.share_point": _share_point,
    "run.longest": lambda straight_m, run_out_m, before_m: straight_m - run_out_m - before_m,
    "clamp": lambda value, low, high: min(high, max(low, value)),
    "volume.count": _count,
    "rest.run": _rest_run,
    "minutes.line": line_minutes,
    "queue.turns": lambda present, stations, lanes: math.ceil(present / (stations * lanes) - _TINY),
    "resistance.load_for_decrement_at_distance": motion.load_for_decrement,
    "resistance.decrement_at_distance": motion.decrement,
    "friction.middle": lambda low, high: (low + high) / 2,
    "kit.round_load": _round_load,
    "sprint.time": motion.time,
    "sprint.zone_time": motion.zone_time,
    "sprint.share_of_top_speed": motion.share_of_top_speed,
    "effort.time": lambda time_s, effort: time_s / effort,
    "expect.spread": lambda time_s, profile_s, friction_s, repetition, timing_s: math.sqrt(
        profile_s**2 + friction_s**2 + (repetition * time_s) ** 2 + timing_s**2
    ),
    "expect.low": lambda time_s, spread_s: time_s - BAND_90_SD * spread_s,
    "expect.high": lambda time_s, spread_s: time_s + BAND_90_SD * spread_s,
    "repetitions.share": _share,
    "contacts.line": _contacts,
}
