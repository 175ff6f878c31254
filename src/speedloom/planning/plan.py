"""From a brief to a programme, or to the clash that stands in its way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from speedloom.planning.athlete_plan import PlannedAthlete, plan_athlete
from speedloom.planning.clash import Clash, Overfull, clash_of, no_athlete, no_slot, overfull, unscreened
from speedloom.planning.drafted import draft_weeks
from speedloom.planning.earlier import Earlier
from speedloom.planning.ledger import Ledger
from speedloom.planning.measured import Measured, athlete_numbers
from speedloom.planning.repairs import with_repairs
from speedloom.planning.result import programme_of
from speedloom.planning.setting import Plan
from speedloom.planning.weeks import lay_out
from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook

Progress = Callable[[str, float], None]
"""Called with the athlete being planned and the share that is done, 0 to 1."""


def plan(
    brief: ResolvedBrief,
    *,
    rulebook: Rulebook,
    catalogue: Catalogue,
    measured: dict[str, Measured],
    earlier: Earlier | None = None,
    progress: Progress | None = None,
) -> Programme | Clash:
    """Plan every athlete of a brief, or plan again what an earlier revision left open.

    Args:
        brief: the resolved brief.
        rulebook: the rulebook with the coach's changes.
        catalogue: the exercises and warm-ups.
        measured: each athlete's newest sprint profile; an athlete without one is planned by effort.
        earlier: the revision before, and from when it may change.
        progress: called with the athlete being planned and the share that is done.
    """
    make = _Maker(rulebook, catalogue, measured, earlier)
    outcome = _outcome(brief, make, progress)
    if isinstance(outcome, Clash):
        return with_repairs(outcome, brief=brief, trial=make)
    return outcome


def _outcome(brief: ResolvedBrief, make: _Maker, progress: Progress | None) -> Programme | Clash:
    barred = _barred(brief)
    if not brief.athletes or barred:
        return unscreened(barred) if barred else no_athlete()
    ledger = Ledger(brief, make.rulebook, basis=make.earlier.programme.basis if make.earlier else None)
    done = _Counter(brief, progress)
    planned: list[PlannedAthlete] = []
    too_full: list[Overfull] = []
    for athlete in brief.athletes:
        outcome = plan_athlete(make.plan(brief, athlete, ledger), progress=done.step)
        if isinstance(outcome, list):
            too_full += outcome
        elif not too_full:
            planned.append(outcome)
    if too_full:
        return clash_of(too_full)
    if not any(athlete.has_days for athlete in planned):
        return no_slot(tuple(athlete.ref for athlete in brief.athletes), start=brief.start, end=brief.end)
    profiles = {athlete: profile.ref for athlete, profile in make.measured.items()}
    return programme_of(
        brief,
        tuple(planned),
        rulebook=make.rulebook,
        ledger=ledger,
        profiles=profiles,
        earlier=make.earlier,
    )


def _barred(brief: ResolvedBrief) -> tuple[str, ...]:
    return tuple(athlete.ref for athlete in brief.athletes if athlete.screening and athlete.screening.bars)


@dataclass(frozen=True)
class _Maker:
    """What a plan is made with, whatever the brief."""

    rulebook: Rulebook
    catalogue: Catalogue
    measured: dict[str, Measured]
    earlier: Earlier | None = None

    def plan(self, brief: ResolvedBrief, athlete: Athlete, ledger: Ledger) -> Plan:
        numbers = athlete_numbers(ledger, athlete, measured=self.measured.get(athlete.ref))
        past = self.earlier.past_of(athlete.ref) if self.earlier else None
        return Plan(brief, self.rulebook, self.catalogue, ledger, athlete, numbers, past=past)

    def trains(self, brief: ResolvedBrief, *, lost: bool) -> bool:
        """Say whether a brief has any session, or one that was lost; weeks are drafted up to the first."""
        return any(
            week.sessions or (lost and week.lost)
            for athlete in brief.athletes
            for week in draft_weeks(self.plan(brief, athlete, Ledger(brief, self.rulebook)))
        )

    def too_full(self, brief: ResolvedBrief) -> list[Overfull]:
        """Give a brief's sessions that do not fit."""
        return [
            found
            for athlete in brief.athletes
            for week in draft_weeks(self.plan(brief, athlete, Ledger(brief, self.rulebook)))
            for found in map(overfull, week.sessions)
            if found is not None
        ]


class _Counter:
    def __init__(self, brief: ResolvedBrief, progress: Progress | None) -> None:
        self.done = 0
        self.progress = progress
        self.total = len(brief.athletes) * len(lay_out(brief, in_training=True))

    def step(self, athlete: str) -> None:
        self.done += 1
        if self.progress is not None:
            self.progress(athlete, self.done / self.total)
