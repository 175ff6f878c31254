"""Closed-form solution of v' = a·v² + b·v + c over one segment of constant drag direction.

With u the speed at the start of the segment: q = a·u² + b·u + c, P = −(a·u + b/2),
λ² = P² − a·q, r = q/(λ + P); then v = u + r − d with d = r·e^(−2λt)/(1 + a·y), y = r·(1 − e^(−2λt))/(2λ),
and x = (u + r)·t − log1p(a·y)/a. No cosh, so nothing overflows, and a = 0 is exactly mono-exponential.
Where λ² < 0 (a parachute in a tail wind) the same solution is written with tangents.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


class State(NamedTuple):
    """Distance (m), speed (m/s) and acceleration (m/s²) at one moment, one shape."""

    distance: FloatArray
    speed: FloatArray
    acceleration: FloatArray


class Change(NamedTuple):
    """Change of distance (m) and speed (m/s) at a fixed time per unit of a parameter, one shape."""

    distance: FloatArray
    speed: FloatArray


def log1p_over(curvature: FloatArray, y: FloatArray) -> FloatArray:
    """Return log1p(a·y)/a, which is y where a = 0."""
    flat = curvature == 0.0
    quotient: FloatArray = np.where(flat, y, np.log1p(curvature * y) / np.where(flat, 1.0, curvature))
    return quotient


@dataclass(frozen=True)
class Segment:
    """One segment: start speed u (m/s), a (1/m), q (m/s²), P (1/s), each an array of one shape."""

    start: FloatArray
    curvature: FloatArray
    rate: FloatArray
    damping: FloatArray

    @cached_property
    def discriminant(self) -> FloatArray:
        """Square λ² of the decay (1/s²)."""
        return np.asarray(self.damping**2 - self.curvature * self.rate)

    @cached_property
    def swings(self) -> NDArray[np.bool_]:
        """Where λ² is not positive, so that the tangent form holds."""
        return np.asarray(self.discriminant <= 0.0)

    @cached_property
    def decay(self) -> FloatArray:
        """Decay λ (1/s), 1 where the tangent form holds."""
        return np.sqrt(np.where(self.swings, 1.0, self.discriminant))

    @cached_property
    def gain(self) -> FloatArray:
        """Gain r (m/s): terminal speed less start speed."""
        return np.asarray(self.rate / (self.decay + self.damping))

    def state(self, time: FloatArray) -> State:
        """Return distance covered in the segment, speed and acceleration after a time (s) in it."""
        a, r, lam = self.curvature, self.gain, self.decay
        gone = -np.expm1(-2.0 * lam * time)
        y = r * gone / (2.0 * lam)
        deficit = r * (1.0 - gone) / (1.0 + a * y)
        closed = State(
            (self.start + r) * time - log1p_over(a, y),
            self.start + r - deficit,
            deficit * (2.0 * lam + a * deficit),
        )
        if not self.swings.any():
            return closed
        tangent = self._tangent_state(time)
        return State(*(np.where(self.swings, t, c) for t, c in zip(tangent, closed, strict=True)))

    def _tangent_state(self, time: FloatArray) -> State:
        omega, a = self._omega, np.where(self.swings, self.curvature, 1.0)
        # Beyond the pole the motion has left this segment long ago; the clip keeps the logarithm real.
        angle = np.minimum(omega * time, np.pi - 1e-9)
        sine = np.where(omega > 0.0, np.sin(angle) / np.where(omega > 0.0, omega, 1.0), time)
        growth = np.maximum(np.cos(angle) + self.damping * sine, 1e-300)
        z = self.rate * sine / growth
        distance = self.start * time + (self.damping * time - np.log(growth)) / a
        return State(distance, self.start + z, (a * z - 2.0 * self.damping) * z + self.rate)

    @cached_property
    def _omega(self) -> FloatArray:
        return np.sqrt(np.maximum(-self.discriminant, 0.0))

    def time_to_speed(self, speed: FloatArray) -> FloatArray:
        """Return the time (s) in the segment at which a speed is reached, infinite if never."""
        a, r, lam = self.curvature, self.gain, self.decay
        z = speed - self.start
        reached = z < r
        z_safe = np.where(reached, z, 0.0)
        used = 2.0 * lam * z_safe / (r * (2.0 * lam + a * (r - z_safe)))
        closed = np.where(reached, -np.log1p(-used) / (2.0 * lam), np.inf)
        if not self.swings.any():
            return closed
        ahead = self.rate - self.damping * z
        omega = np.where(self._omega > 0.0, self._omega, 1.0)
        tangent = np.where(self._omega > 0.0, np.arctan2(omega * z, ahead) / omega, z / ahead)
        return np.where(self.swings, tangent, closed)

    def sensitivity(self, time: FloatArray, slope: FloatArray, intercept: FloatArray) -> Change:
        """Return the change of distance and speed at a fixed time per unit of a parameter.

        Args:
            time: time in the segment (s).
            slope: derivative of b by the parameter.
            intercept: derivative of c by the parameter; a must not depend on it.
        """
        complex_needed = bool(self.swings.any())
        square = np.where(self.discriminant == 0.0, 1e-18, self.discriminant)
        lam = np.sqrt(square + 0j) if complex_needed else np.sqrt(square)
        a, damping = self.curvature, self.damping
        r = self.rate / (lam + damping)
        gone = -np.expm1(-2.0 * lam * time)
        y = r * gone / (2.0 * lam)
        deficit = r * (1.0 - gone) / (1.0 + a * y)
        d_rate, d_damping = intercept + slope * self.start, -0.5 * slope
        d_lam = (damping * d_damping - 0.5 * a * d_rate) / lam
        d_r = (d_rate - r * (d_lam + d_damping)) / (lam + damping)
        d_y = (d_r * gone + 2.0 * r * time * (1.0 - gone) * d_lam) / (2.0 * lam) - y * d_lam / lam
        d_deficit = deficit * (d_r / r - 2.0 * time * d_lam - a * d_y / (1.0 + a * y))
        return Change(np.real(time * d_r - d_y / (1.0 + a * y)), np.real(d_r - d_deficit))
