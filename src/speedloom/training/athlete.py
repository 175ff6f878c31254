"""The athlete: the person, their levels, absences and restrictions."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from speedloom.training.calendar import Away
from speedloom.training.fields import Day, Frozen, Kilograms, Metres, Ref, Whole
from speedloom.training.measurement import Lift, Sex
from speedloom.training.words import SPRINTS, Level, LimitOf, LineMethod, Method


class Limit(Frozen):
    """One limit of a restriction; `at_most = 0` forbids."""

    what: LimitOf = Field(description="What is limited.")
    at_most: Annotated[float, Field(ge=0)] = Field(
        description="The most that is allowed: shares 0 to 1, else in the unit of the name; 0 forbids."
    )
    method: LineMethod | None = Field(default=None, description="Only in this method.")
    exercise: Ref | None = Field(default=None, description="Only in this exercise.")
    tag: str | None = Field(default=None, description="Only in exercises with this tag.")
    side: Literal["left", "right"] | None = Field(default=None, description="Only on this side.")

    @model_validator(mode="after")
    def _a_fraction(self) -> Limit:
        if self.what in {"share_vmax", "share_1rm"} and self.at_most > 1:
            msg = f"expected a fraction from 0 to 1 for {self.what}, got {self.at_most}; 80 % is 0.80"
            raise ValueError(msg)
        return self

    @property
    def forbids_all(self) -> bool:
        """Whether it leaves nothing to train: no minute or no set, of whatever kind."""
        narrowed = (self.method, self.exercise, self.tag, self.side) != (None,) * 4
        return self.what in {"minutes", "sets"} and self.at_most == 0 and not narrowed


class Restriction(Frozen):
    """Limits set by a clinician or a coach, until lifted."""

    ref: Ref = Field(description="The restriction's own name in the file.")
    limits: tuple[Limit, ...] = Field(min_length=1, description="What is limited, and how far.")
    from_: Day = Field(alias="from", description="First day it holds.")
    until: Day | None = Field(default=None, description="Last day it holds; absent: until it is lifted.")
    set_by: str = Field(description="Who set it.")
    set_as: Literal["clinician", "coach"] = Field(
        description="Who may lift it: a clinician's only a clinician, a coach's that coach or a clinician."
    )
    set_on: Day | None = Field(default=None, description="When it was set.")

    def holds(self, day: date) -> bool:
        """Say whether the restriction is in force on a date."""
        return self.from_ <= day and (self.until is None or day <= self.until)

    @property
    def forbids_all(self) -> bool:
        """Whether nothing is trained while it holds."""
        return any(limit.forbids_all for limit in self.limits)

    def in_order(self) -> Restriction:
        """Give the same with its limits in one order: two that say the same are then equal."""
        limits = tuple(sorted(self.limits, key=lambda one: one.model_dump_json()))
        return self if limits == self.limits else self.model_copy(update={"limits": limits})


class Screening(Frozen):
    """What a careful coach asks before vigorous work; only yes or no and the date are kept."""

    on: Day = Field(description="Day of the questions.")
    pain: bool = Field(description="Whether something hurts.")
    cleared: bool = Field(description="Whether vigorous work is cleared; false stops the plan.")
    last_hard_sprint: Day | None = Field(default=None, description="Day of the last hard sprint.")

    @property
    def bars(self) -> bool:
        """Whether nothing vigorous may be planned: something hurts, or it is not cleared."""
        return self.pain or not self.cleared

    @property
    def limit(self) -> Restriction | None:
        """What the answers forbid, said as a limit: no sprint work (rule H1), until somebody asks again."""
        if not self.bars:
            return None
        none = tuple(Limit(what="sets", at_most=0, method=method) for method in SPRINTS)
        said = {"set_by": "the questions before hard work", "set_as": "coach"}
        return Restriction.model_validate({"ref": "not_cleared", "limits": none, "from": self.on, **said})


class Athlete(Frozen):
    """One athlete of the brief."""

    ref: Ref = Field(description="The athlete's name in the files, as in the tests.")
    name: str | None = Field(default=None, description="The name on paper.")
    born: Day | None = Field(
        default=None, description="Birth date; under 16 and unknown have rules of their own."
    )
    sex: Sex | None = Field(
        default=None, description="For reference bands and where height or mass are unknown."
    )
    mass_kg: Annotated[Kilograms, Field(ge=25, le=200)] | None = Field(
        default=None, description="Body mass [kg]; it wins over the tests."
    )
    height_m: Annotated[Metres, Field(ge=1.2, le=2.3)] | None = Field(
        default=None, description="Height [m]; it wins over the tests."
    )
    training_years: Annotated[float, Field(ge=0)] | None = Field(
        default=None, description="Years of training for speed; proposes the level."
    )
    in_training: bool = Field(
        default=False, description="True: no break in the last two weeks, so no introduction week."
    )
    weeks_off: Whole = Field(default=0, description="Full weeks without training before the start.")
    match_minutes: Annotated[float, Field(ge=0, le=200)] | None = Field(
        default=None, description="Minutes usually played in a match."
    )
    screening: Screening | None = Field(default=None, description="What was asked before hard work.")
    level: dict[Method, Level] = Field(default={}, description="Level in each method; proposed where absent.")
    lifts: tuple[Lift, ...] = Field(default=(), description="Lifts, where they are not in the tests.")
    away: tuple[Away, ...] = Field(default=(), description="Days without training for this athlete.")
    restrictions: tuple[Restriction, ...] = Field(
        default=(), description="Limits set by a clinician or a coach."
    )

    @property
    def title(self) -> str:
        """The name, or the reference where no name is given."""
        return self.name or self.ref

    def age_years(self, on: date) -> int | None:
        """Whole years of age on a date, or None where the birth date is unknown."""
        if self.born is None:
            return None
        return on.year - self.born.year - ((on.month, on.day) < (self.born.month, self.born.day))
