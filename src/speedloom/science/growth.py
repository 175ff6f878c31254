"""Maturity offset of youths, always as a band of ± 1 year: a caution, never a selector."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError
from speedloom.science.ranges import BODY_HEIGHT, BODY_MASS, Range

FloatArray = NDArray[np.float64]
Sex = Literal["female", "male"]

AGE = Range("age", 8.0, 19.0, "years")
SITTING_HEIGHT = Range("sitting height", 0.4, 1.3, "m")

BAND_YEARS = 1.0
"""Half-width of the band: the published standard errors are 0.57-0.59 years (`mirwald_2002`; read)."""


@dataclass(frozen=True)
class MaturityOffset:
    """Years from peak height velocity (below 0: still to come), the ends of the band, and age at the peak."""

    years: FloatArray
    low: FloatArray
    high: FloatArray
    peak_age: FloatArray


def _offset(years: FloatArray, age: FloatArray) -> MaturityOffset:
    return MaturityOffset(
        np.asarray(years),
        np.asarray(years - BAND_YEARS),
        np.asarray(years + BAND_YEARS),
        np.asarray(age - years),
    )


def _trunk(height: FloatArray, sitting_height_m: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return leg length and sitting height [cm], the unit of the published coefficients."""
    sitting = SITTING_HEIGHT.check(sitting_height_m, "was it in centimetres?")
    if not np.all(sitting < height):
        raise OutOfRangeError(
            f"Expected a sitting height below the height {height} m, got {sitting}; was the box in it?"
        )
    return np.asarray(100.0 * (height - sitting)), np.asarray(100.0 * sitting)


def mirwald_offset(
    age_years: ArrayLike,
    *,
    sex: Sex,
    height_m: ArrayLike,
    sitting_height_m: ArrayLike,
    mass_kg: ArrayLike,
) -> MaturityOffset:
    """Return the maturity offset [years] of youths of one sex by leg length, sitting height, age and mass.

    Age [years], heights [m] and mass [kg] broadcast. The weight-to-height ratio enters × 100. Boys' and
    girls' standard errors are 0.59 and 0.57 years, and early and late maturers are drawn to the mean: show
    the band, select nobody.

    Raises OutOfRangeError. Source: `mirwald_2002` (equations read, prescription §10).

    >>> boy = mirwald_offset(13.0, sex="male", height_m=1.60, sitting_height_m=0.82, mass_kg=48)
    >>> float(boy.years), float(boy.low), float(boy.high), float(boy.peak_age)
    (-0.8104, -1.8104, 0.1896, 13.8104)
    """
    age = AGE.check(age_years, "the equations were made for youths")
    height = BODY_HEIGHT.check(height_m, "was it in centimetres?")
    mass = BODY_MASS.check(mass_kg, "was it in pounds?")
    leg, sitting = _trunk(height, sitting_height_m)
    ratio = mass / height  # = 100 kg/cm, the published 100·M/H
    if sex == "male":
        years = (
            -9.236
            + 0.0002708 * leg * sitting
            - 0.001663 * age * leg
            + 0.007216 * age * sitting
            + 0.02292 * ratio
        )
    else:
        years = (
            -9.376
            + 0.0001882 * leg * sitting
            + 0.0022 * age * leg
            + 0.005841 * age * sitting
            - 0.002658 * age * mass
            + 0.07693 * ratio
        )
    return _offset(np.asarray(years), age)


def moore_offset(
    age_years: ArrayLike, *, sex: Sex, height_m: ArrayLike, sitting_height_m: ArrayLike | None = None
) -> MaturityOffset:
    """Return the maturity offset [years] of youths of one sex by age [years] and height [m], broadcast.

    Boys with a sitting height [m] use it; boys without, and girls, use the standing height. One journal
    prints the boys' constant as -8.125741; the others, and this, -8.128741.

    Raises OutOfRangeError. Source: `moore_2015` (equations read, prescription §10).

    >>> girl = moore_offset(12.0, sex="female", height_m=1.52)
    >>> float(girl.years)
    -0.0060
    """
    age = AGE.check(age_years, "the equations were made for youths")
    height = BODY_HEIGHT.check(height_m, "was it in centimetres?")
    if sex == "female":
        years = -7.709133 + 0.0042232 * age * 100.0 * height
    elif sitting_height_m is None:
        years = -7.999994 + 0.0036124 * age * 100.0 * height
    else:
        years = -8.128741 + 0.0070346 * age * _trunk(height, sitting_height_m)[1]
    return _offset(np.asarray(years), age)
