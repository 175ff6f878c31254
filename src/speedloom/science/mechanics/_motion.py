"""The sprint as one or two Riccati segments, split where the runner is as fast as a tail wind.

Arrays only and unchecked: the public functions of `sprint` check their arguments and then work here.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from speedloom.science.mechanics._riccati import Change, FloatArray, Segment, State

# Halley's step triples the digits: the first guess is within 30 %, so the fourth is exact; one more
# pays for the jump of the third derivative where the drag changes its direction.
_HALLEY_STEPS = 5


@dataclass(frozen=True)
class Forces:
    """The right-hand side A + B·v − κ·(v − w)·|v − w|, arrays that broadcast together.

    A: acceleration at v = 0 without drag (m/s²); B: slope by speed (1/s), negative; κ: drag (1/m);
    w: wind (m/s).
    """

    push: FloatArray
    slope: FloatArray
    drag: FloatArray
    wind: FloatArray

    def start_acceleration(self) -> FloatArray:
        """Return the acceleration at rest (m/s²)."""
        return np.asarray(self.push + self.drag * self.wind * np.abs(self.wind))


@dataclass(frozen=True)
class Motion:
    """A run from rest in closed form; `second` begins where a tail wind is outrun."""

    first: Segment
    second: Segment | None
    crosses: NDArray[np.bool_]
    switch_s: FloatArray
    switch_m: FloatArray
    terminal: FloatArray

    def state(self, time: FloatArray) -> State:
        """Return distance (m), speed (m/s), acceleration (m/s²) at a time (s) after the first movement."""
        if self.second is None:
            return self.first.state(time)
        early = self.first.state(np.minimum(time, self.switch_s))
        late = self.second.state(np.maximum(time - self.switch_s, 0.0))
        before = time <= self.switch_s
        return State(
            np.where(before, early.distance, self.switch_m + late.distance),
            np.where(before, early.speed, late.speed),
            np.where(before, early.acceleration, late.acceleration),
        )

    def time_to_distance(self, distance: FloatArray) -> FloatArray:
        """Return the time (s) to a distance (m) by Halley's iteration."""
        time = np.maximum(np.sqrt(2.0 * distance / self.first.rate), distance / self.terminal)
        for _ in range(_HALLEY_STEPS):
            x, v, acc = self.state(time)
            miss = x - distance
            steepness = 2.0 * v * v - miss * acc
            moving = steepness > 0.0
            time = time - np.where(moving, 2.0 * miss * v / np.where(moving, steepness, 1.0), 0.0)
        return time

    def time_to_speed(self, speed: FloatArray) -> FloatArray:
        """Return the time (s) at which a speed (m/s) is reached, infinite if it never is."""
        early = self.first.time_to_speed(speed)
        if self.second is None:
            return early
        late = self.switch_s + self.second.time_to_speed(np.maximum(speed, self.second.start))
        return np.where(self.crosses & (speed > self.second.start), late, early)

    def sensitivity(self, time: FloatArray, slope: FloatArray, intercept: FloatArray) -> Change:
        """Return the change of distance and speed at a fixed time (s) per unit of a parameter of B and A."""
        if self.second is None:
            return self.first.sensitivity(time, slope, intercept)
        before = time <= self.switch_s
        early_s = np.where(before, time, self.switch_s)
        late_s = np.where(before, 0.0, time - np.where(before, 0.0, self.switch_s))
        early, there = self.first.sensitivity(early_s, slope, intercept), self.first.state(early_s)
        late, now = self.second.sensitivity(late_s, slope, intercept), self.second.state(late_s)
        delay = -early.speed / np.where(before, 1.0, there.acceleration)
        covered = early.distance + (there.speed - now.speed) * delay
        return Change(
            np.where(before, early.distance, covered + late.distance),
            np.where(before, early.speed, late.speed - now.acceleration * delay),
        )


def solve(forces: Forces) -> Motion:
    """Return the closed-form motion from rest; the start acceleration must be positive."""
    wind, drag, slope = forces.wind, forces.drag, forces.slope
    zero = np.zeros(np.broadcast(forces.push, slope, drag, wind).shape)
    # At rest the air pushes when it moves forward faster than the runner, otherwise it brakes.
    sign = np.where(wind > 0.0, -1.0, 1.0)
    first = Segment(
        start=zero,
        curvature=-sign * drag + zero,
        rate=forces.start_acceleration() + zero,
        damping=-(0.5 * slope + sign * drag * wind) + zero,
    )
    surplus = forces.push + slope * wind + zero
    crosses = (wind > 0.0) & (surplus > 0.0)
    never = np.full(zero.shape, np.inf)
    if not crosses.any():
        return Motion(first, None, crosses, never, never, first.gain)
    outrun = np.where(crosses, wind, 0.0)
    second = Segment(
        start=outrun,
        curvature=-drag + zero,
        rate=np.where(crosses, surplus, 1.0),
        damping=-0.5 * slope + zero,
    )
    switch_s = np.where(crosses, first.time_to_speed(outrun), np.inf)
    there = first.state(np.where(crosses, switch_s, 0.0))
    terminal = np.where(crosses, outrun + second.gain, first.gain)
    return Motion(first, second, crosses, switch_s, np.where(crosses, there.distance, np.inf), terminal)
