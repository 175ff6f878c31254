"""Places to train in and the kit that stands there."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from speedloom.training.fields import Count, Frozen, Kilograms, Metres, Ref
from speedloom.training.words import KitKind, PlaceKind

Pieces = tuple[Kilograms, Count]
# Friction of a sled on a floor: kept wide of anything published (0.21 to 0.58, Linthorne & Cooper 2013).
FrictionValue = Annotated[float, Field(gt=0, le=1.5)]


class Friction(Frozen):
    """Sled friction on this floor: a range, or a value with its standard error from timed runs.

    All four: the value is from runs in training, and the range is what was known before them.
    """

    value: FrictionValue | None = Field(default=None, description="Friction from a timed sled run.")
    se: Annotated[float, Field(ge=0)] | None = Field(default=None, description="Its standard error.")
    low: FrictionValue | None = Field(default=None, description="Least friction that may be.")
    high: FrictionValue | None = Field(default=None, description="Most friction that may be.")

    @model_validator(mode="after")
    def _one_form(self) -> Friction:
        if (self.low is None) != (self.high is None) or (self.value is None and self.low is None):
            msg = "expected either {value, se} or {low, high}"
            raise ValueError(msg)
        if self.low is not None and self.high is not None and self.low >= self.high:
            msg = f"expected low < high, got low {self.low} and high {self.high}"
            raise ValueError(msg)
        return self


class Place(Frozen):
    """A hall, pitch, track or gym."""

    ref: Ref = Field(description="The place's own name in the file.")
    kind: PlaceKind = Field(description="What it is; it decides which exercises can be done there.")
    surface: str | None = Field(default=None, description="What is run on, in your own words.")
    straight_m: Metres | None = Field(
        default=None, description="Length of the straight, run-out included [m]."
    )
    run_out_m: Metres | None = Field(
        default=None, description="What is kept free behind the last metre run hard [m]."
    )
    lanes: Count | None = Field(default=None, description="How many can run side by side.")


class Kit(Frozen):
    """A piece of kit (or several alike) at one place; plates are [mass, pieces]."""

    ref: Ref = Field(description="The kit's own name in the file.")
    kind: KitKind = Field(description="What it is.")
    place: Ref = Field(description="The place where it stands.")
    count: Count = Field(default=1, description="How many alike there are.")
    empty_kg: Kilograms | None = Field(default=None, description="Mass of one without plates [kg].")
    plates_kg: tuple[Pieces, ...] = Field(
        default=(), description="Plates as [mass, pieces], for each one of them; bars take them in pairs."
    )
    weights_kg: tuple[Pieces, ...] = Field(
        default=(), description="Fixed weights as [mass, pieces], instead of plates."
    )
    height_m: Metres | None = Field(default=None, description="Height of a box or hurdle [m].")
    friction: Friction | None = Field(default=None, description="Friction of a sled on this floor.")

    @model_validator(mode="after")
    def _weights_or_plates(self) -> Kit:
        if self.weights_kg and (self.empty_kg is not None or self.plates_kg):
            msg = "expected either weights_kg or empty_kg with plates_kg, not both"
            raise ValueError(msg)
        if self.kind in {"sled", "barbell", "trap_bar"} and self.empty_kg is None:
            msg = f"expected empty_kg for a {self.kind.replace('_', ' ')}"
            raise ValueError(msg)
        return self
