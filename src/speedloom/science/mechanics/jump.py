"""Jumps: height, reactive strength and power from times, heights and masses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.ranges import BODY_MASS, Range

FloatArray = NDArray[np.float64]
# What no person's jump leaves (common practice): wide enough for records, narrow enough for wrong units.
FLIGHT = Range("flight time", 0.05, 1.2, "s")
TAKEOFF_SPEED = Range("take-off speed", 0.0, 6.0, "m/s")
HEIGHT = Range("jump height", 0.01, 1.5, "m")
CONTACT = Range("contact time", 0.05, 2.0, "s")
TAKEOFF_TIME = Range("time to take-off", 0.05, 2.0, "s")
MOVED_MASS = Range("body plus added mass", 15.0, 600.0, "kg")
PUSH_OFF = Range("push-off distance", 0.1, 0.8, "m")

IN_MILLISECONDS = "was it in milliseconds?"
IN_CENTIMETRES = "was it in centimetres?"
IN_POUNDS = "was it in pounds?"


@dataclass(frozen=True)
class SquatJump:
    """Mean force [N], mean speed [m/s] and mean power [W] of a squat jump's push-off."""

    force_n: FloatArray
    speed_mps: FloatArray
    power_w: FloatArray


def height_from_flight(flight_s: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2) -> FloatArray:
    """Return the jump height [m] from the flight time [s], any shape, by g t²/8 (`g` in m/s²).

    Landing with bent knees lengthens the flight. Flight-time height reads about 0.017 m above
    impulse-momentum height (read); its typical error between tests is about 0.015 m, 5-10 %
    (`lindberg_2021`; read).

    Raises OutOfRangeError outside [0.05, 1.2] s. Source: mechanics §7 (read).

    >>> float(height_from_flight(0.5, g=9.81))
    0.3066
    """
    return np.asarray(g * FLIGHT.check(flight_s, IN_MILLISECONDS) ** 2 / 8.0)


def height_from_takeoff_speed(speed_mps: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2) -> FloatArray:
    """Return the jump height [m] from the take-off speed [m/s], any shape, by v²/2g (`g` in m/s²).

    Raises OutOfRangeError outside [0, 6] m/s. Source: mechanics §7 (read).

    >>> float(height_from_takeoff_speed(2.8, g=9.81))
    0.3996
    """
    speed = TAKEOFF_SPEED.check(speed_mps, "was it in km/h?")
    return np.asarray(speed**2 / (2.0 * g))


def flight_from_height(height_m: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2) -> FloatArray:
    """Return the flight time [s] of a jump of a height [m], any shape: √(8h/g), `g` in m/s².

    Raises OutOfRangeError outside [0.01, 1.5] m. Source: mechanics §7 (read), inverted.

    >>> float(flight_from_height(0.3996, g=9.81))
    0.571
    """
    return np.asarray(np.sqrt(8.0 * HEIGHT.check(height_m, IN_CENTIMETRES) / g))


def reactive_strength_index(height_m: ArrayLike, contact_s: ArrayLike) -> FloatArray:
    """Return the reactive strength index [m/s]: jump height [m] over contact time [s], broadcast.

    Drop jumps and repeated jumps are not interchangeable (r² 0.30), and the index varies by 6-11 % from
    test to test (read).

    Raises OutOfRangeError. Source: mechanics §7 (read).

    >>> float(reactive_strength_index(0.35, 0.20))
    1.75
    """
    return np.asarray(HEIGHT.check(height_m, IN_CENTIMETRES) / CONTACT.check(contact_s, IN_MILLISECONDS))


def flight_contact_ratio(flight_s: ArrayLike, contact_s: ArrayLike) -> FloatArray:
    """Return flight time over contact time [1] of a rebound jump [both s], broadcast.

    It is another number than the reactive strength index of the same jump; the two are never compared.

    Raises OutOfRangeError. Source: mechanics §7 (read).

    >>> float(flight_contact_ratio(0.5342, 0.20))
    2.671
    """
    return np.asarray(FLIGHT.check(flight_s, IN_MILLISECONDS) / CONTACT.check(contact_s, IN_MILLISECONDS))


