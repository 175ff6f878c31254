"""Timed sled runs made by an ODE solver: the friction they were made with lies inside its band.

The equation of motion is that of Cross and others 2017 (read): (m + M) v' = m F0 (1 - v/v0) - k v^2 - mu M g.
The runs are made here, by scipy, with code that imports no formula of the package (recomputed).
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from speedloom.training.measurement import Measurements
from speedloom.training.rule import load_rulebook
from speedloom.workflows.sled_friction import SledRuns, sled_friction

BOOK = load_rulebook()
FREE_GATES, SLED_GATES = (5.0, 10.0, 20.0, 30.0, 40.0), (5.0, 10.0, 20.0)
TIMING_SD_S, REPETITION = 0.01, 0.01
G = 9.80665
HEIGHT_M = 1.74
SQUAD = {"ana": (7.6, 8.3, 62.0), "bo": (8.1, 9.1, 74.0), "cleo": (6.9, 7.9, 58.0), "dov": (7.9, 8.7, 70.0)}


def drag_kgpm(mass_kg: float) -> float:
    """Drag of an upright runner at 20 °C and sea level (Samozino and others 2016, read)."""
    air = 101325.0 / (287.05287 * 293.15)
    return 0.5 * air * 0.9 * 0.2025 * HEIGHT_M**0.725 * mass_kg**0.425 * 0.266


@cache
def gate_times(
    body: tuple[float, float, float], gates: tuple[float, ...], *, load: float = 0.0, friction: float = 0.0
) -> np.ndarray:
    f0, v0, mass = body
    drag = drag_kgpm(mass)

    def motion(_: float, state: np.ndarray) -> tuple[float, float]:
        push = mass * f0 * (1.0 - state[1] / v0) - drag * state[1] ** 2 - friction * load * G
        return state[1], push / (mass + load)

    run = solve_ivp(motion, (0.0, 25.0), (0.0, 0.0), dense_output=True, rtol=1e-9, atol=1e-10, max_step=0.05)
    fine = np.linspace(0.0, 25.0, 50_001)
    return np.interp(gates, run.sol(fine)[0], fine)


def row(
    athlete: str, number: int, gates: tuple[float, ...], times: np.ndarray, **more: object
) -> dict[str, Any]:
    splits = [
        {"distance_m": at, "time_s": round(float(time), 3)} for at, time in zip(gates, times, strict=True)
    ]
    plain = {
        "athlete": athlete, "date": "2026-01-10", "trial": number, "timing": "gates", "clock": "movement",
        "surface": "turf", "height_m": HEIGHT_M, "mass_kg": SQUAD[athlete][2], "splits": splits,
    }  # fmt: skip
    return plain | more


def squad_runs(seed: int, *, friction: float, runs: int) -> Measurements:
    """Time every athlete free and with the sled; a run's effort and the timing are noisy."""
    chance = np.random.default_rng(seed)

    def noisy(times: np.ndarray) -> np.ndarray:
        return times * (1.0 + REPETITION * chance.standard_normal()) + TIMING_SD_S * chance.standard_normal(
            len(times)
        )

    trials = []
    for athlete, body in SQUAD.items():
        trials.append(row(athlete, 1, FREE_GATES, noisy(gate_times(body, FREE_GATES))))
        load = 0.5 * body[2]
        towed = gate_times(body, SLED_GATES, load=load, friction=friction)
        trials += [
            row(athlete, 10 + number, SLED_GATES, noisy(towed), sled_kg=load) for number in range(runs)
        ]
    return Measurements.model_validate_json(json.dumps({"trials": trials}))


def found(measurements: Measurements) -> SledRuns:
    return sled_friction(measurements, trial_rule="best", rulebook=BOOK, people={})


@pytest.mark.parametrize("friction", [0.25, 0.38, 0.50])
def test_the_friction_is_found_without_noise(friction: float) -> None:
    trials = []
    for athlete, body in SQUAD.items():
        trials.append(row(athlete, 1, FREE_GATES, gate_times(body, FREE_GATES)))
        load = 0.5 * body[2]
        towed = gate_times(body, SLED_GATES, load=load, friction=friction)
        trials.append(row(athlete, 2, SLED_GATES, towed, sled_kg=load))
    result = found(Measurements.model_validate_json(json.dumps({"trials": trials})))
    assert result.refused == ()
    assert [one.value for one in result.by_athlete] == pytest.approx([friction] * 4, abs=0.01)
    (turf,) = result.by_surface
    assert turf.value == pytest.approx(friction, abs=0.01)


def test_nine_bands_in_ten_hold_the_friction() -> None:
    # The band is a 90 % band: of 120 athletes' bands 108 are expected inside; three spreads are 10.
    inside = errors = 0
    for seed in range(30):
        for one in found(squad_runs(seed, friction=0.38, runs=3)).by_athlete:
            low, high = one.band
            inside += low <= 0.38 <= high
            errors += 1
    assert errors == 120
    assert 98 <= inside <= 118


def test_more_runs_and_more_athletes_narrow_the_band() -> None:
    one, four = (found(squad_runs(1, friction=0.38, runs=runs)) for runs in (1, 4))
    for few, many in zip(one.by_athlete, four.by_athlete, strict=True):
        assert many.se < few.se
    (pooled,) = four.by_surface
    assert pooled.athletes == tuple(SQUAD)
    assert pooled.runs == 16
    assert pooled.se < min(single.se for single in four.by_athlete) + 1e-12
