"""Times of towed runs as a function of the friction of sled and surface."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.science import ranges
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics._motion import Forces, Motion, solve
from speedloom.science.mechanics.sprint import Runner
from speedloom.science.ranges import FloatArray


@dataclass(frozen=True)
class TowedTimes:
    """Runs of n athletes at k distances on level ground in still air, arrays (n, 1) and (n, k)."""

    push: FloatArray
    slope: FloatArray
    drag: FloatArray
    hold: FloatArray
    distance: FloatArray

    @classmethod
    def of(
        cls,
        runner: Runner,
        load_kg: ArrayLike,
        distance_m: ArrayLike,
        behind_m: float,
        shape: tuple[int, ...],
    ) -> "TowedTimes":
        """Return the problem; the beam that starts the clock is the first distance."""
        athletes = (shape[0], 1)
        f0, v0, mass, drag, load = (
            np.broadcast_to(np.asarray(part, dtype=np.float64).reshape(-1, 1), athletes)
            for part in (runner.f0_npkg, runner.v0_mps, runner.mass_kg, runner.drag_kgpm, load_kg)
        )
        ranges.SLED_LOAD.check(load)
        gates = np.broadcast_to(ranges.DISTANCE.check(distance_m), shape) + behind_m
        start = np.full(athletes, float(ranges.BEHIND.check(behind_m)))
        moved = mass + load
        return cls(
            push=mass * f0 / moved,
            slope=-mass * f0 / v0 / moved,
            drag=drag / moved,
            hold=load * STANDARD_GRAVITY_MPS2 / moved,
            distance=np.concatenate([start, gates], axis=1),
        )

    def largest_friction(self) -> FloatArray:
        """Return the friction at which the sled no longer starts (n,)."""
        limit: FloatArray = (self.push / self.hold)[:, 0]
        return limit

    def _run(self, theta: FloatArray, rows: NDArray[np.intp]) -> tuple[Motion, FloatArray]:
        push = self.push[rows] - theta * self.hold[rows]
        run = solve(Forces(push, self.slope[rows], self.drag[rows], np.zeros_like(push)))
        return run, run.time_to_distance(self.distance[rows])

    def predict(self, theta: FloatArray, rows: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
        """Return times (m, k) and their derivative by the friction (m, k, 1)."""
        run, times = self._run(theta, rows)
        by_friction = _time_change(run, times, np.zeros_like(theta), -self.hold[rows])
        return times[:, 1:] - times[:, :1], by_friction[:, :, None]

    def carried_variance(self, theta: FloatArray, weight: FloatArray, covariance: FloatArray) -> FloatArray:
        """Return the variance that the profile's covariance of (ln f0, ln v0) adds to the friction (n,)."""
        run, times = self._run(theta, np.arange(theta.shape[0]))
        none = np.zeros_like(theta)
        by_friction = _time_change(run, times, none, -self.hold)
        changes = [
            _time_change(run, times, self.slope, self.push),
            _time_change(run, times, -self.slope, none),
        ]
        information = (weight * by_friction**2).sum(axis=1)
        pull = np.stack([(weight * by_friction * change).sum(axis=1) for change in changes], axis=1)
        pull = pull / information[:, None]
        return np.asarray((pull[:, :, None] * covariance * pull[:, None, :]).sum(axis=(1, 2)))


def _time_change(run: Motion, times: FloatArray, slope: FloatArray, intercept: FloatArray) -> FloatArray:
    """Return the change of the times after the first column per unit of a parameter."""
    speed = run.state(times).speed
    moving = speed > 0.0
    change = -run.sensitivity(times, slope, intercept).distance / np.where(moving, speed, 1.0)
    change = np.where(moving, change, 0.0)
    return np.asarray(change[:, 1:] - change[:, :1])
