"""What a review holds: planned beside done, session loads with their lines, what differed, and questions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any, Literal, TypeVar

from speedloom.training.fields import Day
from speedloom.training.words import WeekKind

LoadState = Literal["known", "undefined", "incomplete", "not_over"]
"""Whether a week's monotony can be said: every day the same is `undefined`, a missing effort `incomplete`."""
SessionState = Literal["done", "partly", "not_done", "nothing_written", "to_come"]
DifferenceKind = Literal[
    "not_done", "stopped", "changed", "nothing_written", "other_day", "extra", "not_in_programme"
]
LineChange = Literal["not_done", "nothing_written", "amount", "load", "distance"]


@dataclass(frozen=True)
class LiftAmount:
    """One lift: its sets, those of them that are hard, and its tonnage [kg]; None where no load is known."""

    sets: int = 0
    hard_sets: int = 0
    tonnage_kg: float | None = None

    def __add__(self, other: LiftAmount) -> LiftAmount:
        known = [value for value in (self.tonnage_kg, other.tonnage_kg) if value is not None]
        return LiftAmount(
            self.sets + other.sets, self.hard_sets + other.hard_sets, sum(known) if known else None
        )


@dataclass(frozen=True)
class Amounts:
    """What work adds up to: metres (run-ins included), contacts by class, lifts by exercise, minutes.

    `volumes` are counted as the programme's own weeks count theirs (run-ins left out), for the weave.
    """

    sprint_m: float = 0.0
    from_90_m: float = 0.0
    from_95_m: float = 0.0
    resisted_m: float = 0.0
    contacts: Mapping[str, int] = field(default_factory=dict)
    lifts: Mapping[str, LiftAmount] = field(default_factory=dict)
    minutes: float = 0.0
    volumes: Mapping[str, float] = field(default_factory=dict)

    def __add__(self, other: Amounts) -> Amounts:
        return Amounts(
            sprint_m=self.sprint_m + other.sprint_m,
            from_90_m=self.from_90_m + other.from_90_m,
            from_95_m=self.from_95_m + other.from_95_m,
            resisted_m=self.resisted_m + other.resisted_m,
            contacts=_joined(self.contacts, other.contacts, nothing=0),
            lifts=_joined(self.lifts, other.lifts, nothing=LiftAmount()),
            minutes=self.minutes + other.minutes,
            volumes=_joined(self.volumes, other.volumes, nothing=0.0),
        )

    @property
    def metres(self) -> float:
        """Metres of all runs, free and resisted."""
        return self.sprint_m + self.resisted_m

    @property
    def all_contacts(self) -> int:
        """Contacts of all classes."""
        return sum(self.contacts.values())

    @property
    def hard_sets(self) -> int:
        """Hard sets of all lifts."""
        return sum(lift.hard_sets for lift in self.lifts.values())

    @property
    def tonnage_kg(self) -> float:
        """Tonnage of all lifts whose load is known [kg]."""
        return sum(lift.tonnage_kg or 0.0 for lift in self.lifts.values())


_Value = TypeVar("_Value", int, float, LiftAmount)


def _joined(one: Mapping[str, _Value], other: Mapping[str, _Value], *, nothing: _Value) -> dict[str, _Value]:
    return {key: one.get(key, nothing) + other.get(key, nothing) for key in dict.fromkeys((*one, *other))}


@dataclass(frozen=True)
class Beside:
    """Planned and done; `unwritten` is the part of the plan of which nothing usable was written down."""

    planned: Amounts = Amounts()
    done: Amounts = Amounts()
    unwritten: Amounts = Amounts()

    def __add__(self, other: Beside) -> Beside:
        return Beside(self.planned + other.planned, self.done + other.done, self.unwritten + other.unwritten)


@dataclass(frozen=True)
class SessionCount:
    """An athlete's sessions of a week by what became of them."""

    planned: int = 0
    done: int = 0
    partly: int = 0
    not_done: int = 0
    nothing_written: int = 0
    to_come: int = 0
    as_written: int = 0
    """Of those done: logged as a whole only, so that their lines are counted as written."""


@dataclass(frozen=True)
class LoadCount:
    """Sessions that took place, and how many of them lack what a session load is made of."""

    trained: int = 0
    without_effort: int = 0
    minutes_from_plan: int = 0
    """Of those with an effort: without minutes, so that the planned ones are taken."""


@dataclass(frozen=True)
class WeekLoad:
    """A week's session loads (effort × minutes): each day's, their sum, monotony and strain."""

    days: tuple[float, ...]
    total: float
    monotony: float | None
    strain: float | None
    state: LoadState
    count: LoadCount
    nothing_written: int = 0

    @property
    def is_least(self) -> bool:
        """Whether the sum lacks sessions, so that it is a least value."""
        return self.count.without_effort + self.nothing_written > 0


@dataclass(frozen=True)
class LoadLines:
    """An athlete's session load a day from the first day on, with its 7-day and 28-day weighted averages.

    `missing` holds the places (from 0) of days with a session whose load nobody wrote down: they count as 0.
    """

    athlete: str
    first: date
    loads: tuple[float, ...]
    short: tuple[float, ...]
    long: tuple[float, ...]
    missing: tuple[int, ...]
    spans_d: tuple[float, float] = (7.0, 28.0)

    def on(self, day: date) -> tuple[float, float] | None:
        """Give both averages on a day, or on the last one before it; None before the first."""
        place = min((day - self.first).days, len(self.loads) - 1)
        return None if place < 0 else (self.short[place], self.long[place])


