"""The mono-exponential fitted to speed traces (radar, laser, encoder) and to positions at known times."""

from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError, TooFewGatesError
from speedloom.science import ranges
from speedloom.science.mechanics._separable import Basis, Separable
from speedloom.science.mechanics.exponential import scaled_distance
from speedloom.science.ranges import FloatArray

Offset = Literal["known", "fit"]

# Time constants from 1/1000 to 1000 times the length of the trace, in steps of 15 %.
_SHARES = np.log(np.geomspace(1e-3, 1e3, 100))


class TraceFit(NamedTuple):
    """Fit of n traces, arrays (n,): vmax (m/s), tau (s), offset (s), standard errors, residual SD.

    `offset_se_s` is 0 where the offset was known; `converged` is False where no minimum was found.
    """

    vmax_mps: FloatArray
    tau_s: FloatArray
    offset_s: FloatArray
    vmax_se_mps: FloatArray
    tau_se_s: FloatArray
    offset_se_s: FloatArray
    residual_sd: FloatArray
    converged: NDArray[np.bool_]


def fit_speed_trace(
    time_s: ArrayLike, speed_mps: ArrayLike, *, known_sd: float | None = None, offset: Offset = "known"
) -> TraceFit:
    """Fit v = vmax·(1 − e^(−(t − offset)/tau)) to speeds, least squares in speed, without start values.

    Args:
        time_s: times (s), (k,) or (n, k); with a known offset they count from the first movement.
        speed_mps: speeds (m/s), (k,) or (n, k), NaN = missing; cut off what lies before the first movement.
        known_sd: known noise of one speed (SD, m/s); None: from the residuals with n − p degrees of freedom.
        offset: ``known`` (0) or ``fit``.

    Raises:
        TooFewGatesError: fewer samples than unknowns, or than unknowns + 1 when the noise is not known.
        OutOfRangeError: the offset is neither known nor to be fitted.

    >>> fit = fit_speed_trace([0.5, 1.0, 2.0, 4.0], [3.408, 5.654, 8.111, 9.643])
    >>> round(float(fit.vmax_mps[0]), 2), round(float(fit.tau_s[0]), 2)
    (10.0, 1.2)
    """
    if offset not in ("known", "fit"):
        raise OutOfRangeError(f"Expected offset to be 'known' or 'fit', got {offset!r}")
    time, speed, weight = _read(time_s, speed_mps, unknowns=3 if offset == "fit" else 2, known_sd=known_sd)

    def basis(log_tau: FloatArray) -> Basis:
        scaled = time.T * np.exp(-log_tau)
        left = np.exp(-scaled)
        return Basis(-np.expm1(-scaled), -scaled * left, scaled * left * (1.0 - scaled))

    grid = _SHARES + np.log(np.max(time))
    best = Separable(basis, speed.T, weight.T, offset == "fit").minimise(grid)
    tau = np.exp(best.log_scale)
    # v = intercept + c·(1 − e^(−t/τ)) is vmax·(1 − e^(−(t − t0)/τ)) with vmax = intercept + c.
    vmax = best.factor + best.offset
    start = tau * np.log(best.factor / np.where(vmax > 0.0, vmax, np.nan)) if offset == "fit" else 0.0 * tau
    left = np.exp(-(time - start[:, None]) / tau[:, None])
    jacobian = np.stack(
        [
            1.0 - left,
            -(vmax / tau**2)[:, None] * (time - start[:, None]) * left,
            -(vmax / tau)[:, None] * left,
        ],
        axis=2,
    )
    residual = speed - vmax[:, None] * (1.0 - left)
    return _result((vmax, tau, start), jacobian, residual, weight, known_sd, offset, best.inside)


