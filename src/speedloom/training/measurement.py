"""What was measured: sprint trials, sled runs, jumps, lifts and body mass."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from speedloom.training.fields import (
    Count,
    Day,
    Frozen,
    JumpHeight,
    Kilograms,
    Metres,
    Ref,
    Seconds,
    SignedSeconds,
    Whole,
)
from speedloom.training.words import Clock, Start, Timing

Sex = Literal["female", "male"]


class Split(Frozen):
    """A gate's distance and time."""

    distance_m: Annotated[Metres, Field(gt=0)]
    time_s: Seconds


class Trial(Frozen):
    """One timed run with its splits, as measured."""

    athlete: Ref
    date: Day
    trial: Count
    timing: Timing
    clock: Clock
    behind_m: Metres | None = None
    start: Start = "standing"
    surface: str | None = None
    place: str | None = None
    splits: tuple[Split, ...]
    reaction_s: SignedSeconds | None = None
    wind_mps: float | None = None
    altitude_m: float | None = None
    temperature_c: float | None = None
    sled_kg: Kilograms | None = None
    sex: Sex | None = None
    born: Day | None = None
    mass_kg: Kilograms | None = None
    height_m: Metres | None = None

    @model_validator(mode="after")
    def _clock_complete(self) -> Trial:
        if self.clock == "behind" and self.behind_m is None:
            msg = "expected behind_m (how far behind the first beam the athlete stood) for clock 'behind'"
            raise ValueError(msg)
        if len({split.distance_m for split in self.splits}) != len(self.splits):
            msg = "expected each split distance once"
            raise ValueError(msg)
        return self

    @property
    def session(self) -> str:
        """The profile's reference: athlete, date and timing method."""
        return f"{self.athlete}/{self.date.isoformat()}/{self.timing}"

    @property
    def ref(self) -> str:
        """The trial's own reference: its session and number."""
        return f"{self.session}/{self.trial}"


class Jump(Frozen):
    """One jump: flight time or height, contact time, and mass added."""

    athlete: Ref
    date: Day
    trial: Count
    flight_s: Seconds | None = None
    height_m: JumpHeight | None = None
    contact_s: Seconds | None = None
    added_kg: Kilograms = 0.0


class Lift(Frozen):
    """One set: load, repetitions, and repetitions left in reserve."""

    athlete: Ref | None = Field(default=None, description="Whose set it is; in a brief the athlete's own.")
    date: Day = Field(description="The day.")
    exercise: Ref = Field(description="The lift, by its ref in the catalogue.")
    load_kg: Annotated[Kilograms, Field(gt=0)] = Field(description="Bar and plates [kg].")
    reps: Count = Field(description="Repetitions done.")
    rir: Whole = Field(default=0, description="Repetitions left in reserve.")
    se_kg: Annotated[Kilograms, Field(gt=0)] | None = Field(
        default=None,
        description="Set by `sharpen`, with reps 1: the load is a maximum put together from logged sets, and "
        "this its standard error [kg]. Absent: a set that was lifted.",
    )


class TracePoint(Frozen):
    """One point of a speed trace (radar, laser or encoder)."""

    time_s: Seconds
    speed_mps: Annotated[float, Field(ge=0)]


class Trace(Frozen):
    """A speed trace of one run."""

    athlete: Ref
    date: Day
    trial: Count
    timing: Timing
    points: tuple[TracePoint, ...]

    @property
    def session(self) -> str:
        """The profile's reference: athlete, date and timing method."""
        return f"{self.athlete}/{self.date.isoformat()}/{self.timing}"


class Measurements(Frozen):
    """All that a tests file (or several) held."""

    trials: tuple[Trial, ...] = ()
    jumps: tuple[Jump, ...] = ()
    lifts: tuple[Lift, ...] = ()
    traces: tuple[Trace, ...] = ()