@dataclass(frozen=True)
class LineDifference:
    """One line that was done otherwise than planned, in its own unit."""

    exercise: str
    change: LineChange
    done: float | None = None
    planned: float | None = None
    unit: Literal["runs", "sets", "kg", "m", ""] = ""
    reason: str | None = None


@dataclass(frozen=True)
class Difference:
    """One session, or work outside the plan, that differed, with the reason as it was logged."""

    kind: DifferenceKind
    date: date
    session: str | None = None
    exercise: str | None = None
    planned_date: Day | None = None
    reason: str | None = None
    note: str = ""
    lines: tuple[LineDifference, ...] = ()


@dataclass(frozen=True)
class Question:
    """A value that nobody would expect: kept in the log, in no sum."""

    date: date
    exercise: str | None
    set: int | None = None
    rep: int | None = None
    time_s: float | None = None
    distance_m: float | None = None
    load_kg: float | None = None
    reps: int | None = None
    minutes: float | None = None


@dataclass(frozen=True)
class AthleteWeek:
    """One athlete's week."""

    athlete: str
    kind: WeekKind
    measured: bool
    """Whether shares of top speed rest on the athlete's own tests, not on what is typical."""
    sessions: SessionCount
    amounts: Beside
    load: WeekLoad
    differences: tuple[Difference, ...]
    questions: tuple[Question, ...]


@dataclass(frozen=True)
class WeekReview:
    """A week of the squad, and of each athlete in it."""

    number: int
    monday: date
    athletes: tuple[AthleteWeek, ...]

    @property
    def squad(self) -> Beside:
        """Planned and done of all athletes together."""
        return sum((one.amounts for one in self.athletes), Beside())


@dataclass(frozen=True)
class Review:
    """Planned beside done, week by week until a day, with each athlete's load lines."""

    programme: str
    revision: int
    until: date
    weeks: tuple[WeekReview, ...]
    lines: tuple[LoadLines, ...]

    def of_athlete(self, athlete: str) -> Review:
        """Give the part of one athlete, with nobody else in it."""
        weeks = (
            WeekReview(
                week.number, week.monday, tuple(one for one in week.athletes if one.athlete == athlete)
            )
            for week in self.weeks
        )
        return Review(
            self.programme,
            self.revision,
            self.until,
            tuple(week for week in weeks if week.athletes),
            tuple(line for line in self.lines if line.athlete == athlete),
        )

    def done_volumes(self, athlete: str) -> dict[str, tuple[float | None, ...]]:
        """Give an athlete's done volumes from week 1 on, in the units of `weeks.volumes`, for the weave.

        None where the week was not reviewed, or nothing usable was written down of all that was planned.
        """
        own = {
            week.number: one.amounts for week in self.weeks for one in week.athletes if one.athlete == athlete
        }
        keys = dict.fromkeys(
            key for one in own.values() for part in (one.planned, one.done) for key in part.volumes
        )
        return {
            key: tuple(_known(own.get(number), key) for number in range(1, max(own, default=0) + 1))
            for key in keys
        }

    @property
    def athletes(self) -> tuple[str, ...]:
        """The athletes, in the programme's order."""
        return tuple(line.athlete for line in self.lines)

    def to_json(self) -> dict[str, Any]:
        """Give plain JSON values; sums that people read as totals stand beside their parts."""
        return {
            "programme": self.programme,
            "revision": self.revision,
            "until": self.until.isoformat(),
            "weeks": [_week(week) for week in self.weeks],
            "load_lines": [_plain(asdict(line)) for line in self.lines],
        }


def _known(amounts: Beside | None, key: str) -> float | None:
    if amounts is None:
        return None
    done = amounts.done.volumes.get(key, 0.0)
    return None if not done and amounts.unwritten.volumes.get(key) else done


def _week(week: WeekReview) -> dict[str, Any]:
    return {
        "number": week.number,
        "monday": week.monday.isoformat(),
        "squad": _beside(week.squad),
        "athletes": [
            {**_plain(asdict(one)), "amounts": _beside(one.amounts), "load": _load(one.load)}
            for one in week.athletes
        ],
    }


def _load(load: WeekLoad) -> dict[str, Any]:
    return {**_plain(asdict(load)), "is_least": load.is_least}


def _beside(beside: Beside) -> dict[str, Any]:
    return {name: _amounts(getattr(beside, name)) for name in ("planned", "done", "unwritten")}


def _amounts(amounts: Amounts) -> dict[str, Any]:
    totals = {"hard_sets": amounts.hard_sets, "tonnage_kg": amounts.tonnage_kg}
    return {**_plain(asdict(amounts)), **{name: _plain(value) for name, value in totals.items()}}


def _plain(value: Any) -> Any:  # noqa: ANN401 — whatever a dataclass holds
    if isinstance(value, dict):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(entry) for entry in value]
    if isinstance(value, float):
        # Sums of stored decimals: what is beyond a thousandth is the adding, not the athlete.
        return round(value, 4)
    return value.isoformat() if isinstance(value, date) else value
