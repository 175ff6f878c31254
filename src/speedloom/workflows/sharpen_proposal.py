"""What a proposal is: a number before and after, how sure, from which entries, and what it changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any, Literal

from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Friction
from speedloom.training.measurement import Lift, Trial
from speedloom.training.programme import Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.workflows.explain import Step
from speedloom.workflows.sharpen_printed import Figure, Printed
from speedloom.workflows.standing_log import StandingEntry, StandingLog

Kind = Literal["one_rep_max", "friction", "profile", "next_load"]


@dataclass(frozen=True)
class LoadEdit:
    """An edit of a number of a line."""

    ref: str
    field: str
    value: float


@dataclass(frozen=True)
class News:
    """What accepting a proposal changes: the brief, or lines of the programme; nothing for advice."""

    lift: Lift | None = None
    kit: str | None = None
    friction: Friction | None = None
    trials: tuple[Trial, ...] = ()
    edits: tuple[LoadEdit, ...] = ()


@dataclass(frozen=True)
class Proposal:
    """One number that the log would move.

    Attributes:
        id: stable and readable, such as `ines/back_squat/one_rep_max`.
        athlete: whose number it is; None for a sled several athletes ran with.
        kind: what kind of number.
        what: the exercise, the kit or the test it is about.
        before: the number as it stands; None where none was known.
        after: the number the log leads to.
        reason: id of the sentence that says why, with its values in `values`.
        values: what the sentence needs.
        steps: how it came about, inputs before results, the number's own node last.
        entries: ids of the log entries it rests on.
        news: what accepting it changes.
    """

    id: str
    athlete: str | None
    kind: Kind
    what: str
    before: Figure | None
    after: Figure
    reason: str
    values: Mapping[str, Any]
    steps: tuple[Step, ...]
    entries: tuple[str, ...]
    news: News

    @property
    def acceptable(self) -> bool:
        """Whether accepting it changes anything."""
        return self.news != News()

    def to_json(self) -> dict[str, Any]:
        """Give the proposal as plain values."""
        figures = {name: vars(one) if one else None for name, one in self._figures().items()}
        return {
            "id": self.id,
            "athlete": self.athlete,
            "kind": self.kind,
            "what": self.what,
            **figures,
            "why": {"id": self.reason, "values": dict(self.values)},
            "steps": [{"id": step.id, **step.node.model_dump(mode="json")} for step in self.steps],
            "entries": list(self.entries),
            "acceptable": self.acceptable,
        }

    def _figures(self) -> dict[str, Figure | None]:
        return {"before": self.before, "after": self.after}


@dataclass(frozen=True)
class Scene:
    """All that proposals are made from."""

    programme: Programme
    brief: ResolvedBrief
    log: StandingLog
    on: date
    rulebook: Rulebook
    catalogue: Catalogue

    @cached_property
    def printed(self) -> Printed:
        """What is printed, to be computed again."""
        return Printed.of(self.programme, self.brief, self.rulebook)

    def surface_of(self, one: StandingEntry) -> str | None:
        """Give the floor an entry is about: as written down, else the place's."""
        place = one.session.place if one.session else None
        known = next((there.surface for there in self.brief.places if there.ref == place), None)
        return one.entry.surface or (one.line.surface if one.line else None) or known

    def number(self, rule: str, name: str) -> float:
        """Give a number of the rulebook."""
        return self.rulebook.number(rule, name)

    def known(self, athlete: str) -> tuple[StandingEntry, ...]:
        """Give an athlete's entries up to the day, those of what did not take place left out."""
        took_place = {"done", "modified", "stopped", "extra"}
        return tuple(
            one
            for one in self.log.of_athlete(athlete)
            if one.entry.date <= self.on and one.entry.status in took_place
        )

    def ahead(self, athlete: str) -> tuple[tuple[Week, Session, Prescription], ...]:
        """Give an athlete's lines of work after the day, in order."""
        found = [
            (week, session, line)
            for own in self.programme.programmes
            if own.athlete == athlete
            for week in own.weeks
            for session in week.sessions
            if session.date > self.on
            for line in session.prescriptions
            if line.purpose == "work"
        ]
        return tuple(sorted(found, key=lambda one: (one[1].date, one[1].start)))

    def young(self, athlete: Athlete) -> bool:
        """Say whether no maximum is made for an athlete because of age (rule youth_load)."""
        age = athlete.age_years(self.on)
        return age is not None and age < self.number("youth_load", "age_years")
