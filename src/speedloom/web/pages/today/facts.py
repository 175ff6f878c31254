"""When whom a programme lets train: kept small in memory, since the first page looks at many programmes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta
from threading import Lock

from speedloom.report.sheets.squad import squad_sessions
from speedloom.store.cards import Actor
from speedloom.store.training_now import ProgrammeOf, documents
from speedloom.training.calendar import Event
from speedloom.training.kept import forgotten_by
from speedloom.training.programme import Programme

A_WEEK = timedelta(days=6)
MOST = 1000
"""Programmes whose days are kept in mind [count]."""
Span = tuple[date, date]
When = tuple[str, date, date]
Key = tuple[str, tuple[str, ...]]
"""Digest and athletes: a revision never changes, and somebody who sees some of it sees other days."""
_KEPT: OrderedDict[Key, Facts] = OrderedDict()
_LOCK = Lock()


@dataclass(frozen=True)
class Planned:
    """One training: when, where, and whose sessions it holds, by athlete."""

    date: date
    start: time
    place: str
    present: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Facts:
    """One programme: from when to when each athlete goes by it, its trainings, and the events it knows."""

    spans: Mapping[str, Span]
    trainings: tuple[Planned, ...]
    events: frozenset[When]

    def runs(self, day: date) -> bool:
        """Say whether somebody goes by it on a day."""
        return any(first <= day <= last for first, last in self.spans.values())


def facts_of(actor: Actor, squad: str, cards: Iterable[ProgrammeOf]) -> tuple[tuple[ProgrammeOf, Facts], ...]:
    """Give what is known of some programmes; those that are not in mind are read in one question."""
    those = tuple(cards)
    with _LOCK:
        known = {key: _KEPT[key] for key in map(_key, those) if key in _KEPT}
    missing = [card for card in those if _key(card) not in known]
    for card, document in documents(actor, squad, missing) if missing else ():
        known[_key(card)] = _keep(_key(card), _facts(document))
    return tuple((card, known[_key(card)]) for card in those if _key(card) in known)


def _key(card: ProgrammeOf) -> Key:
    return (card.digest, card.athletes)


def _keep(key: Key, facts: Facts) -> Facts:
    with _LOCK:
        _KEPT[key] = facts
        while len(_KEPT) > MOST:
            _KEPT.popitem(last=False)
    return facts


def _forget() -> None:
    with _LOCK:
        _KEPT.clear()


forgotten_by(_forget)


def _facts(document: Programme) -> Facts:
    spans = dict(_spans(document))
    first = min((span[0] for span in spans.values()), default=date.min)
    last = max((span[1] for span in spans.values()), default=date.min)
    content = document.brief.content
    return Facts(
        spans=spans,
        trainings=tuple(
            Planned(
                one.date,
                one.start,
                one.place,
                tuple((each.athlete, each.session.ref) for each in one.present),
            )
            for one in squad_sessions(document, first=first, last=last)
        ),
        events=frozenset(when(event) for event in (content.events if content else ())),
    )


def _spans(document: Programme) -> Iterator[tuple[str, Span]]:
    for own in document.programmes:
        mondays = [week.monday for week in own.weeks]
        if mondays:
            yield own.athlete, (min(mondays), max(mondays) + A_WEEK)


def when(event: Event) -> When:
    """Tell events apart by what they are and when."""
    return (event.kind, event.date, event.until or event.date)
