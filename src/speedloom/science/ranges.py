"""Named ranges of physical quantities: one object for the check, its message, the docs and the tests."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Range:
    """A closed range of a named quantity in a unit.

    >>> Range("vmax", 3.0, 13.0, "m/s").check(31.0, "were the splits in yards?")
    Traceback (most recent call last):
    ...
    speedloom.errors.OutOfRangeError: Expected vmax in [3, 13] m/s, got 31; were the splits in yards?
    """

    name: str
    low: float
    high: float
    unit: str

    def contains(self, value: ArrayLike) -> NDArray[np.bool_]:
        """Tell for every element whether it is finite and inside the range."""
        numbers = np.asarray(value, dtype=np.float64)
        inside: NDArray[np.bool_] = (numbers >= self.low) & (numbers <= self.high)
        return inside

    def check(self, value: ArrayLike, hint: str = "") -> NDArray[np.float64]:
        """Return the value as an array, or raise naming the first element outside.

        Raises:
            OutOfRangeError: an element is outside the range or not a number.
        """
        numbers = np.asarray(value, dtype=np.float64)
        inside = self.contains(numbers)
        if not inside.all():
            got = numbers[~inside].flat[0]
            tail = f"; {hint}" if hint else ""
            unit = f" {self.unit}" if self.unit else ""
            message = f"Expected {self.name} in [{self.low:g}, {self.high:g}]{unit}, got {got:g}{tail}"
            raise OutOfRangeError(message)
        return numbers


# Bounds of sense, not of health: wide enough for children and world records, narrow enough for wrong units.
START_FORCE = Range("start force F0", 0.5, 20.0, "N/kg")
TOP_SPEED_V0 = Range("theoretical top speed v0", 1.0, 25.0, "m/s")
BODY_MASS = Range("body mass", 15.0, 250.0, "kg")
BODY_HEIGHT = Range("body height", 0.8, 2.5, "m")
DRAG = Range("drag constant", 0.0, 5.0, "kg/m")
PARACHUTE_DRAG = Range("parachute drag constant", 0.0, 20.0, "kg/m")
SLED_LOAD = Range("towed load", 0.0, 1000.0, "kg")
FRICTION = Range("sled friction", 0.0, 2.0, "")
SLOPE = Range("slope", -1.5707963267948966, 1.5707963267948966, "rad")
WIND = Range("wind", -25.0, 25.0, "m/s")
GRAVITY = Range("gravity", 9.7, 9.9, "m/s²")
TIME = Range("time", 0.0, 1e6, "s")
DISTANCE = Range("distance", 0.0, 1e6, "m")
ACCELERATION = Range("acceleration", -20.0, 20.0, "m/s²")
SPEED = Range("speed", 0.0, 1e3, "m/s")
GATE_DISTANCE = Range("distance of a gate", 0.01, 10_000.0, "m")
BEHIND = Range("distance behind the first beam", 0.0, 20.0, "m")
VMAX = Range("vmax", 3.0, 13.0, "m/s")
TAU = Range("tau", 0.3, 3.0, "s")
SHARE = Range("share", 0.0, 1.0, "")
DECREMENT = Range("velocity decrement", 0.0, 0.99, "")
TIMING_SD = Range("timing noise (SD)", 1e-6, 1.0, "s")
LEVEL = Range("level of the band", 0.01, 0.9999, "")
AIR_TEMPERATURE = Range("air temperature", -40.0, 55.0, "°C")
AIR_PRESSURE = Range("air pressure", 40_000.0, 110_000.0, "Pa")
AIR_DENSITY = Range("air density", 0.4, 1.7, "kg/m³")
DRAG_COEFFICIENT = Range("drag coefficient", 0.1, 2.0, "")
HUNDRED_METRES = Range("100 m time", 8.0, 30.0, "s")
ALTITUDE = Range("altitude", -500.0, 6000.0, "m")