def modified_reactive_strength_index(height_m: ArrayLike, takeoff_s: ArrayLike) -> FloatArray:
    """Return RSImod [m/s]: counter-movement jump height [m] over time to take-off [s], broadcast.

    The height alone varies by 2.4-5.8 % from test to test (`markovic_2004`; read).

    Raises OutOfRangeError. Source: `ebben_2010` (read).

    >>> float(modified_reactive_strength_index(0.40, 0.80))
    0.5
    """
    takeoff = TAKEOFF_TIME.check(takeoff_s, IN_MILLISECONDS)
    return np.asarray(HEIGHT.check(height_m, IN_CENTIMETRES) / takeoff)


def bosco_power(
    flight_total_s: ArrayLike, total_s: ArrayLike, jumps: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2
) -> FloatArray:
    """Return the mean power [W/kg] of n repeated jumps from total flight time Tf and total time T [both s].

    P = g² Tf T / (4n (T - Tf)); the three broadcast, `g` in m/s². Cheating on contact time pays, so it says
    little about one jump.

    Raises OutOfRangeError unless 0 < Tf < T and n is 1 or more. Source: `bosco_1983` (memory).

    >>> float(bosco_power(9, 15, 18, g=9.81))
    30.07
    """
    flight = np.asarray(flight_total_s, dtype=np.float64)
    total = np.asarray(total_s, dtype=np.float64)
    count = np.asarray(jumps, dtype=np.float64)
    if not (np.all(flight > 0.0) and np.all(total > flight) and np.all(count >= 1.0)):
        raise OutOfRangeError(
            f"Expected 0 s < total flight < total time and one jump or more, got flight {flight} s, "
            f"total {total} s, {count} jumps; were flight and total swapped?"
        )
    return np.asarray(g**2 * flight * total / (4.0 * count * (total - flight)))


def sayers_power(height_m: ArrayLike, mass_kg: ArrayLike) -> FloatArray:
    """Return the peak power [W] of a jump: 60.7 h(cm) + 45.3 m - 2055, from height [m] and body mass [kg].

    A regression: the error of the height (5-10 %, `lindberg_2021`; read) goes straight into it.

    Raises OutOfRangeError. Source: `sayers_1999` (read).

    >>> float(sayers_power(0.55, 80))
    4907.5
    """
    mass = BODY_MASS.check(mass_kg, IN_POUNDS)
    return np.asarray(60.7 * 100.0 * HEIGHT.check(height_m, IN_CENTIMETRES) + 45.3 * mass - 2055.0)


def squat_jump(
    mass_kg: ArrayLike, height_m: ArrayLike, push_off_m: ArrayLike, *, g: float = STANDARD_GRAVITY_MPS2
) -> SquatJump:
    """Return mean force [N], speed [m/s] and power [W] of a squat jump's push-off from field measures.

    The mass [kg] is body plus added mass, the height [m] is of the centre of mass, the push-off distance
    [m] from the starting squat to tiptoe; all broadcast, `g` in m/s². F = m g (h/hPO + 1), v = √(gh/2), P =
    F v. Agrees with a force plate within 3 %, but the height carries a typical error of 5-10 %
    (`lindberg_2021`; read).

    Raises OutOfRangeError. Source: `samozino_2008` (abstract read, formulas as given in mechanics §7).

    >>> jump = squat_jump(80, 0.35, 0.40, g=9.81)
    >>> float(jump.force_n), float(jump.speed_mps), float(jump.power_w)
    (1471.5, 1.3102, 1928.0)
    """
    mass = MOVED_MASS.check(mass_kg, IN_POUNDS)
    height = HEIGHT.check(height_m, IN_CENTIMETRES)
    force = mass * g * (height / PUSH_OFF.check(push_off_m, IN_CENTIMETRES) + 1.0)
    speed = np.sqrt(g * height / 2.0)
    return SquatJump(np.asarray(force), np.asarray(speed), np.asarray(force * speed))
