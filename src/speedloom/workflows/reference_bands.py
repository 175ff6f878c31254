"""Which published group an athlete may be looked at beside: for orientation, adults only."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from speedloom.training.measurement import Sex
from speedloom.training.norm import Band, Norm

ADULT_YEARS = 18
"""Bands of grown-ups are not held up to anyone younger; an unknown age counts as young."""


@dataclass(frozen=True)
class Beside:
    """A group and its band of the time over one distance."""

    norm: Norm
    band: Band


def band_beside(
    norms: tuple[Norm, ...], *, sex: Sex | None, born: date | None, on: date, distance_m: float
) -> Beside | str:
    """Give the widest group of that sex with a time over the distance, or the id of why there is none.

    Args:
        norms: the reference bands.
        sex: the athlete's; none without it.
        born: birth date; a minor or an unknown age has no band.
        on: day of the test.
        distance_m: distance of the time [m].
    """
    if sex is None:
        return "sex_unknown"
    if born is None:
        return "age_unknown"
    if _years(born, on) < ADULT_YEARS:
        return "minor"
    found = [
        Beside(norm, band)
        for norm in norms
        if norm.sex == sex and (band := norm.time_band(distance_m)) is not None
    ]
    # The sport is not known: the group with most athletes says least about any one sport.
    return max(found, key=lambda beside: (beside.norm.n, beside.norm.ref), default=None) or "no_band"


def _years(born: date, on: date) -> int:
    return on.year - born.year - ((on.month, on.day) < (born.month, born.day))
