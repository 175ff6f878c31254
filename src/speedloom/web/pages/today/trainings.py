"""Trainings of a squad around today: by which programme each athlete goes on a day, and what is written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.report.sheets.squad import Attendance, SquadSession, squad_sessions
from speedloom.store.training_now import ProgrammeOf, Written
from speedloom.training.programme import Programme

A_WEEK = timedelta(days=6)
Documents = Sequence[tuple[ProgrammeOf, Programme]]


@dataclass(frozen=True)
class Training:
    """One training of those who go by one programme, and of how many of them something is written."""

    programme: str
    session: SquadSession
    alone: bool
    """Whether it is the only one of its day in its programme."""
    written: int

    @property
    def present(self) -> tuple[Attendance, ...]:
        """Those who come."""
        return self.session.present

    @property
    def missing(self) -> int:
        """Of how many nothing is written [count]."""
        return len(self.present) - self.written


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
    documents: Documents, written: Iterable[Written], *, first: date, last: date
) -> tuple[Training, ...]:
    """List the trainings from the first to the last day, each athlete by the newest programme of a day."""
    said = {(one.programme, one.entry.athlete, one.entry.session) for one in written}
    taken: dict[str, list[tuple[date, date]]] = {}
    found: list[Training] = []
    for card, document in documents:
        spans = dict(_spans(document))
        sessions = [
            cut
            for session in squad_sessions(document, first=first, last=last)
            if (cut := _free(session, taken))
        ]
        days = [session.date for session in sessions]
        for session in sessions:
            done = sum((card.id, one.athlete, one.session.ref) in said for one in session.present)
            found.append(Training(card.id, session, days.count(session.date) == 1, done))
        for athlete, span in spans.items():
            taken.setdefault(athlete, []).append(span)
    return tuple(sorted(found, key=lambda one: (one.session.date, one.session.start, one.session.place)))


def _free(session: SquadSession, taken: dict[str, list[tuple[date, date]]]) -> SquadSession | None:
    """Leave out who goes by a newer programme on that day."""
    here = tuple(
        one
        for one in session.present
        if not any(first <= session.date <= last for first, last in taken.get(one.athlete, ()))
    )
    return SquadSession(session.date, session.start, session.place, here) if here else None


def _spans(document: Programme) -> Iterator[tuple[str, tuple[date, date]]]:
    for own in document.programmes:
        mondays = [week.monday for week in own.weeks]
        if mondays:
            yield own.athlete, (min(mondays), max(mondays) + A_WEEK)


def running(documents: Documents, *, today: date) -> Documents:
    """Keep the programmes in which some week holds today."""
    return [
        (card, document)
        for card, document in documents
        if any(first <= today <= last for _athlete, (first, last) in _spans(document))
    ]


def of_athletes(session: SquadSession, refs: AbstractSet[str]) -> tuple[Attendance, ...]:
    """Give those of a training who are named."""
    return tuple(one for one in session.present if one.athlete in refs)
