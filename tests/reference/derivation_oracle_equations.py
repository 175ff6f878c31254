"""The published equations of the formula list, written out again: plain numbers in, a plain number out."""

from __future__ import annotations

import math
import statistics
from typing import Any

from reference import derivation_oracle_motion as motion

Node = dict[str, Any]


def step_nearest(value: float, step: float) -> float:
    """To the nearest step, half down."""
    return math.ceil(value / step - 0.5 - 1e-9) * step


def step_up(value: float, step: float) -> float:
    """Up to a step."""
    return math.ceil(value / step - 1e-9) * step


def between(low: float, value: float, high: float) -> float:
    """Clamp."""
    return min(high, max(low, value))


def _linear(general: float, middle: float, specific: float, specificity: float) -> float:
    if specificity <= 0.5:
        return general + (middle - general) * 2 * specificity
    return middle + (specific - middle) * (2 * specificity - 1)


def _geometric(general: float, middle: float, specific: float, specificity: float) -> float:
    if specificity <= 0.5:
        return general * (middle / general) ** (2 * specificity)
    return middle * (specific / middle) ** (2 * specificity - 1)


def _density(temperature_c: float, altitude_m: float) -> float:
    pressure = 101325 * (1 - 2.25577e-5 * altitude_m) ** 5.25588
    return pressure / (287.05287 * (273.15 + temperature_c))


def _drag(height_m: float, mass_kg: float, density_kgpm3: float) -> float:
    return 0.5 * density_kgpm3 * 0.2025 * height_m**0.725 * mass_kg**0.425 * 0.266 * 0.9


def _one_rep_max(load_kg: float, reps: float, rir: float) -> float:
    r = reps + rir
    if r == 1:
        return load_kg
    factors = [
        1 + r / 30,
        36 / (37 - r),
        100 / (101.3 - 2.67123 * r),
        1 + 0.025 * r,
        100 / (48.8 + 53.8 * math.exp(-0.075 * r)),
        100 / (52.2 + 41.9 * math.exp(-0.055 * r)),
        r**0.10,
    ]
    return load_kg * statistics.median(factors)


def _specificity(
    first: float, last: float, mesocycle: float, mesocycles: float, before: float, loading: float
) -> float:
    steps = loading + mesocycles - 2
    return first + (last - first) * ((before + mesocycle - 1) / steps if steps else 1.0)


def _mesocycle_point(first: float, last: float, mesocycle: float, mesocycles: float) -> float:
    if mesocycles == 1:
        return (first + last) / 2
    return first + (last - first) * (mesocycle - 1) / (mesocycles - 1)


def _taper(days_to_peak: float, taper_days: float, far: float, near: float, short: float) -> float:
    if taper_days <= 10:
        return short
    return near if days_to_peak <= 7 else far


def _round_distance(
    distance_m: float, longest_m: float, fine_m: float, coarse_m: float, border_m: float
) -> float:
    fine = [fine_m * n for n in range(1, int(border_m / fine_m + 1e-9) + 1)]
    coarse = [border_m + coarse_m * n for n in range(1, 50)]
    candidates = [c for c in fine + coarse if c <= longest_m] or [fine_m]
    return min(candidates, key=lambda c: (round(abs(c - distance_m), 9), c))


def _minutes(
    sets: float,
    reps: float,
    work_s: float,
    rest_reps_s: float,
    rest_s: float,
    change_over_s: float,
    ramp_up_s: float,
    turns: float,
) -> float:
    total = change_over_s + ramp_up_s
    for one in range(int(sets)):
        total += reps * work_s + (reps - 1) * max(rest_reps_s, (turns - 1) * work_s)
        if one < sets - 1:
            total += max(rest_s, (turns - 1) * reps * work_s)
    return total / 60


def _rest(distance_m: float, run_in_m: float, floor_s: float, per_10_m_s: float) -> float:
    return step_up(max(floor_s, per_10_m_s * (distance_m + run_in_m) / 10), 15)


CHART = (1.00, 0.95, 0.93, 0.90, 0.87, 0.85, 0.83, 0.80, 0.77, 0.75, 0.70, 0.67)


def _contacts(sets: float, reps: float, contacts_per_rep: float, sides: str) -> float:
    return sets * reps * contacts_per_rep * (2 if sides == "each" else 1)


def _planned(**factors: float) -> float:
    lines: dict[str, float] = {}
    for name, value in factors.items():
        line = name.rsplit("_", 1)[1]
        lines[line] = lines.get(line, 1.0) * value
    return sum(lines.values())