def fit_position_trace(
    time_s: ArrayLike,
    distance_m: ArrayLike,
    *,
    offset_s: ArrayLike,
    known_sd: float | None = None,
) -> TraceFit:
    """Fit the mono-exponential to distances at known times, least squares in position.

    Args:
        time_s: times (s), (k,) or (n, k).
        distance_m: distances (m), (k,) or (n, k), NaN = missing.
        offset_s: time of the first movement, such as a reaction time (s), a number or (n,).
        known_sd: known noise of one distance (SD, m); None: from the residuals.

    Raises:
        TooFewGatesError: fewer samples than unknowns, or than unknowns + 1 when the noise is not known.

    >>> fit = fit_position_trace([1.89, 3.78, 5.47, 7.10], [10.0, 30.0, 50.0, 70.0], offset_s=0.146)
    >>> float(fit.vmax_mps[0])
    12.25
    """
    start = np.asarray(offset_s, dtype=np.float64).reshape(-1, 1)
    moved = np.atleast_2d(np.asarray(time_s, dtype=np.float64)) - start
    time, distance, weight = _read(moved, distance_m, unknowns=2, known_sd=known_sd)

    def basis(log_tau: FloatArray) -> Basis:
        # x/vmax = τ·s(t/τ); its derivatives by ln τ follow from s' = 1 − e^(−g), s'' = e^(−g).
        tau, g = np.exp(log_tau), time.T * np.exp(-log_tau)
        rise = -np.expm1(-g)
        value = scaled_distance(g)
        return Basis(tau * value, tau * (value - g * rise), tau * (value - g * rise + g * g * (1.0 - rise)))

    best = Separable(basis, distance.T, weight.T, has_offset=False).minimise(_SHARES + np.log(np.max(time)))
    vmax, tau = best.factor, np.exp(best.log_scale)
    at = basis(best.log_scale)
    jacobian = np.stack([at.value.T, (vmax / tau * at.slope).T], axis=2)
    residual = distance - (vmax * at.value).T
    fixed = np.broadcast_to(start[:, 0], vmax.shape)
    return _result((vmax, tau, fixed), jacobian, residual, weight, known_sd, "known", best.inside)


def _read(
    time_s: ArrayLike, values: ArrayLike, *, unknowns: int, known_sd: float | None
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return times (n, k), values with 0 where missing, and weights 1 or 0."""
    time, value = np.broadcast_arrays(
        np.atleast_2d(np.asarray(time_s, dtype=np.float64)),
        np.atleast_2d(np.asarray(values, dtype=np.float64)),
    )
    used = np.isfinite(time) & np.isfinite(value)
    ranges.TIME.check(np.where(used, time, 0.0), "cut off what lies before the first movement")
    fewest = unknowns + (known_sd is None)
    count = used.sum(axis=1)
    if np.any(count < fewest):
        row = int(np.argmax(count < fewest))
        raise TooFewGatesError(f"Expected at least {fewest} samples, got {count[row]} in row {row}")
    return np.where(used, time, 0.0), np.where(used, value, 0.0), used.astype(np.float64)


def _result(
    estimates: tuple[FloatArray, FloatArray, FloatArray],
    jacobian: FloatArray,
    residual: FloatArray,
    weight: FloatArray,
    known_sd: float | None,
    offset: Offset,
    inside: NDArray[np.bool_],
) -> TraceFit:
    size = 3 if offset == "fit" else 2
    part = weight[:, :, None] * jacobian[:, :, :size]
    square = (weight * residual**2).sum(axis=1)
    freedom = weight.sum(axis=1) - size
    spread = np.sqrt(square / np.where(freedom > 0.0, freedom, np.nan))
    noise = spread if known_sd is None else np.full_like(spread, known_sd)
    se = np.zeros((weight.shape[0], 3))
    se[:, :size] = noise[:, None] * _root_of_inverse_diagonal(part)
    return TraceFit(*estimates, se[:, 0], se[:, 1], se[:, 2], spread, inside)


def _root_of_inverse_diagonal(jacobian: FloatArray) -> FloatArray:
    """Return the roots of the diagonal of (JᵀJ)⁻¹ by QR, which keeps the digits that squaring would lose."""
    r = np.linalg.qr(jacobian, mode="r")
    inverse = np.linalg.inv(r)
    return np.asarray(np.sqrt((inverse * inverse).sum(axis=2)))
