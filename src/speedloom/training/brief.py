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

    kind: GoalKind = Field(
        default="sprint_time",
        description="What counts: a time from standing, top speed, or speed in general.",
    )
    distance_m: Annotated[Metres, Field(gt=0)] | None = Field(
        default=None, description="The distance that counts [m]; needed for sprint_time."
    )
    peaks: tuple[Peak, ...] = Field(default=(), description="The dates to be fast on; none is allowed.")


class Span(Frozen):
    """Days from one date to another, both included."""

    from_: Day = Field(alias="from", description="First day.")
    until: Day = Field(description="Last day.")

    @model_validator(mode="after")
    def _order(self) -> Span:
        if self.until < self.from_:
            msg = f"expected until on or after {self.from_}, got {self.until}"
            raise ValueError(msg)
        return self

    def covers(self, day: date) -> bool:
        """Say whether a date lies in the span."""
        return self.from_ <= day <= self.until


class Phases(Frozen):
    """How the weeks are laid out; weeks in a season keep what was built, between matches."""

    season: tuple[Span, ...] = Field(
        default=(), description="Weeks in season: what was built is kept between matches."
    )
    mesocycle_weeks: tuple[Annotated[int, Field(ge=3, le=6)], ...] = Field(
        min_length=1, description="Weeks of each mesocycle, 3 to 6; the last is shortened to fit."
    )
    deload: Literal["first", "last", "none"] = Field(
        default="last", description="Where the lighter week of a mesocycle lies."
    )
    taper_days: int = Field(default=10, description="Days of taper before a main peak: 0, or 8 to 14.")
    specificity: tuple[Share, Share] = Field(
        default=(0.0, 1.0),
        description="How specific the first and the last loading week are, 0 general to 1 specific.",
    )
    methods: tuple[Method, ...] = Field(
        default=METHODS, description="The methods that are planned; one left out is never planned."
    )
    emphasis: dict[Method, Annotated[float, Field(ge=0.5, le=1.5)]] = Field(
        default={}, description="More or less of a method's volume, 0.5 to 1.5."
    )
    drop_first: tuple[Droppable, ...] = Field(
        default=DROP_FIRST,
        description="What goes first when a slot is too short; what is not named follows in the usual order.",
    )
    plyometric_added_kg: tuple[Kilograms, Kilograms, Kilograms] | None = Field(
        default=None, description="Mass held or worn in jumps, general to specific [kg]."
    )

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

    leave_out: tuple[Ref, ...] = Field(default=(), description="Exercises that are never planned.")
    prefer: tuple[Ref, ...] = Field(
        default=(), description="Exercises that are taken before others of their kind."
    )


class OwnLine(Frozen):
    """A line the coach adds to every session in a slot; it costs minutes and is never changed."""

    ref: Ref = Field(description="The line's own name in the file.")
    slot: Ref = Field(description="The slot in whose sessions the line stands.")
    athletes: tuple[Ref, ...] = Field(default=(), description="Whom it is for; nobody named is everybody.")
    first_week: Count = Field(default=1, description="First week with the line.")
    last_week: Count | None = Field(default=None, description="Last week with the line; absent: to the end.")
    position: Literal["after_warm_up", "last"] = Field(
        default="after_warm_up", description="Straight after the warm-up, or at the end."
    )
    method: LineMethod = Field(
        default="technique",
        description="What kind of work it is; it decides in which week's volume the line counts.",
    )
    exercise: Ref = Field(description="A ref of the catalogue, or a name of your own.")
    title: str = Field(default="", description="What it is called on paper and screens.")
    purpose: Purpose = Field(default="work", description="Work, or part of the warm-up.")
    sets: Count = Field(default=1, description="Sets.")
    reps: Count = Field(default=1, description="Repetitions or runs a set.")
    distance_m: Metres | None = Field(default=None, description="Distance of one run [m].")
    hold_s: Whole | None = Field(default=None, description="How long a position is held [s].")
    load_kg: Kilograms | None = Field(default=None, description="Load, the bar or sled included [kg].")
    side: Sides = Field(default="both", description="Which side works.")
    contacts: Whole | None = Field(default=None, description="Foot contacts of the whole line.")
    rest_reps_s: Whole | None = Field(default=None, description="Rest between repetitions [s].")
    rest_s: Whole | None = Field(default=None, description="Rest between sets [s].")
    minutes: Minutes = Field(description="What the line takes of the slot, rests included [min].")
    cue: str = Field(default="", description="A few words for the athlete.")


class Brief(Frozen):
    """The brief as a coach writes it (TOML)."""

    schema_: Literal["speedloom.brief/1"] = Field(
        alias="schema", description="The version of this file's shape."
    )
    name: str = Field(description="The programme's name, printed on every sheet.")
    timezone: str = Field(description="Where the times of the slots hold, a name of the IANA list.")
    start: Day = Field(description="First day; week 1 is the Monday week that holds it.")
    end: Day = Field(description="Last day planned.")
    tests: tuple[str, ...] = Field(default=(), description="Tests files beside the brief.")
    days: Literal["shared", "own"] = Field(
        default="shared", description="Whether all train on the same days, or each on their own."
    )
    trial: Literal["best", "mean"] = Field(
        default="best", description="Whether a profile rests on a day's best trial or on the mean."
    )
    seed: Whole = Field(default=0, description="Decides between equally good programmes, nothing else.")
    responsible_adult: str | None = Field(
        default=None, description="The adult responsible for minors, printed on their sheets."
    )
    goal: Goal = Field(description="What the programme is for.")
    phases: Phases = Field(description="How the weeks are laid out.")
    places: tuple[Place, ...] = Field(description="Where can be trained.")
    kit: tuple[Kit, ...] = Field(default=(), description="What stands there.")
    slots: tuple[Slot, ...] = Field(description="When can be trained.")
    events: tuple[Event, ...] = Field(default=(), description="What else happens.")
    athletes: tuple[Athlete, ...] = Field(
        default=(), description="Who is planned for; nobody named is everybody in the tests."
    )
    exercises: ExerciseChoice = Field(
        default=ExerciseChoice(), description="Which exercises are never planned, and which before others."
    )
    own_lines: tuple[OwnLine, ...] = Field(
        default=(), description="Lines of the coach's own; they cost minutes and are never changed."
    )
    rules: tuple[RuleChange, ...] = Field(
        default=(), description="Changes to numbers of the rulebook, each with its reason."
    )


class ResolvedBrief(Brief):
    """The brief with tests, athletes, levels and catalogue entries read in: it stands alone."""

    measurements: Measurements = Measurements()
    catalogue: tuple[Exercise, ...] = ()
    assumed: tuple[str, ...] = ()
    learned: tuple[str, ...] = ()
    """Trials that were made of runs in training, by session and number: no tests file holds them."""
