"""Air, drag, acceleration lengths, and the repetitions a load allows."""

from __future__ import annotations

from math import exp, log
from statistics import median

from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number

_DRAG_COEFFICIENT = 0.9
_CHART = (1.00, 0.95, 0.93, 0.90, 0.87, 0.85, 0.83, 0.80, 0.77, 0.75, 0.70, 0.67)


def air_density(arguments: Arguments) -> float:
    """Dry air density (kg/m³) at a temperature (°C) and altitude (m), by ISO 2533."""
    pressure = 101325.0 * (1.0 - 2.25577e-5 * number(arguments, "altitude_m")) ** 5.25588
    return float(pressure / (287.05287 * (273.15 + number(arguments, "temperature_c"))))


def drag(arguments: Arguments) -> float:
    """Drag constant (kg/m) of an upright runner."""
    skin = 0.2025 * number(arguments, "height_m") ** 0.725 * number(arguments, "mass_kg") ** 0.425
    return float(0.5 * number(arguments, "density_kgpm3") * skin * 0.266 * _DRAG_COEFFICIENT)


def run_distance(arguments: Arguments) -> float:
    """A distance (m) in the athlete's own acceleration lengths."""
    return number(arguments, "lengths") * number(arguments, "length_m")


def share_point(arguments: Arguments) -> float:
    """Where (m) the athlete reaches a share of top speed."""
    share = number(arguments, "share")
    if not 0.0 <= share < 1.0:
        msg = f"expected a share below 1, got {share}"
        raise NotComputableError(msg)
    return number(arguments, "length_m") * (-log(1.0 - share) - share)


def longest(arguments: Arguments) -> float:
    """What the straight leaves after the run-out (m)."""
    taken = number(arguments, "run_out_m", 0.0) + number(arguments, "before_m", 0.0)
    return number(arguments, "straight_m") - taken


def friction_timed(arguments: Arguments) -> tuple[float, float, float]:
    """Friction from a timed run with the ends of its 90 % band."""
    value, error = number(arguments, "value"), number(arguments, "se")
    return value, value - 1.644854 * error, value + 1.644854 * error


def friction_between(arguments: Arguments) -> tuple[float, float, float]:
    """The middle of a range of friction, with the range."""
    low, high = number(arguments, "low"), number(arguments, "high")
    return (low + high) / 2.0, low, high


def one_rep_max(arguments: Arguments) -> float:
    """One-repetition maximum (kg) from a set: the median of seven formulas."""
    load = number(arguments, "load_kg")
    r = number(arguments, "reps") + number(arguments, "rir", 0.0)
    if r == 1.0:
        return load
    return load * median(
        (
            1.0 + r / 30.0,
            36.0 / (37.0 - r),
            100.0 / (101.3 - 2.67123 * r),
            1.0 + 0.025 * r,
            100.0 / (48.8 + 53.8 * exp(-0.075 * r)),
            100.0 / (52.2 + 41.9 * exp(-0.055 * r)),
            float(r**0.10),
        )
    )


def repetitions_share(arguments: Arguments) -> float:
    """Share of the one-repetition maximum for repetitions with some in reserve, by the chart."""
    row = min(number(arguments, "reps") + number(arguments, "rir", 0.0), float(len(_CHART)))
    below = int(row)
    if below < 1:
        msg = f"expected at least one repetition, got {row}"
        raise NotComputableError(msg)
    above = min(below, len(_CHART) - 1)
    return _CHART[below - 1] + (row - below) * (_CHART[above] - _CHART[below - 1])


def effort_time(arguments: Arguments) -> float:
    """The time (s) at a share of the athlete's own best speed."""
    return number(arguments, "time_s") / number(arguments, "effort")


def spread(arguments: Arguments) -> float:
    """Standard deviation (s) of one expected time: profile, friction, repetition and timing together."""
    repetition = number(arguments, "repetition") * number(arguments, "time_s")
    parts = [number(arguments, name, 0.0) for name in ("profile_s", "friction_s", "timing_s")]
    return float(sum(part**2 for part in (*parts, repetition)) ** 0.5)


_NORMAL_90 = 1.644854


def low(arguments: Arguments) -> float:
    """Lower end of the 90 % band (s)."""
    return number(arguments, "time_s") - _NORMAL_90 * number(arguments, "spread_s")


def high(arguments: Arguments) -> float:
    """Upper end of the 90 % band (s)."""
    return number(arguments, "time_s") + _NORMAL_90 * number(arguments, "spread_s")