def _loadable(kit: Node) -> set[float]:
    paired = kit["kind"] in {"barbell", "trap_bar"}
    sums = {float(kit["empty_kg"])}
    for mass, pieces in kit["plates_kg"]:
        counts = range(0, int(pieces) + 1, 2 if paired else 1)
        sums = {round(s + n * mass, 6) for s in sums for n in counts}
    return sums


def _round_load(load_kg: float, kit: Node, at_most: float = math.inf) -> float:
    loads = [kg for kg in _loadable(kit) if kg <= at_most] or [float(kit["empty_kg"])]
    return min(loads, key=lambda kg: (round(abs(kg - load_kg), 9), kg))


def _run(a: dict[str, float]) -> motion.Run:
    return motion.Run(
        a["f0_npkg"], a["v0_mps"], a["mass_kg"], a["drag_kgpm"], a.get("load_kg", 0.0), a.get("friction", 0.0)
    )


def _sprint_time(**a: float) -> float:
    run, before = motion.curve(_run(a)), a.get("behind_m", 0.0)
    return run.time_at(a["distance_m"] + before) - run.time_at(before) + a.get("offset_s", 0.0)


def _zone_time(**a: float) -> float:
    run = motion.curve(_run(a))
    return run.time_at(a["run_in_m"] + a["distance_m"]) - run.time_at(a["run_in_m"])


def _share_of_top_speed(**a: float) -> float:
    run = _run(a)
    speed = motion.curve(run).speed_at(a.get("run_in_m", 0.0) + a["distance_m"])
    return min(1.0, a.get("effort", 1.0) * speed / motion.top_speed(run))


EQUATIONS: dict[str, Any] = {
    "given": lambda value: value,
    "profile.typical": lambda value: value,
    "total": lambda **a: sum(a.values()),
    "product": lambda **a: math.prod(a.values()),
    "least": lambda **a: min(a.values()),
    "air.density": _density,
    "air.drag": _drag,
    "one_rep_max.estimate": _one_rep_max,
    "weeks.specificity": _specificity,
    "weeks.mesocycle_point": _mesocycle_point,
    "role.shift": lambda specificity, shift, direction: between(0.0, specificity + direction * shift, 1.0),
    "taper.factor": _taper,
    "dose.linear": _linear,
    "dose.geometric": _geometric,
    "round.step": step_nearest,
    "round.up": step_up,
    "round.distance": _round_distance,
    "run.distance": lambda lengths, length_m: lengths * length_m,
    "run.share_point": lambda length_m, share: length_m * (-math.log(1 - share) - share),
    "run.longest": lambda straight_m, run_out_m, before_m: straight_m - run_out_m - before_m,
    "clamp": lambda value, low, high: between(low, value, high),
    "volume.count": lambda wanted, each, fewest, most: between(fewest, step_nearest(wanted / each, 1), most),
    "rest.run": _rest,
    "minutes.line": _minutes,
    "queue.turns": lambda present, stations, lanes: math.ceil(present / (stations * lanes)),
    "friction.middle": lambda low, high: (low + high) / 2,
    "weeks.in_season": lambda low, high, place: low if place == 3 else low + (high - low) * place / 2,
    "friction.timed": lambda value, se: value + 0 * se,
    "kit.round_load": _round_load,
    "resistance.load_for_decrement_at_distance": lambda decrement, distance_m, **a: motion.load_for_decrement(
        _run(a), distance_m, decrement
    ),
    "resistance.decrement_at_distance": lambda distance_m, **a: motion.decrement(_run(a), distance_m),
    "sprint.time": _sprint_time,
    "sprint.zone_time": _zone_time,
    "sprint.share_of_top_speed": _share_of_top_speed,
    "effort.time": lambda time_s, effort: time_s / effort,
    "expect.spread": lambda time_s, profile_s, friction_s, repetition, timing_s: math.sqrt(
        profile_s**2 + friction_s**2 + (repetition * time_s) ** 2 + timing_s**2
    ),
    "expect.low": lambda time_s, spread_s: time_s - motion.Z90 * spread_s,
    "expect.high": lambda time_s, spread_s: time_s + motion.Z90 * spread_s,
    "repetitions.share": lambda reps, rir: CHART[min(12, int(reps + rir)) - 1],
    "contacts.line": _contacts,
    "volume.planned": _planned,
}
