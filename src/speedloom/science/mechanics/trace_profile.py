"""Force and speed from a speed trace (radar, laser, encoder): the physical motion fitted in speed."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from speedloom.errors import TooFewGatesError
from speedloom.science.mechanics.traces import fit_speed_trace
from speedloom.science.ranges import BODY_MASS, DRAG, TAU, VMAX, FloatArray

FINEST_MPS = 0.01
"""What a device writes at best [m/s]: a trace is never known better."""
MOST_CORRELATION = 0.95
"""Neighbouring residuals count as no more alike than this."""
_STEPS = 50
_SMALL = 1e-11
_SLOPE = 1e-6
_UNKNOWNS = 3

Speeds = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True)
class TraceProfile:
    """Fit of one trace: values with the spread of their logarithms.

    Attributes:
        vmax_mps: top speed of the mono-exponential [m/s].
        tau_s: its time constant [s].
        f0_npkg: force at no speed [N/kg].
        v0_mps: speed at no force [m/s].
        motion_covariance: (2, 2), of the logarithms of vmax and tau.
        force_covariance: (2, 2), of the logarithms of f0 and v0.
        converged: whether both fits ended inside the bounds of human sprinting.
    """

    vmax_mps: float
    tau_s: float
    f0_npkg: float
    v0_mps: float
    motion_covariance: FloatArray
    force_covariance: FloatArray
    converged: bool


def fit_trace_profile(
    time_s: ArrayLike, speed_mps: ArrayLike, *, mass_kg: float, drag_kgpm: float
) -> TraceProfile:
    """Fit one trace twice, by least squares in speed with its start fitted: mono-exponential, and by force.

    The spread takes neighbouring residuals as alike (a runner's steps show in a trace), so that many samples
    a second make no false precision.

    Args:
        time_s: times [s], (k,), rising; what lies before the first movement is cut off.
        speed_mps: speeds [m/s], (k,).
        mass_kg: body mass [kg].
        drag_kgpm: drag constant [kg/m].

    Raises:
        TooFewGatesError: fewer than five samples.
        OutOfRangeError: a body out of range.

    Source: samozino_2016, equations 1 to 4 (read); drag as in `air`.

    >>> time = np.linspace(0.1, 5.0, 50)
    >>> fit = fit_trace_profile(time, 9.0 * -np.expm1(-time / 1.1), mass_kg=70.0, drag_kgpm=0.25)
    >>> round(fit.vmax_mps, 2), round(fit.tau_s, 2), round(fit.f0_npkg, 1)
    (9.0, 1.1, 8.1)
    """
    mass, drag = BODY_MASS.check(mass_kg, "in kg"), DRAG.check(drag_kgpm, "in kg/m")
    kappa = float(drag / mass)
    time, speed = (np.asarray(one, dtype=np.float64) for one in (time_s, speed_mps))
    if time.size < _UNKNOWNS + 2:
        raise TooFewGatesError(f"Expected at least {_UNKNOWNS + 2} samples, got {time.size}")
    start = fit_speed_trace(time, speed, offset="fit")
    vmax, tau, offset = (float(one[0]) for one in (start.vmax_mps, start.tau_s, start.offset_s))
    if not (start.converged[0] and VMAX.contains(vmax) and TAU.contains(tau) and np.isfinite(offset)):
        return _unusable()

    def exponential(at: FloatArray) -> FloatArray:
        return np.asarray(np.exp(at[0]) * -np.expm1(-np.maximum(time - at[2], 0.0) / np.exp(at[1])))

    def physical(at: FloatArray) -> FloatArray:
        return _speeds(float(np.exp(at[0])), float(np.exp(at[1])), kappa, np.maximum(time - at[2], 0.0))

    guess = np.array([np.log(vmax / tau), np.log(vmax / (1.0 - kappa * vmax * tau)), offset])
    force, settled = _least_squares(physical, guess, speed)
    motion = np.array([np.log(vmax), np.log(tau), offset])
    return TraceProfile(
        vmax_mps=vmax,
        tau_s=tau,
        f0_npkg=float(np.exp(force[0])),
        v0_mps=float(np.exp(force[1])),
        motion_covariance=_covariance(exponential, motion, speed),
        force_covariance=_covariance(physical, force, speed),
        converged=settled,
    )


def _unusable() -> TraceProfile:
    nothing = np.full((2, 2), np.nan)
    return TraceProfile(np.nan, np.nan, np.nan, np.nan, nothing, nothing, converged=False)


def _speeds(f0_npkg: float, v0_mps: float, kappa: float, time_s: FloatArray) -> FloatArray:
    """Speed from rest of v' = f0 (1 - v/v0) - kappa v²: the roots of the right side are its two ends."""
    slope = f0_npkg / v0_mps
    root = np.sqrt(slope * slope + 4.0 * kappa * f0_npkg)
    top = 2.0 * f0_npkg / (slope + root)
    # top/other end, written so that it goes to nought with the drag.
    ratio = -kappa * top * top / f0_npkg
    left = np.exp(-root * time_s)
    return np.asarray(top * -np.expm1(-root * time_s) / (1.0 - ratio * left))


def _least_squares(model: Speeds, guess: FloatArray, speed: FloatArray) -> tuple[FloatArray, bool]:
    """Give the minimum by Gauss–Newton, the step halved until the squares fall; and whether it settled."""
    at = guess
    for _ in range(_STEPS):
        step = np.linalg.lstsq(_jacobian(model, at), speed - model(at), rcond=None)[0]
        squares = _squares(model, at, speed)
        while _squares(model, at + step, speed) > squares and np.max(np.abs(step)) > _SMALL:
            step = step / 2.0
        at = at + step
        if np.max(np.abs(step)) <= _SMALL:
            return at, True
    return at, False


def _squares(model: Speeds, at: FloatArray, speed: FloatArray) -> float:
    return float(np.sum((speed - model(at)) ** 2))


def _jacobian(model: Speeds, at: FloatArray) -> FloatArray:
    steps = _SLOPE * np.eye(len(at))
    return np.column_stack([(model(at + step) - model(at - step)) / (2.0 * _SLOPE) for step in steps])


def _covariance(model: Speeds, at: FloatArray, speed: FloatArray) -> FloatArray:
    """Covariance of the two logarithms; the start is a nuisance."""
    residual = speed - model(at)
    noise = max(float(residual @ residual) / (len(speed) - _UNKNOWNS), FINEST_MPS**2)
    alike = float(residual[1:] @ residual[:-1]) / max(float(residual @ residual), np.finfo(float).tiny)
    # A fit leaves its residuals less alike than the noise was, by one over the samples for each unknown.
    alike = min(max(alike, 0.0) + _UNKNOWNS * (1.0 + max(alike, 0.0)) / len(speed), MOST_CORRELATION)
    jacobian = _jacobian(model, at)
    whole = np.linalg.inv(jacobian.T @ jacobian) * noise * (1.0 + alike) / (1.0 - alike)
    return np.asarray(whole[:2, :2])
