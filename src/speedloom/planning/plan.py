"""From a brief to a programme, or to the clash that stands in its way."""

from __future__ import annotations

from collections.abc import Callable

from speedloom.planning.athlete_plan import PlannedAthlete, plan_athlete
from speedloom.planning.clash import Clash, merged, no_slot, unscreened
from speedloom.planning.ledger import Ledger
from speedloom.planning.measured import Measured, athlete_numbers
from speedloom.planning.result import programme_of
from speedloom.planning.setting import Plan
from speedloom.planning.weeks import lay_out
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
    progress: Progress | None = None,
) -> Programme | Clash:
    """Plan every athlete of a brief.

    Args:
        brief: the resolved brief.
        rulebook: the rulebook with the coach's changes.
        catalogue: the exercises and warm-ups.
        measured: each athlete's newest sprint profile; an athlete without one is planned by effort.
        progress: called with the athlete being planned and the share that is done.
    """
    barred = tuple(
        athlete.ref
        for athlete in brief.athletes
        if athlete.screening and (athlete.screening.pain or not athlete.screening.cleared)
    )
    if barred:
        return unscreened(barred)
    ledger = Ledger(brief, rulebook)
    done = _Counter(brief, progress)
    planned: list[PlannedAthlete] = []
    clashes: list[Clash] = []
    for athlete in brief.athletes:
        numbers = athlete_numbers(ledger, athlete, measured=measured.get(athlete.ref))
        outcome = plan_athlete(Plan(brief, rulebook, catalogue, ledger, athlete, numbers), progress=done.step)
        if isinstance(outcome, list):
            clashes += outcome
        else:
            planned.append(outcome)
    if clashes:
        return merged(clashes)
    if not any(athlete.has_days for athlete in planned):
        return no_slot(tuple(athlete.ref for athlete in brief.athletes), start=brief.start, end=brief.end)
    profiles = {athlete: profile.ref for athlete, profile in measured.items()}
    return programme_of(brief, tuple(planned), rulebook=rulebook, ledger=ledger, profiles=profiles)


class _Counter:
    def __init__(self, brief: ResolvedBrief, progress: Progress | None) -> None:
        self.done = 0
        self.progress = progress
        self.total = len(brief.athletes) * len(lay_out(brief, in_training=True))

    def step(self, athlete: str) -> None:
        self.done += 1
        if self.progress is not None:
            self.progress(athlete, self.done / self.total)
