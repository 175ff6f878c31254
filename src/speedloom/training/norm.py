"""Reference bands: what groups of athletes reached, to look at and never to plan from."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from importlib.resources import files
from typing import Annotated

from pydantic import Field

from speedloom.training.fields import Count, Frozen, Kilograms, Metres, Ref
from speedloom.training.measurement import Sex
from speedloom.training.words import Mark


class Band(Frozen):
    """One quantity of a group: mean and standard deviation, or the lowest and highest value seen."""

    quantity: str
    unit: str
    distance_m: Metres | None = None
    mean: float | None = None
    sd: Annotated[float, Field(ge=0)] | None = None
    low: float | None = None
    high: float | None = None


class Norm(Frozen):
    """A group of athletes, how it was timed, and what it reached."""

    ref: Ref
    population: str
    sex: Sex
    n: Count
    mean_mass_kg: Kilograms | None = None
    source: str
    mark: Mark
    timing: str
    bands: tuple[Band, ...]

    def time_band(self, distance_m: float) -> Band | None:
        """Give the band of the time over a distance [m], or None."""
        return next(
            (
                band
                for band in self.bands
                if band.quantity == "time_s" and band.distance_m == distance_m and band.mean is not None
            ),
            None,
        )


@cache
def load_norms() -> tuple[Norm, ...]:
    """Read the packaged reference bands, in the file's order."""
    text = files("speedloom.training").joinpath("data", "norms.toml").read_text(encoding="utf-8")
    return tuple(
        Norm.model_validate_json(json.dumps({"ref": ref, **body}))
        for ref, body in tomllib.loads(text).items()
    )
