"""The vertical force-velocity profile of loaded squat jumps, the height it jumps, and its optimum."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics.jump import IN_CENTIMETRES, IN_POUNDS, PUSH_OFF, squat_jump
from speedloom.science.ranges import BODY_MASS, Range

FloatArray = NDArray[np.float64]

PMAX = Range("Pmax", 1.0, 150.0, "W/kg")
FEWEST_LOADS = 2


@dataclass(frozen=True)
class JumpProfile:
    """A vertical force-velocity profile: F0 [N/kg], V0 [m/s], Pmax [W/kg] and slope [N·s/m/kg, below 0].

    The slope repeats badly from test to test: CV 14-30 %, ICC 0.36-0.79 (`lindberg_2021`; read).
    """

    f0_npkg: FloatArray
    v0_mps: FloatArray
    pmax_wpkg: FloatArray
    slope: FloatArray


@dataclass(frozen=True)
class OptimalJumpProfile:
    """The profile of highest jump at one Pmax: slope [N·s/m/kg], F0 [N/kg], V0 [m/s], height [m]."""

    slope: FloatArray
    f0_npkg: FloatArray
    v0_mps: FloatArray
    height_m: FloatArray


def fit_jump_profile(
    heights_m: ArrayLike,
    added_kg: ArrayLike,
    *,
    mass_kg: ArrayLike,
    push_off_m: ArrayLike,
    g: float = STANDARD_GRAVITY_MPS2,
) -> JumpProfile:
    """Fit the force-velocity line of loaded squat jumps by least squares of mean force on mean speed.

    Heights [m] and added masses [kg] have the loads on the last axis; body mass [kg] and push-off distance
    [m] have the leading shape. F0, Pmax and slope are per kg of body mass. Show it with its poor
    repeatability: slope CV 14-30 %, ICC 0.36-0.79 (`lindberg_2021`; read).

    Raises OutOfRangeError with fewer than two loads, or when speed does not fall as load grows.
    Source: `samozino_2008` (abstract read).

    >>> added = [0, 20, 40, 60, 80]
    >>> p = fit_jump_profile([0.36, 0.28, 0.215, 0.16, 0.115], added, mass_kg=80, push_off_m=0.4, g=9.81)
    >>> float(p.v0_mps), float(p.pmax_wpkg)
    (2.9826, 25.42)
    """
    body = BODY_MASS.check(mass_kg, IN_POUNDS)[..., None]
    added = np.asarray(added_kg, dtype=np.float64)
    push_off = np.asarray(push_off_m, dtype=np.float64)[..., None]
    jump = squat_jump(body + added, heights_m, push_off, g=g)
    if jump.force_n.shape[-1] < FEWEST_LOADS:
        raise OutOfRangeError(
            f"Expected jumps with {FEWEST_LOADS} loads or more, got {jump.force_n.shape[-1]}; add one"
        )
    force, speed = np.broadcast_arrays(jump.force_n / body, jump.speed_mps)
    centred = speed - speed.mean(axis=-1, keepdims=True)
    slope = (centred * force).sum(axis=-1) / np.maximum((centred**2).sum(axis=-1), np.finfo(np.float64).tiny)
    if not np.all(slope < 0.0):
        raise OutOfRangeError(
            f"Expected force to rise as speed falls (slope below 0 N·s/m/kg), got slope {slope}; "
            "were heights and loads matched, and each load jumped?"
        )
    f0 = force.mean(axis=-1) - slope * speed.mean(axis=-1)
    v0 = -f0 / slope
    return JumpProfile(np.asarray(f0), np.asarray(v0), np.asarray(f0 * v0 / 4.0), np.asarray(slope))


def jump_height_from_profile(
    f0_npkg: ArrayLike, v0_mps: ArrayLike, push_off_m: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2
) -> FloatArray:
    """Return the height [m] a profile F0 [N/kg], V0 [m/s] jumps over a push-off distance [m], broadcast.

    Take-off speed hPO (S/2 + √(S²/4 + 2 (F0 - g)/hPO)) with S = -F0/V0, height v²/2g, `g` in m/s². The
    profile behind it repeats badly (`JumpProfile`).

    Raises OutOfRangeError when F0 does not lift the body (F0 ≤ g) or V0 is not above 0.
    Source: `samozino_2012` (memory, derived again).

    >>> float(jump_height_from_profile(35, 2.8571, 0.40, g=9.81))
    0.3618
    """
    f0 = np.asarray(f0_npkg, dtype=np.float64)
    v0 = np.asarray(v0_mps, dtype=np.float64)
    if not (np.all(f0 > g) and np.all(v0 > 0.0)):
        raise OutOfRangeError(
            f"Expected F0 above g ({g:g} N/kg) and V0 above 0 m/s, got {f0} and {v0}; was F0 in N?"
        )
    half = f0 / (2.0 * v0)
    # The conjugate of the published root: no cancellation when the slope is steep.
    speed = (
        2.0
        * (f0 - g)
        / (half + np.sqrt(half**2 + 2.0 * (f0 - g) / PUSH_OFF.check(push_off_m, IN_CENTIMETRES)))
    )
    return np.asarray(speed**2 / (2.0 * g))


def optimal_jump_profile(
    pmax_wpkg: ArrayLike, push_off_m: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2
) -> OptimalJumpProfile:
    """Return the profile of highest jump for a Pmax [W/kg] and a push-off distance [m], broadcast.

    At the optimum the jump takes off at V0 and pushes with F0/2 = Pmax/(V0/2) on average, so its height
    solves Pmax = g (h/hPO + 1) √(gh/2), a cubic in √h with one real root; `g` in m/s². It equals the
    published closed form, which loses digits at large Pmax. An athlete's distance from it repeats badly
    (`JumpProfile`), and little height hangs on it: 13 % off costs 0.002 m.

    Raises OutOfRangeError. Sources: `samozino_2012`, `samozino_2014` (memory, confirmed by numerical
    maximisation).

    >>> best = optimal_jump_profile(25, 0.40, g=9.81)
    >>> float(best.slope), float(best.f0_npkg), float(best.v0_mps), float(best.height_m)
    (-14.0232, 37.448, 2.6704, 0.3635)
    """
    pmax = PMAX.check(pmax_wpkg, "was it in W?")
    push_off = PUSH_OFF.check(push_off_m, IN_CENTIMETRES)
    third = np.sqrt(push_off / 3.0)
    power = pmax / (g * np.sqrt(g / 2.0))
    root = 2.0 * third * np.sinh(np.arcsinh(1.5 * power / third) / 3.0)
    height = root**2
    force = g * (height / push_off + 1.0)
    v0 = np.sqrt(2.0 * g * height)
    return OptimalJumpProfile(
        np.asarray(-2.0 * force / v0), np.asarray(2.0 * force), np.asarray(v0), np.asarray(height)
    )


def profile_imbalance(slope: ArrayLike, optimal_slope: ArrayLike) -> FloatArray:
    """Return the distance [share] of a slope from the optimal one [both N·s/m/kg, below 0]: |1 - S/Sopt|.

    Below 1, S/Sopt says force is short, above 1 speed. With a slope CV of 14-30 % (`lindberg_2021`; read)
    one test cannot tell an imbalance of 0.2 from none.

    Raises OutOfRangeError unless both are below 0. Source: `samozino_2014` (memory).

    >>> float(profile_imbalance(-12.25, -14.0232))
    0.1264
    """
    own = np.asarray(slope, dtype=np.float64)
    best = np.asarray(optimal_slope, dtype=np.float64)
    if not (np.all(own < 0.0) and np.all(best < 0.0)):
        raise OutOfRangeError(
            f"Expected slopes below 0 N·s/m/kg, got {own} and {best}; was one given without its sign?"
        )
    return np.asarray(np.abs(1.0 - own / best))
