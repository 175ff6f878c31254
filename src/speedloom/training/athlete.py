"""The athlete: the person, their levels, absences and restrictions."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from speedloom.training.calendar import Away
from speedloom.training.fields import Day, Frozen, Kilograms, Metres, Ref, Whole
from speedloom.training.measurement import Lift, Sex
from speedloom.training.words import Level, LimitOf, LineMethod, Method


class Limit(Frozen):
    """One limit of a restriction; `at_most = 0` forbids."""

    what: LimitOf
    at_most: Annotated[float, Field(ge=0)]
    method: LineMethod | None = None
    exercise: Ref | None = None
    tag: str | None = None
    side: Literal["left", "right"] | None = None

    @model_validator(mode="after")
    def _a_fraction(self) -> Limit:
        if self.what in {"share_vmax", "share_1rm"} and self.at_most > 1:
            msg = f"expected a fraction from 0 to 1 for {self.what}, got {self.at_most}; 80 % is 0.80"
            raise ValueError(msg)
        return self


class Restriction(Frozen):
    """Limits set by a clinician or a coach, until lifted."""

    ref: Ref
    limits: tuple[Limit, ...] = Field(min_length=1)
    from_: Day = Field(alias="from")
    until: Day | None = None
    set_by: str
    set_as: Literal["clinician", "coach"]
    set_on: Day | None = None

    def holds(self, day: date) -> bool:
        """Say whether the restriction is in force on a date."""
        return self.from_ <= day and (self.until is None or day <= self.until)


class Screening(Frozen):
    """What a careful coach asks before vigorous work; only yes or no and the date are kept."""

    on: Day
    pain: bool
    cleared: bool
    last_hard_sprint: Day | None = None


class Athlete(Frozen):
    """One athlete of the brief."""

    ref: Ref
    name: str | None = None
    born: Day | None = None
    sex: Sex | None = None
    mass_kg: Annotated[Kilograms, Field(ge=25, le=200)] | None = None
    height_m: Annotated[Metres, Field(ge=1.2, le=2.3)] | None = None
    training_years: Annotated[float, Field(ge=0)] | None = None
    in_training: bool = False
    weeks_off: Whole = 0
    match_minutes: Annotated[float, Field(ge=0, le=200)] | None = None
    screening: Screening | None = None
    level: dict[Method, Level] = {}
    lifts: tuple[Lift, ...] = ()
    away: tuple[Away, ...] = ()
    restrictions: tuple[Restriction, ...] = ()

    @property
    def title(self) -> str:
        """The name, or the reference where no name is given."""
        return self.name or self.ref

    def age_years(self, on: date) -> int | None:
        """Whole years of age on a date, or None where the birth date is unknown."""
        if self.born is None:
            return None
        return on.year - self.born.year - ((on.month, on.day) < (self.born.month, self.born.day))
