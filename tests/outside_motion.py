"""A sprint by its equation of motion and nothing else: small steps of Runge and Kutta, bisection for fits.

m v' = m f0 (1 - v/v0) - k v² and, with a sled, (m + M) v' less friction M g: mechanics reference, sections 2
and 5 (Samozino 2016, read; Cross 2017, read). Gravity 9.80665 m/s². Nothing of the product is imported.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.optimize import least_squares
from scipy.special import lambertw

GRAVITY_MPS2 = 9.80665
STEP_S = 0.004
LONGEST_S = 8.0


@dataclass(frozen=True)
class Sprinter:
    """Who runs: f0 [N/kg], v0 [m/s], mass [kg], drag [kg/m]; with a sled its mass [kg] and friction."""

    f0: float
    v0: float
    mass: float
    drag: float
    sled_kg: float = 0.0
    friction: float = 0.0

    def acceleration(self, speed: float) -> float:
        push = self.mass * self.f0 * (1.0 - speed / self.v0)
        held = self.drag * speed * speed + self.friction * self.sled_kg * GRAVITY_MPS2
        return (push - held) / (self.mass + self.sled_kg)

    @cached_property
    def path(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Times [s], distances [m] and speeds [m/s] from rest."""
        times, metres, speeds = [0.0], [0.0], [0.0]
        v, x, h = 0.0, 0.0, STEP_S
        for number in range(1, int(LONGEST_S / h) + 1):
            k1 = self.acceleration(v)
            k2 = self.acceleration(v + h / 2 * k1)
            k3 = self.acceleration(v + h / 2 * k2)
            k4 = self.acceleration(v + h * k3)
            x += h * v + h * h / 6 * (k1 + k2 + k3)
            v += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
            times.append(number * h)
            metres.append(x)
            speeds.append(v)
        return np.array(times), np.array(metres), np.array(speeds)

    @cached_property
    def top_speed(self) -> float:
        """The speed at which push and drag are equal."""
        return bisect(self.acceleration, 0.1, self.v0)

    def time_to(self, metres: float) -> float:
        """The time to a distance, exact to the step by a parabola from the step before."""
        times, passed, speeds = self.path
        before = int(np.searchsorted(passed, metres)) - 1 if metres > 0 else 0
        v, a = float(speeds[before]), self.acceleration(float(speeds[before]))
        left = metres - float(passed[before])
        return float(times[before]) + 2.0 * left / (v + math.sqrt(v * v + 2.0 * a * left))

    def speed_at(self, metres: float) -> float:
        _, passed, speeds = self.path
        return float(np.interp(metres, passed, speeds))

    def metres_to(self, speed: float) -> float:
        """Where a speed is reached; infinite where it never is."""
        _, passed, speeds = self.path
        return float(np.interp(speed, speeds, passed)) if speed < float(speeds[-1]) else math.inf

    def metres_from(self, share: float, *, run_m: float, effort: float = 1.0) -> float:
        """The metres of one run that are run at a share of top speed or faster."""
        return max(0.0, run_m - self.metres_to(share * self.top_speed / effort))


def bisect(function: Callable[[float], float], low: float, high: float) -> float:
    """Find the root of a falling or rising function between two ends."""
    falling = function(low) > 0
    for _ in range(80):
        middle = (low + high) / 2
        if (function(middle) > 0) == falling:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def share_point(length_m: float, share: float) -> float:
    """Where a share of top speed is reached: vmax tau (-ln(1 - p) - p) (mechanics, section 1, read)."""
    return length_m * (-math.log(1.0 - share) - share) if share < 1.0 else math.inf


def metres_from(length_m: float, share: float, *, run_m: float, effort: float = 1.0) -> float:
    """The metres of one run at a share of top speed or faster, at an effort below flat out."""
    return max(0.0, run_m - share_point(length_m, share / effort))


def exponential_time(vmax: float, tau: float, metres: float) -> float:
    """Time to a distance, t = tau W0(-e^(-1 - x/(vmax tau))) + x/vmax + tau (mechanics, section 1, read)."""
    scaled = metres / (vmax * tau)
    return tau * float(lambertw(-math.exp(-1.0 - scaled)).real) + metres / vmax + tau


def fitted(gates: list[tuple[float, float]], behind_m: float) -> tuple[float, float]:
    """Fit vmax [m/s] and tau [s] to gate times by least squares; the athlete starts behind the first beam."""

    def off(guess: np.ndarray) -> list[float]:
        vmax, tau = (float(one) for one in guess)
        start = exponential_time(vmax, tau, behind_m) if behind_m else 0.0
        return [exponential_time(vmax, tau, x + behind_m) - start - t for x, t in gates]

    found = least_squares(off, [8.0, 1.1], xtol=1e-12, ftol=1e-12)
    return float(found.x[0]), float(found.x[1])
