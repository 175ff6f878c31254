"""The motion behind a derivation, solved again from the equations of the formula list alone: scipy's DOP853.

One tolerance for all curves: 1e-11, five digits beyond what a node keeps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

# Standard gravity [m/s2]. The formula list writes g without its value.
GRAVITY = 9.80665
Z90 = 1.644854
# A run that has not arrived by then (an overloaded sled) counts as never arriving.
HORIZON_S = 30.0


@dataclass(frozen=True)
class Run:
    """What the motion of one run needs, in SI units: `load` is the sled's mass, `wind` a following wind."""

    f0: float
    v0: float
    mass: float
    drag: float
    load: float = 0.0
    friction: float = 0.0
    wind: float = 0.0


@dataclass(frozen=True)
class Curve:
    """One solved run: times and places of the solver's steps and the solution between them."""

    times: Any
    places: Any
    solution: Any

    def time_at(self, distance_m: float) -> float:
        """Time from the start [s] to a distance [m]; infinite where the run does not get there."""
        if distance_m <= 0:
            return 0.0
        after = int(np.searchsorted(self.places, distance_m))
        if after >= len(self.places):
            return np.inf
        within = (self.times[after - 1], self.times[after])
        return float(brentq(lambda t: self.solution(t)[0] - distance_m, *within, xtol=1e-12))

    def speed_at(self, distance_m: float) -> float:
        """Speed [m/s] at a distance [m]; 0 where the run does not get there."""
        time = self.time_at(distance_m)
        return float(self.solution(time)[1]) if np.isfinite(time) else 0.0


@lru_cache(maxsize=20_000)
def curve(run: Run) -> Curve:
    """(m+M) v' = m f0 (1 - v/v0) - k (v-w)|v-w| - friction M g, from rest."""
    total = run.mass + run.load
    held = run.friction * run.load * GRAVITY

    def motion(_t: float, state: list[float]) -> list[float]:
        v = state[1]
        air = v - run.wind
        force = run.mass * run.f0 * (1 - v / run.v0) - run.drag * air * abs(air) - held
        return [v, force / total]

    if run.mass * run.f0 <= held:
        return Curve(np.array([0.0]), np.array([0.0]), None)
    solved = solve_ivp(
        motion, (0.0, HORIZON_S), [0.0, 0.0], method="DOP853", rtol=1e-11, atol=1e-12, dense_output=True
    )
    return Curve(solved.t, solved.y[0], solved.sol)


def top_speed(run: Run) -> float:
    """Terminal speed without load [m/s]: the root of m f0 (1 - v/v0) = k v^2."""
    a, b, c = run.drag, run.mass * run.f0 / run.v0, -run.mass * run.f0
    return float((-b + np.sqrt(b * b - 4 * a * c)) / (2 * a))


def decrement(run: Run, distance_m: float) -> float:
    """Share by which the speed at the distance is slower than free."""
    free = replace(run, load=0.0, friction=0.0)
    return 1 - curve(run).speed_at(distance_m) / curve(free).speed_at(distance_m)


def load_for_decrement(run: Run, distance_m: float, wanted: float) -> float:
    """Sled mass [kg] that slows the run by the wanted share at the distance."""
    most = 0.999 * run.mass * run.f0 / (run.friction * GRAVITY)

    def miss(load_kg: float) -> float:
        return decrement(replace(run, load=load_kg), distance_m) - wanted

    return float(brentq(miss, 0.0, most, xtol=1e-7))
