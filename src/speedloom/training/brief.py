"""The brief: who, goal, dates, slots, events, kit, methods, and the coach's changes to the rulebook."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from speedloom.training.athlete import Athlete
from speedloom.training.calendar import Event, Peak, Slot
from speedloom.training.exercise import Exercise
from speedloom.training.fields import Count, Day, Frozen, Kilograms, Metres, Minutes, Ref, Share, Whole
from speedloom.training.kit import Kit, Place
from speedloom.training.measurement import Measurements
from speedloom.training.rule import RuleChange
from speedloom.training.words import METHODS, GoalKind, LineMethod, Method, Purpose, Sides

SCHEMA = "speedloom.brief/1"
Droppable = Literal[
    "general_set_3",
    "upper_body_2",
    "plyometric_2",
    "loaded_jumps",
    "sprint_rep",
    "main_lift_set_3",
    "plyometrics",
]
DROP_FIRST: tuple[Droppable, ...] = (
    "general_set_3",
    "upper_body_2",
    "plyometric_2",
    "loaded_jumps",
    "sprint_rep",
    "main_lift_set_3",
    "plyometrics",
)


class Goal(Frozen):
    """What the programme is for, and when."""

    kind: GoalKind = "sprint_time"
    distance_m: Annotated[Metres, Field(gt=0)] | None = None
    peaks: tuple[Peak, ...] = ()


class Span(Frozen):
    """Days from one date to another, both included."""

    from_: Day = Field(alias="from")
    until: Day

    def covers(self, day: date) -> bool:
        """Say whether a date lies in the span."""
        return self.from_ <= day <= self.until


class Phases(Frozen):
    """How the weeks are laid out; weeks in a season keep what was built, between matches."""

    season: tuple[Span, ...] = ()
    mesocycle_weeks: tuple[Annotated[int, Field(ge=3, le=6)], ...] = Field(min_length=1)
    deload: Literal["first", "last", "none"] = "last"
    taper_days: int = 10
    specificity: tuple[Share, Share] = (0.0, 1.0)
    methods: tuple[Method, ...] = METHODS
    emphasis: dict[Method, Annotated[float, Field(ge=0.5, le=1.5)]] = {}
    drop_first: tuple[Droppable, ...] = DROP_FIRST
    plyometric_added_kg: tuple[Kilograms, Kilograms, Kilograms] | None = None

    @model_validator(mode="after")
    def _sensible(self) -> Phases:
        # 8 to 14 days: Bosquet et al. 2007.
        if self.taper_days != 0 and not 8 <= self.taper_days <= 14:  # noqa: PLR2004
            msg = f"expected taper_days of 0, or 8 to 14, got {self.taper_days}"
            raise ValueError(msg)
        if self.specificity[0] > self.specificity[1]:
            msg = f"expected specificity to rise, got {list(self.specificity)}"
            raise ValueError(msg)
        return self


class ExerciseChoice(Frozen):
    """Exercises to leave out and to prefer."""

    leave_out: tuple[Ref, ...] = ()
    prefer: tuple[Ref, ...] = ()


class OwnLine(Frozen):
    """A line the coach adds to every session in a slot; it costs minutes and is never changed."""

    ref: Ref
    slot: Ref
    athletes: tuple[Ref, ...] = ()
    first_week: Count = 1
    last_week: Count | None = None
    position: Literal["after_warm_up", "last"] = "after_warm_up"
    method: LineMethod = "technique"
    exercise: Ref
    title: str = ""
    purpose: Purpose = "work"
    sets: Count = 1
    reps: Count = 1
    distance_m: Metres | None = None
    hold_s: Whole | None = None
    load_kg: Kilograms | None = None
    side: Sides = "both"
    contacts: Whole | None = None
    rest_reps_s: Whole | None = None
    rest_s: Whole | None = None
    minutes: Minutes
    cue: str = ""


class Brief(Frozen):
    """The brief as a coach writes it (TOML)."""

    schema_: Literal["speedloom.brief/1"] = Field(alias="schema")
    name: str
    timezone: str
    start: Day
    end: Day
    tests: tuple[str, ...] = ()
    days: Literal["shared", "own"] = "shared"
    trial: Literal["best", "mean"] = "best"
    seed: Whole = 0
    responsible_adult: str | None = None
    goal: Goal
    phases: Phases
    places: tuple[Place, ...]
    kit: tuple[Kit, ...] = ()
    slots: tuple[Slot, ...]
    events: tuple[Event, ...] = ()
    athletes: tuple[Athlete, ...] = ()
    exercises: ExerciseChoice = ExerciseChoice()
    own_lines: tuple[OwnLine, ...] = ()
    rules: tuple[RuleChange, ...] = ()


class ResolvedBrief(Brief):
    """The brief with tests, athletes, levels and catalogue entries read in: it stands alone."""

    measurements: Measurements = Measurements()
    catalogue: tuple[Exercise, ...] = ()
    assumed: tuple[str, ...] = ()
