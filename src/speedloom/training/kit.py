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
    """Sled friction on this floor: a range, or a value with its standard error from a timed run."""

    value: FrictionValue | None = None
    se: Annotated[float, Field(ge=0)] | None = None
    low: FrictionValue | None = None
    high: FrictionValue | None = None

    @model_validator(mode="after")
    def _one_form(self) -> Friction:
        timed = self.value is not None and self.low is None and self.high is None
        ranged = self.value is None and self.low is not None and self.high is not None
        if not (timed or ranged):
            msg = "expected either {value, se} or {low, high}"
            raise ValueError(msg)
        if ranged and self.low is not None and self.high is not None and self.low >= self.high:
            msg = f"expected low < high, got low {self.low} and high {self.high}"
            raise ValueError(msg)
        return self


class Place(Frozen):
    """A hall, pitch, track or gym."""

    ref: Ref
    kind: PlaceKind
    surface: str | None = None
    straight_m: Metres | None = None
    run_out_m: Metres | None = None
    lanes: Count | None = None


class Kit(Frozen):
    """A piece of kit (or several alike) at one place; plates are [mass, pieces]."""

    ref: Ref
    kind: KitKind
    place: Ref
    count: Count = 1
    empty_kg: Kilograms | None = None
    plates_kg: tuple[Pieces, ...] = ()
    weights_kg: tuple[Pieces, ...] = ()
    height_m: Metres | None = None
    friction: Friction | None = None

    @model_validator(mode="after")
    def _weights_or_plates(self) -> Kit:
        if self.weights_kg and (self.empty_kg is not None or self.plates_kg):
            msg = "expected either weights_kg or empty_kg with plates_kg, not both"
            raise ValueError(msg)
        if self.kind in {"sled", "barbell", "trap_bar"} and self.empty_kg is None:
            msg = f"expected empty_kg for a {self.kind.replace('_', ' ')}"
            raise ValueError(msg)
        return self
