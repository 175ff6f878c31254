"""The issue: "profiles ≥ 25 × `curve_fit` per athlete at 10,000 athletes". Prints machine, times and ratios.

Both models are fitted both ways, from the same split times, with an unknown clock offset; scipy is given good
start values and the same exact formula for the time.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from collections.abc import Callable

import numpy as np
import scipy
from scipy.optimize import curve_fit
from scipy.special import lambertw

from speedloom.science.mechanics.profile import fit_exponential, fit_force_speed
from speedloom.science.mechanics.sprint import Runner, time_to_distance

ATHLETES, ONE_BY_ONE = 10_000, 200
WANTED = 25.0
GATES = np.array([5.0, 10.0, 15.0, 20.0, 30.0, 40.0])
MASS_KG, DRAG_KGPM, NOISE_S = 70.0, 0.26, 0.01


def squad() -> np.ndarray:
    """Draw split times with noise, (ATHLETES, gates)."""
    rng = np.random.default_rng(11)
    draw = rng.uniform
    runner = Runner(draw(6.0, 9.0, (ATHLETES, 1)), draw(7.0, 10.5, (ATHLETES, 1)), MASS_KG, DRAG_KGPM)
    times = time_to_distance(runner, GATES)
    return np.asarray(times + draw(0.0, 0.3, (ATHLETES, 1)) + rng.normal(0.0, NOISE_S, times.shape))


def lambert_times(distance: np.ndarray, vmax: float, tau: float, offset: float) -> np.ndarray:
    """Time the mono-exponential by the Lambert function, as most scripts do."""
    scaled = distance / (vmax * tau)
    return np.asarray(offset + tau * (lambertw(-np.exp(-1.0 - scaled)).real + scaled + 1.0))


def motion_times(distance: np.ndarray, f0: float, v0: float, offset: float) -> np.ndarray:
    """Time the motion with drag."""
    return np.asarray(offset + time_to_distance(Runner(f0, v0, MASS_KG, DRAG_KGPM), distance))


def seconds(action: Callable[[], object]) -> float:
    """Return how long a call took, the best of three."""
    best = np.inf
    for _ in range(3):
        before = time.perf_counter()
        action()
        best = min(best, time.perf_counter() - before)
    return float(best)


def compare(
    name: str,
    batch: Callable[[np.ndarray], np.ndarray],
    single: Callable[[np.ndarray], np.ndarray],
    times: np.ndarray,
) -> float:
    """Print one comparison and return its ratio."""
    estimates = batch(times)
    singles = np.array([single(row) for row in times[:ONE_BY_ONE]])
    taken = seconds(lambda: batch(times)) / ATHLETES
    slow = seconds(lambda: [single(row) for row in times[:ONE_BY_ONE]]) / ONE_BY_ONE
    apart = np.median(np.abs(estimates[:ONE_BY_ONE] - singles).max(axis=1))
    print(f"{name}: {taken * 1e6:.1f} µs an athlete, curve_fit {slow * 1e6:.0f} µs", end=", ")
    print(f"ratio {slow / taken:.0f} (wanted {WANTED:.0f}), median difference {apart:.1e}")
    return slow / taken


def main() -> int:
    """Print both comparisons; exit 1 when the promise is not kept."""
    times = squad()
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}", end=", ")
    print(f"numpy {np.__version__}, scipy {scipy.__version__}, {ATHLETES:,} athletes, {GATES.size} gates")
    first = compare(
        "mono-exponential",
        lambda rows: fit_exponential(GATES, rows, timing_sd_s=NOISE_S, start="unknown").estimates,
        lambda row: curve_fit(lambert_times, GATES, row, p0=(8.5, 1.1, 0.1))[0],
        times,
    )
    second = compare(
        "force–speed with drag",
        lambda rows: (
            fit_force_speed(
                GATES, rows, timing_sd_s=NOISE_S, start="unknown", mass_kg=MASS_KG, drag_kgpm=DRAG_KGPM
            ).estimates
        ),
        lambda row: curve_fit(motion_times, GATES, row, p0=(7.5, 8.8, 0.1), bounds=([2, 4, -2], [15, 15, 2]))[
            0
        ],
        times,
    )
    return 0 if min(first, second) >= WANTED else 1


if __name__ == "__main__":
    sys.exit(main())
