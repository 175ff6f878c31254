"""The issue: "motion ≥ 500 × an ODE solver per case at smaller error". Prints machine, times and ratio.

The solver is scipy's RK45 at its usual settings for one case (rtol 1e-6); errors are against DOP853 at 1e-13.
"""

from __future__ import annotations

import os
import platform
import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp

from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics.sprint import Course, Runner, time_to_distance

CASES, SOLVED, REFERENCED = 1_000_000, 200, 100
WANTED = 500.0
Case = tuple[float, ...]


def draw(size: int) -> np.ndarray:
    """Draw runners and courses: f0, v0, mass, drag, load, friction, wind, distance; (8, size)."""
    rng = np.random.default_rng(7)
    low = (5.5, 6.5, 45.0, 0.15, 0.0, 0.2, -3.0, 5.0)
    high = (10.0, 12.0, 100.0, 0.40, 40.0, 0.45, 3.0, 60.0)
    return np.stack([rng.uniform(a, b, size) for a, b in zip(low, high, strict=True)])


def closed(cases: np.ndarray) -> np.ndarray:
    """Time every case in one call."""
    f0, v0, mass, drag, load, friction, wind, distance = cases
    course = Course(load_kg=load, friction=friction, wind_mps=wind)
    return time_to_distance(Runner(f0, v0, mass, drag), distance, course=course)


def solved(case: Case, method: str, rtol: float, atol: float) -> float:
    """Time one case by an ODE solver, restarted where the runner is as fast as the wind."""
    f0, v0, mass, drag, load, friction, wind, distance = case

    def right_side(_: float, state: np.ndarray) -> tuple[float, float]:
        speed = state[1]
        push = mass * f0 * (1.0 - speed / v0) - drag * (speed - wind) * abs(speed - wind)
        return speed, (push - friction * load * STANDARD_GRAVITY_MPS2) / (mass + load)

    def arrived(_: float, state: np.ndarray) -> float:
        return float(state[0] - distance)

    def outran(_: float, state: np.ndarray) -> float:
        return float(state[1] - wind)

    arrived.terminal = outran.terminal = True  # type: ignore[attr-defined]
    start, state = 0.0, np.zeros(2)
    for events in ([arrived, outran], [arrived]) if wind > 0.0 else ([arrived],):
        run = solve_ivp(
            right_side, (start, start + 100.0), state, method=method, rtol=rtol, atol=atol, events=events
        )
        if run.t_events[0].size:
            return float(run.t_events[0][0])
        start, state = run.t[-1], run.y[:, -1]
    raise ValueError(case)


def seconds(action: object, *arguments: object) -> tuple[float, object]:
    """Return how long a call took and what it gave."""
    assert callable(action)  # noqa: S101 - a script
    before = time.perf_counter()
    result = action(*arguments)
    return time.perf_counter() - before, result


def main() -> int:
    """Print the comparison; exit 1 when the promise is not kept."""
    cases = draw(CASES)
    taken = min(seconds(closed, cases)[0] for _ in range(3))
    columns = [tuple(float(x) for x in column) for column in cases[:, :SOLVED].T]
    slow, rough = seconds(lambda: np.array([solved(case, "RK45", 1e-6, 1e-9) for case in columns]))
    exact = np.array([solved(case, "DOP853", 1e-13, 1e-14) for case in columns[:REFERENCED]])
    fast_error = np.abs(closed(cases[:, :REFERENCED]) - exact).max()
    rough_error = np.abs(np.asarray(rough)[:REFERENCED] - exact).max()
    ratio = (slow / SOLVED) / (taken / CASES)
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}", end=", ")
    print(f"numpy {np.__version__}, scipy {scipy.__version__}")
    print(f"closed form: {taken:.2f} s for {CASES:,} cases, largest error {fast_error:.1e} s")
    print(f"ODE solver:  {slow / SOLVED * 1e3:.2f} ms a case, largest error {rough_error:.1e} s")
    print(f"ratio {ratio:,.0f} (wanted {WANTED:.0f})")
    return 0 if ratio >= WANTED and fast_error < rough_error else 1


if __name__ == "__main__":
    sys.exit(main())
