"""The profile: what a day's trials say about one athlete, with bands and warnings."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from speedloom.training.fields import Day, Frozen, Kilograms, Metres, Number, Ref, Seconds, SignedSeconds
from speedloom.training.words import Clock, Timing


class Estimate(Frozen):
    """A value with its band."""

    value: Number
    low: Number
    high: Number
    level: float = 0.9
    prior_driven: bool = False


class RefusedSplit(Frozen):
    """A gate and the time written at it."""

    distance_m: Metres
    time_s: SignedSeconds


class RefusedTrial(Frozen):
    """A trial that cannot be true, why, and (in memory only) the splits that say so, the later one last."""

    trial: int
    why: str
    splits: tuple[RefusedSplit, ...] = Field(default=(), exclude=True)


class TrialsUsed(Frozen):
    """Which trials the profile rests on."""

    used: tuple[int, ...]
    rule: Literal["best", "mean"]
    refused: tuple[RefusedTrial, ...] = ()


class Air(Frozen):
    """Air density and whether it was assumed."""

    density_kgpm3: Number
    assumed: bool


class FittedSplit(Frozen):
    """A gate: measured and fitted time."""

    distance_m: Metres
    time_s: Seconds
    fitted_s: SignedSeconds


class ProfileWarning(Frozen):
    """Something to know about the profile."""

    id: str
    message: str
    field: str | None = None


class Profile(Frozen):
    """One athlete's sprint profile of one date and timing method."""

    ref: str
    athlete: Ref
    date: Day
    timing: Timing
    clock: Clock
    behind_m: Metres | None
    surface: str | None
    trials: TrialsUsed
    mass_kg: Kilograms | None
    height_m: Metres | None
    air: Air
    timing_sd_s: Number
    vmax_mps: Estimate | None
    tau_s: Estimate | None
    f0_npkg: Estimate | None
    v0_mps: Estimate | None
    pmax_wpkg: Estimate | None
    offset_s: Estimate | None
    splits: tuple[FittedSplit, ...]
    warnings: tuple[ProfileWarning, ...] = ()
