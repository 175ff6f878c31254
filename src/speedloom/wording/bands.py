"""A published group beside an athlete: one line, for orientation."""

from __future__ import annotations

from collections.abc import Mapping

from speedloom.training.rule import Rulebook
from speedloom.wording.units import METRIC, Units, length, seconds
from speedloom.wording.why_inputs import citation
from speedloom.workflows.reference_bands import Beside

NONE: Mapping[str, str] = {
    "sex_unknown": "no reference band: the tests do not say the sex",
    "age_unknown": "no reference band: the bands are of adults, and the tests do not say the birth date",
    "minor": "no reference band: the bands are of adults",
    "no_band": "no reference band: no published group has a time over this distance",
}


def band_line(beside: Beside | str, *, own_s: float | None, rulebook: Rulebook, units: Units = METRIC) -> str:
    """Say what a group reached over a distance, and that it is timed in another way.

    `own_s` is the athlete's own split at that distance [s], where one was timed.
    """
    if isinstance(beside, str):
        return NONE.get(beside, beside)
    norm, band = beside.norm, beside.band
    own = f" (here {seconds(own_s)})" if own_s is not None else ""
    there = f"{seconds(band.mean or 0.0)}, give or take {seconds(band.sd or 0.0)}"
    return (
        f"for orientation: {length(band.distance_m or 0.0, units=units)}{own}; {norm.population} "
        f"(n = {norm.n}): {there} ({citation(norm.source, norm.mark, rulebook=rulebook)}); "
        "other timing, do not compare to the hundredth"
    )
