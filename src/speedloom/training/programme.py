"""The programme: weeks, sessions, prescriptions, and the basis of every number."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from speedloom.training.brief import ResolvedBrief
from speedloom.training.fields import (
    Count,
    Day,
    Frozen,
    Grade,
    Kilograms,
    Metres,
    Minutes,
    Ref,
    Seconds,
    Share,
    TimeOfDay,
    Whole,
    significant,
)
from speedloom.training.words import LineMethod, Mark, Purpose, Role, Run, Sides, Start, WeekKind

SCHEMA = "speedloom.programme/1"
Basis = dict[str, str]


class Expect(Frozen):
    """What this athlete's own test method would show for one repetition."""

    time_s: Seconds
    low: Seconds
    high: Seconds
    level: Share = 0.9
    clock: str
    share_vmax: Share | None = None


class StopRule(Frozen):
    """When to end the line."""

    kind: Literal["time_drop", "velocity_loss", "rir", "technique"]
    value: float | None = None


class Prescription(Frozen):
    """One exercise line of one session."""

    ref: Ref
    purpose: Purpose
    method: LineMethod
    run: Run | None = None
    exercise: Ref
    side: Sides = "both"
    pair: Ref | None = None
    sets: Count
    reps: Count
    reps_to: Count | None = None
    distance_m: Metres | None = None
    run_in_m: Metres | None = None
    kit: Ref | None = None
    load_kg: Kilograms | None = None
    added_kg: Kilograms | None = None
    share_1rm: Share | None = None
    rir: Whole | None = None
    decrement: Share | None = None
    contacts: Whole | None = None
    effort: Share | None = None
    hold_s: Whole | None = None
    height_m: Metres | None = None
    grade: Grade | None = None
    path: Literal["straight", "curve_left", "curve_right"] | None = None
    start: Start | None = None
    surface: str | None = None
    cue: str = ""
    rest_reps_s: Whole | None = None
    rest_s: Whole | None = None
    minutes: Minutes
    expect: Expect | None = None
    stop_rule: StopRule | None = None
    locked: tuple[str, ...] = ()
    basis: Basis = {}


class Session(Frozen):
    """One athlete's training on a date at a place."""

    ref: Ref
    date: Day
    start: TimeOfDay
    minutes: Minutes
    minutes_available: Minutes
    slot: Ref | None
    place: Ref
    role: Role
    locked: bool = False
    basis: Basis = {}
    prescriptions: tuple[Prescription, ...]


def node_precision(value: float) -> float:
    """Round a node's number as it is stored (6 significant digits), so that memory and file are the same.

    >>> node_precision(31.2719438)
    31.2719
    """
    return significant(value, digits=6)


NodeNumber = Annotated[float, AfterValidator(node_precision)]


class Volume(Frozen):
    """A method's volume in a week: what the formula wanted, what the solver planned."""

    wanted: Annotated[NodeNumber, Field(ge=0)]
    planned: Annotated[NodeNumber, Field(ge=0)]
    unit: Literal["m", "contacts", "sets"]


class Week(Frozen):
    """One athlete's week."""

    number: Count
    monday: Day
    mesocycle: Count | None
    kind: WeekKind
    specificity: Share
    volumes: dict[str, Volume] = {}
    basis: Basis = {}
    sessions: tuple[Session, ...] = ()


class RetiredLine(Frozen):
    """A working line that is gone, with its dose: what was logged of it is still counted by it."""

    ref: Ref
    session: Ref
    first: Count
    """The first revision whose session held it; 1 where it was there as long as its session."""
    last: Count
    """The last revision that held it."""
    method: LineMethod
    run: Run | None = None
    exercise: Ref
    side: Sides = "both"
    sets: Count
    reps: Count
    distance_m: Metres | None = None
    run_in_m: Metres | None = None
    load_kg: Kilograms | None = None
    decrement: Share | None = None
    contacts: Whole | None = None
    effort: Share | None = None


class AthleteProgramme(Frozen):
    """All weeks of one athlete."""

    athlete: Ref
    profile: str | None = None
    next_ref: Count
    retired: tuple[Ref, ...] = ()
    retired_lines: Annotated[tuple[RetiredLine, ...], Field(exclude_if=lambda value: not value)] = ()
    """What the retired working lines were; left out where there are none, as in files of before."""
    came_later: Annotated[dict[Ref, Count], Field(exclude_if=lambda value: not value)] = {}
    """The first revision of each working line that came into a session that was there before it."""
    weeks: tuple[Week, ...]


class Node(Frozen):
    """How one number came about; every value is computed from its inputs as they are stored."""

    quantity: str
    value: NodeNumber | str | None
    unit: str
    low: NodeNumber | None = None
    high: NodeNumber | None = None
    by: str
    inputs: dict[str, str] = {}
    source: str | None = None
    mark: Mark
    reason: str | None = None


class Unmet(Frozen):
    """A wish that could not be fulfilled."""

    athlete: Ref
    week: Count
    wish: str
    method: str | None = None
    wanted: float | None = None
    got: float | None = None
    reason: str | None = None


class Revision(Frozen):
    """Where this document stands in its line of revisions."""

    number: Count = 1
    parent: str | None = None
    cause: Literal["plan", "replan", "edit", "restore", "template"] = "plan"
    reason: str | None = None
    frozen_until: Day | None = None


class RulebookStamp(Frozen):
    """Which rulebook the programme was made by."""

    digest: str
    changed: tuple[str, ...] = ()


class BriefCopy(Frozen):
    """The brief the programme was made from; None for one made by hand."""

    digest: str | None
    content: ResolvedBrief | None


class Programme(Frozen):
    """The whole document."""

    schema_: Literal["speedloom.programme/1"] = Field(alias="schema")
    id: Annotated[str, Field(pattern=r"^[0-9a-f]{12}$")]
    revision: Revision
    engine: str
    seed: Whole = 0
    timezone: str
    rulebook: RulebookStamp
    brief: BriefCopy
    programmes: tuple[AthleteProgramme, ...]
    basis: dict[str, Node] = {}
    unmet: tuple[Unmet, ...] = ()

    def sessions(self) -> Iterator[tuple[str, Session]]:
        """Give every session after its athlete's ref, in the order of the document."""
        for own in self.programmes:
            for week in own.weeks:
                for session in week.sessions:
                    yield own.athlete, session
