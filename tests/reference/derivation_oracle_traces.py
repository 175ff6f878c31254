"""Speed traces fitted again by scipy from their samples, as the formula list words `profile.fit_trace`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from scipy.optimize import least_squares

from reference import derivation_oracle_motion as motion
from reference.derivation_oracle_profile import Fit, Vector

Speeds = Callable[[float, float, Vector], Vector]
Node = dict[str, Any]


def fit_of(brief: Node, tests: str, body: tuple[float, float], *, exponential: bool) -> Fit | None:
    """Fit the traces of one athlete, day and device: the best, or the mean; None where none is usable."""
    athlete, day, timing = tests.removeprefix("test:").split("/")
    runs = [
        _cut(one["points"])
        for one in sorted(brief["measurements"]["traces"], key=lambda one: one["trial"])
        if (one["athlete"], one["date"], one["timing"]) == (athlete, day, timing)
    ]
    runs = [(t, v) for t, v in runs if len(t) >= 6 and max(v) <= 13]
    simple = [_fit(t, v, speed_of=_exponential, start=(8.0, 1.1)) for t, v in runs]
    good = [k for k, fit in enumerate(simple) if 3 <= fit.first <= 13 and 0.3 <= fit.second <= 3]
    if not good:
        return None
    if brief["trial"] == "best":
        good = [max(good, key=lambda k: simple[k].first)]
    if exponential:
        return _mean([simple[k] for k in good])

    def physical(f0: float, v0: float, times: Vector) -> Vector:
        return np.asarray(motion.curve(motion.Run(f0, v0, *body)).solution(times)[1])

    return _mean([_fit(*runs[k], speed_of=physical, start=(7.5, 8.5)) for k in good])


def _exponential(vmax: float, tau: float, times: Vector) -> Vector:
    return np.asarray(-vmax * np.expm1(-times / tau))


def _cut(points: list[Node]) -> tuple[list[float], list[float]]:
    """A trace from the sample after the last slow one before the fastest, to the fastest."""
    speeds = [point["speed_mps"] for point in points]
    top = speeds.index(max(speeds))
    first = max((k + 1 for k in range(top) if speeds[k] < 0.5), default=0)
    times = [point["time_s"] - points[first]["time_s"] for point in points[first : top + 1]]
    return times, speeds[first : top + 1]


def _fit(times: list[float], speeds: list[float], *, speed_of: Speeds, start: tuple[float, float]) -> Fit:
    """Least squares in speed over two logarithms and the start, as `profile.fit_trace` words it."""
    t, v = np.asarray(times, float), np.asarray(speeds, float)

    def residuals(p: Vector) -> Vector:
        return v - speed_of(float(np.exp(p[0])), float(np.exp(p[1])), np.maximum(t - p[2], 0.0))

    guess = np.array([np.log(start[0]), np.log(start[1]), 0.0])
    found = least_squares(residuals, guess, method="lm", diff_step=1e-6, xtol=1e-13, ftol=1e-13, gtol=1e-13)
    e = found.fun
    squares = float(e @ e)
    noise = max(squares / (len(t) - 3), 0.01**2)
    raw = max(float(e[1:] @ e[:-1]) / squares, 0.0)
    r = min(raw + 3 * (1 + raw) / len(t), 0.95)
    jacobian = np.column_stack([_slope(residuals, found.x, k) for k in range(3)])
    covariance = np.linalg.inv(jacobian.T @ jacobian) * noise * (1 + r) / (1 - r)
    return Fit(float(np.exp(found.x[0])), float(np.exp(found.x[1])), float(found.x[2]), covariance)


def _mean(fits: list[Fit]) -> Fit:
    """The mean of the logarithms of several fits."""
    first, second = (
        float(np.exp(np.mean([np.log(getattr(fit, name)) for fit in fits]))) for name in ("first", "second")
    )
    return Fit(first, second, 0.0, sum(fit.covariance for fit in fits) / len(fits) ** 2)


def _slope(function: Callable[[Vector], Vector], at: Vector, k: int) -> Vector:
    step = np.zeros(len(at))
    step[k] = 1e-5
    return (function(at + step) - function(at - step)) / 2e-5
