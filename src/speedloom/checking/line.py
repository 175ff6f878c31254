"""One working line, counted by own code: metres, parts of a run, contacts, how fast it gets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf

from speedloom.checking.pace import distance_at, share_at
from speedloom.checking.people import Person
from speedloom.training.exercise import Exercise
from speedloom.training.programme import Prescription, Session, Week
from speedloom.training.words import LIFTS

_NEARLY = 1e-9


@dataclass(frozen=True)
class Work:
    """A working line with its exercise, athlete, week and session."""

    line: Prescription
    exercise: Exercise | None
    person: Person
    week: Week
    session: Session
    heavier: float = 1.0
    """The load set by hand over the one that would stand there; never below 1."""

    @property
    def share_1rm(self) -> float | None:
        """The share of the one-repetition maximum: as written, raised with a load that was set by hand."""
        share = self.line.share_1rm
        return None if share is None else round(share * self.heavier, 3)

    @property
    def tags(self) -> tuple[str, ...]:
        """The exercise's tags."""
        return self.exercise.tags if self.exercise else ()

    @property
    def slot(self) -> str:
        """The exercise's place in a session, or "" where it is not in the catalogue."""
        return self.exercise.slot if self.exercise else ""

    @property
    def is_run(self) -> bool:
        """Whether it is a free run."""
        return self.line.method == "unloaded_sprint" and self.line.distance_m is not None

    @property
    def is_sled(self) -> bool:
        """Whether it is a resisted run."""
        return self.line.method == "resisted_sprint"

    @property
    def repetitions(self) -> int:
        """Sets times repetitions."""
        return self.line.sets * self.line.reps

    @property
    def run_m(self) -> float:
        """Metres of one repetition, the run-in included."""
        return (self.line.distance_m or 0.0) + (self.line.run_in_m or 0.0)

    @property
    def metres(self) -> float:
        """Metres of the line without run-ins."""
        return self.repetitions * (self.line.distance_m or 0.0)

    @property
    def effort(self) -> float:
        """Share of the athlete's best; a submaximal run without a share counts as none."""
        if self.line.effort is not None:
            return self.line.effort
        return 0.0 if self.line.run == "submaximal" else 1.0

    @property
    def is_maximal(self) -> bool:
        """Whether it is run flat out."""
        least = self.person.book.number("acceleration_runs", "effort_low")
        return self.is_run and self.effort >= least - _NEARLY

    @cached_property
    def share(self) -> float:
        """Share of the athlete's own top speed reached at the end of one repetition."""
        if self.line.distance_m is None or not (self.is_run or self.is_sled):
            return 0.0
        free = self.effort * share_at(self.run_m, self.person.length_m)
        return free * (1.0 - (self.line.decrement or 0.0))

    def reaches(self, share: float) -> bool:
        """Say whether a free run reaches a share of top speed."""
        return self.is_run and self.share >= share - _NEARLY

    def metres_from(self, share: float) -> float:
        """Count the line's metres at or above a share of top speed."""
        if not self.is_run or self.effort <= 0.0:
            return 0.0
        point = distance_at(share / self.effort, self.person.length_m) if share < self.effort else inf
        return self.repetitions * max(0.0, self.run_m - point)

    @property
    def _part_m(self) -> float:
        """Where the acceleration part of a run ends: the athlete's own 95 % point (corrections to S1, S2)."""
        share = self.person.book.number("top_speed_dose", "run_in_share")
        return distance_at(share, self.person.length_m)

    @property
    def metres_up(self) -> float:
        """Metres up to the 95 % point, the run-in included."""
        return self.repetitions * min(self.run_m, self._part_m) if self.is_run else 0.0

    @property
    def metres_beyond(self) -> float:
        """Metres beyond the 95 % point, the run-in not counted."""
        first = max(self._part_m, self.line.run_in_m or 0.0)
        return self.repetitions * max(0.0, self.run_m - first) if self.is_run else 0.0

    @property
    def contacts(self) -> int:
        """Foot contacts of the line: counted where the catalogue knows them, else as written."""
        counted = self.counted_contacts
        return max(counted or 0, self.line.contacts or 0)

    @property
    def counted_contacts(self) -> int | None:
        """Foot contacts by the catalogue, or None where it does not know the exercise."""
        if self.exercise is None:
            return None
        each = 2 if self.line.side == "each" else 1
        return self.repetitions * self.exercise.contacts_per_rep * each

    @property
    def is_lift(self) -> bool:
        """Whether it is strength or power work."""
        return self.line.method in LIFTS
