"""Trainings of a squad around today: by which programme each athlete goes on a day, and what is written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from speedloom.store.training_now import ProgrammeOf, Written
from speedloom.web.pages.today.facts import Facts, Planned, Span

Programmes = Sequence[tuple[ProgrammeOf, Facts]]


@dataclass(frozen=True)
class Training:
    """One training of those who go by one programme, and of how many of them something is written."""

    programme: str
    planned: Planned
    athletes: tuple[str, ...]
    alone: bool
    """Whether it is the only one of its day in its programme."""
    written: int

    @property
    def date(self) -> date:
        """Its day."""
        return self.planned.date

    @property
    def missing(self) -> int:
        """Of how many nothing is written [count]."""
        return len(self.athletes) - self.written


def looked_at(programmes: Iterable[ProgrammeOf], *, most: int) -> tuple[ProgrammeOf, ...]:
    """Choose the programmes to look into: the newest few of each athlete, newest first."""
    often: dict[str, int] = {}
    chosen = []
    for one in programmes:
        if any(often.get(ref, 0) < most for ref in one.athletes):
            chosen.append(one)
        for ref in one.athletes:
            often[ref] = often.get(ref, 0) + 1
    return tuple(chosen)


def trainings(
    programmes: Programmes, written: Iterable[Written], *, first: date, last: date
) -> tuple[Training, ...]:
    """List the trainings from the first to the last day, each athlete by the newest programme of a day."""
    said = {(one.programme, one.entry.athlete, one.entry.session) for one in written}
    taken: dict[str, list[Span]] = {}
    found: list[Training] = []
    for card, facts in programmes:
        near = [one for one in facts.trainings if first <= one.date <= last]
        days = [one.date for one in near]
        for one in near:
            free = [(athlete, ref) for athlete, ref in one.present if _free(athlete, one.date, taken)]
            done = sum((card.id, athlete, ref) in said for athlete, ref in free)
            if free:
                here = tuple(athlete for athlete, _ref in free)
                found.append(Training(card.id, one, here, days.count(one.date) == 1, done))
        for athlete, span in facts.spans.items():
            taken.setdefault(athlete, []).append(span)
    return tuple(sorted(found, key=lambda one: (one.date, one.planned.start, one.planned.place)))


def _free(athlete: str, day: date, taken: dict[str, list[Span]]) -> bool:
    """Say whether an athlete goes by no newer programme on that day."""
    return not any(first <= day <= last for first, last in taken.get(athlete, ()))


def running(programmes: Programmes, *, today: date) -> Programmes:
    """Keep the programmes in which some week holds today."""
    return [(card, facts) for card, facts in programmes if facts.runs(today)]
