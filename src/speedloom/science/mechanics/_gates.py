"""Split times made ready for a fit: shapes, missing gates, weights, checks."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError, TooFewGatesError
from speedloom.science import ranges
from speedloom.science.ranges import FloatArray

Start = Literal["movement", "unknown", "behind"]
STARTS: tuple[Start, ...] = ("movement", "unknown", "behind")


@dataclass(frozen=True)
class Gates:
    """Times at gates of n athletes with at most k gates.

    Attributes:
        distance: metres the athlete has run at each gate (m), (n, k), or (1, k) when all share the gates.
        time: times (s), (n, k), 0 where missing.
        weight: 1/SD² of the timing noise (1/s²), (n, k), 0 where missing.
        behind: distance from the standing athlete to the beam that starts the clock (m), (n, 1), or None.
        fits_offset: whether the clock's offset is a third unknown.
    """

    distance: FloatArray
    time: FloatArray
    weight: FloatArray
    behind: FloatArray | None
    fits_offset: bool

    @property
    def used(self) -> NDArray[np.bool_]:
        """Where a gate has a time."""
        return np.asarray(self.weight > 0.0)

    def rows(self, index: NDArray[np.intp]) -> "Gates":
        """Return the gates of some athletes only."""
        shared = self.distance.shape[0] == 1
        return Gates(
            self.distance if shared else self.distance[index],
            self.time[index],
            self.weight[index],
            None if self.behind is None else self.behind[index],
            self.fits_offset,
        )


def read_gates(
    distances_m: ArrayLike,
    times_s: ArrayLike,
    *,
    timing_sd_s: ArrayLike,
    start: Start,
    behind_m: ArrayLike | None,
    fewest: int | None,
) -> Gates:
    """Return checked gates; `fewest` is the number of times an athlete needs, None for one per unknown."""
    if start not in STARTS:
        raise OutOfRangeError(f"Expected start to be one of {', '.join(STARTS)}, got {start!r}")
    time = np.atleast_2d(np.asarray(times_s, dtype=np.float64))
    distance = np.atleast_2d(np.asarray(distances_m, dtype=np.float64))
    missing = ~np.isfinite(time) | ~np.isfinite(distance)
    ranges.TIME.check(np.where(missing, 0.0, time), "a split time cannot be negative")
    ranges.GATE_DISTANCE.check(np.where(np.isfinite(distance), distance, 1.0), "gates lie ahead of the start")
    noise = ranges.TIMING_SD.check(timing_sd_s)
    noise = noise[:, None] if noise.ndim == 1 and noise.size == time.shape[0] else noise
    weight = np.where(missing, 0.0, 1.0 / np.broadcast_to(noise, missing.shape) ** 2)
    gates = Gates(
        distance=_fill(distance + _behind(start, behind_m, missing.shape[0])),
        time=np.where(missing, 0.0, np.broadcast_to(time, missing.shape)),
        weight=weight,
        behind=_behind(start, behind_m, missing.shape[0]) if start == "behind" else None,
        fits_offset=start == "unknown",
    )
    _check_enough(gates, fewest if fewest is not None else 2 + gates.fits_offset)
    return gates


def _fill(distance: FloatArray) -> FloatArray:
    """Return distances with any number where there is none, and one row when all rows are the same."""
    filled = np.where(np.isfinite(distance), distance, 1.0)
    return filled[:1] if np.all(filled == filled[:1]) else filled


def _behind(start: Start, behind_m: ArrayLike | None, athletes: int) -> FloatArray:
    if (behind_m is None) != (start != "behind"):
        raise OutOfRangeError(
            f"Expected behind_m with start 'behind' and only then, got start {start!r} "
            f"and behind_m {behind_m!r}; "
            "measure the distance from the standing athlete to the first beam"
        )
    if behind_m is None:
        return np.zeros((1, 1))
    metres = ranges.BEHIND.check(behind_m, "measured from the front foot to the first beam")
    return np.broadcast_to(metres.reshape(-1, 1), (athletes, 1))


def _check_enough(gates: Gates, fewest: int) -> None:
    count = gates.used.sum(axis=1)
    if np.any(count < fewest):
        row = int(np.argmax(count < fewest))
        raise TooFewGatesError(
            f"Expected at least {fewest} gate times for this start model, got {count[row]} in row {row}; "
            "time more gates or pass a prior"
        )
