"""Bracketed root of many monotone functions at once (Chandrupatla 1997, memory)."""

from collections.abc import Callable

import numpy as np

from speedloom.science.ranges import FloatArray

_MOST_STEPS = 100
_EPS = float(np.finfo(np.float64).eps)


def bracketed_root(
    function: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray
) -> FloatArray:
    """Return where a function changes its sign between two arrays, to the last digits, NaN without a change.

    Inverse quadratic steps where they are safe, else halving; a row that has converged is not moved again,
    so its result does not depend on the others.
    """
    a, b = np.array(high, dtype=np.float64), np.array(low, dtype=np.float64)
    fa, fb = function(a), function(b)
    bracketed = np.sign(fa) * np.sign(fb) <= 0.0
    c, fc = a.copy(), fa.copy()
    share = np.full(a.shape, 0.5)
    for _ in range(_MOST_STEPS):
        best = np.where(np.abs(fa) < np.abs(fb), a, b)
        width = np.abs(b - a)
        tolerance = np.where(
            width > 0.0, (2.0 * _EPS * np.abs(best) + 1e-300) / np.maximum(width, 1e-300), 1.0
        )
        done = (tolerance > 0.5) | (fa == 0.0) | (fb == 0.0) | ~bracketed  # noqa: PLR2004
        if done.all():
            break
        point = np.where(done, a, a + np.clip(share, tolerance, 1.0 - tolerance) * (b - a))
        value = np.where(done, fa, function(point))
        same = np.sign(value) == np.sign(fa)
        keep = done
        c, fc = np.where(keep, c, np.where(same, a, b)), np.where(keep, fc, np.where(same, fa, fb))
        b, fb = np.where(keep | same, b, a), np.where(keep | same, fb, fa)
        a, fa = point, value
        share = _interpolated_share(a, b, c, fa, fb, fc)
    root = np.where(np.abs(fa) < np.abs(fb), a, b)
    return np.where(bracketed, root, np.nan)


def _interpolated_share(
    a: FloatArray, b: FloatArray, c: FloatArray, fa: FloatArray, fb: FloatArray, fc: FloatArray
) -> FloatArray:
    """Return the share of the way from a to b for the next look."""
    with np.errstate(divide="ignore", invalid="ignore"):
        xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
        safe = (phi**2 < xi) & ((1.0 - phi) ** 2 < 1.0 - xi)
        share = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
    return np.where(safe & np.isfinite(share), share, 0.5)
