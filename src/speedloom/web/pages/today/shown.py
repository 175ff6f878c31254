"""What the first page says of one squad, as plain values: who trains, who is limited, what waits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.timezone import localtime

from speedloom.store.athletes import athlete_names
from speedloom.store.briefs import brief
from speedloom.store.cards import Actor, RestrictionCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.restrictions import restrictions
from speedloom.store.screenings import barred
from speedloom.store.stops import STOP, is_stop, stop_ref
from speedloom.store.tested import last_tested
from speedloom.store.training_now import (
    ProgrammeOf,
    Written,
    programmes_of_athletes,
    written_since,
)
from speedloom.training.brief import Brief
from speedloom.training.calendar import Event
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.web.pages.restrictions.shown import RestrictionShown, restrictions_shown
from speedloom.web.pages.today.facts import facts_of, when
from speedloom.web.pages.today.trainings import Programmes, Training, looked_at, running, trainings
from speedloom.wording.dates import clock, day_month
from speedloom.wording.names import exercise_name, place_name
from speedloom.wording.units import Units, number

MOST_LOOKED_AT = 3
"""Programmes of one athlete that are looked into, the newest first [count]."""
BACK_DAYS = 14
AHEAD_DAYS = 14
NAMED = 4
"""So many are named, of more the number is said [count]."""


@dataclass(frozen=True)
class TrainingShown:
    """One training of today."""

    title: str
    names: str
    count: int
    written: int
    address: str


@dataclass(frozen=True)
class StopShown:
    """Somebody stopped for pain, and nobody has lifted it yet."""

    athlete: str
    name: str
    exercise: str
    at: str
    by: str
    lifts: str
    note: str


@dataclass(frozen=True)
class Waiting:
    """Something that waits for somebody, and where it is done."""

    text: str
    address: str


@dataclass(frozen=True)
class SquadToday:
    """One squad's day."""

    card: SquadCard
    day: date
    trainings: tuple[TrainingShown, ...]
    stops: tuple[StopShown, ...]
    restricted: tuple[RestrictionShown, ...]
    uncleared: tuple[tuple[str, str], ...]
    """Ref and name of whom hard work is not cleared for, or something hurts, by what was asked last."""
    sees_health: bool
    unwritten: tuple[Waiting, ...]
    retests: tuple[Waiting, ...]
    clashes: tuple[Waiting, ...]
    programmes: tuple[ProgrammeOf, ...]
    next: Waiting | None

    @property
    def waits(self) -> bool:
        """Say whether anything waits."""
        return bool(self.unwritten or self.retests or self.clashes)


def squad_today(actor: Actor, squad: SquadCard, *, today: date, units: Units) -> SquadToday:
    """Gather one squad's day in a fixed number of questions, whatever its size."""
    key = squad.key
    cards = programmes_of_athletes(actor, key)
    read = facts_of(actor, key, looked_at(cards, most=MOST_LOOKED_AT))
    written = written_since(actor, key, today - timedelta(days=BACK_DAYS))
    first, last = today - timedelta(days=BACK_DAYS), today + timedelta(days=AHEAD_DAYS)
    found = trainings(read, written, first=first, last=last)
    names = athlete_names(actor, key)
    limits = _limits(actor, squad, names=names, units=units, today=today)
    content = brief(actor, key).brief
    return SquadToday(
        card=squad,
        day=today,
        trainings=tuple(_training(key, one, names) for one in found if one.date == today),
        stops=tuple(_stops(limits, names, _said(written))),
        restricted=tuple(one for one in limits if one.state == "now"),
        uncleared=tuple((ref, names[ref]) for ref in barred(actor, key) if ref in names),
        sees_health=allowed(actor, "see_health", squad=key),
        unwritten=tuple(_unwritten(key, found, today=today)),
        retests=tuple(_retests(actor, key, content, names, today=today)),
        clashes=tuple(_clashes(key, content, running(read, today=today), found, today=today)),
        programmes=tuple(card for card, _facts in running(read, today=today)) or cards[:1],
        next=_next(key, found, today=today),
    )


def _limits(
    actor: Actor, squad: SquadCard, *, names: Mapping[str, str], units: Units, today: date
) -> tuple[RestrictionShown, ...]:
    """Give the restrictions in force; none for eyes they are not for."""
    if not allowed(actor, "see_health", squad=squad.key):
        return ()
    cards = [card for card in restrictions(actor, squad.key) if card.athlete in names]
    shown = restrictions_shown(actor, squad.key, cards, names=names, units=units, today=today)
    return tuple(one for one in shown if one.in_force)


def _training(squad: str, one: Training, names: Mapping[str, str]) -> TrainingShown:
    return TrainingShown(
        title=f"{clock(one.planned.start)} · {place_name(one.planned.place)}",
        names=_named(names.get(ref, ref) for ref in one.athletes),
        count=len(one.athletes),
        written=one.written,
        address=_address("session", squad, one),
    )


def _address(name: str, squad: str, one: Training) -> str:
    where = reverse(name, args=[squad, one.programme, one.date.isoformat()])
    which = {"start": clock(one.planned.start), "place": one.planned.place}
    return where if one.alone else f"{where}?{urlencode(which)}"


def _named(names: Iterable[str]) -> str:
    every = sorted(names, key=str.casefold)
    more = len(every) - NAMED
    # One more is named as easily as counted.
    return ", ".join(every) if more <= 1 else f"{', '.join(every[:NAMED])} and {more} more"


def _said(written: Iterable[Written]) -> dict[str, str]:
    """Give what was noted with a stop, by the name of the limit it set."""
    return {stop_ref(one.entry): one.entry.note for one in written if is_stop(one.entry)}


def _stops(
    limits: Iterable[RestrictionShown], names: Mapping[str, str], said: Mapping[str, str]
) -> Iterator[StopShown]:
    catalogue = load_catalogue()
    for one in limits:
        card = one.card
        if card.restriction.ref.startswith(STOP):
            ref = card.restriction.limits[0].exercise
            yield StopShown(
                athlete=card.athlete,
                name=names.get(card.athlete, card.athlete),
                exercise=exercise_name(ref, catalogue=catalogue) if ref else "",
                at=date_format(localtime(card.set_at), "D j M, H:i"),
                by=_by(card),
                note=said.get(card.restriction.ref, ""),
                lifts=f"{one.lifts[:1].lower()}{one.lifts[1:]}",
            )


def _by(card: RestrictionCard) -> str:
    return f"{card.restriction.set_by} ({card.set_in})"


def _unwritten(squad: str, found: Iterable[Training], *, today: date) -> Iterator[Waiting]:
    for one in found:
        if one.date < today and one.missing:
            day = f"{day_month(one.date)}, {clock(one.planned.start)}"
            some = "all" if not one.written else f"{one.missing} of {len(one.athletes)}"
            text = f"{day}: results of {some} not written"
            yield Waiting(text, _address("session", squad, one))


def _retests(
    actor: Actor, squad: str, content: Brief, names: Mapping[str, str], *, today: date
) -> Iterator[Waiting]:
    where = reverse("tests", args=[squad])
    last = {ref: day for ref, day in last_tested(actor, squad).items() if ref in names}
    events = [event for event in content.events if event.kind == "test"]
    for event in events:
        title = event.title or "Test day"
        if today <= event.date <= today + timedelta(days=AHEAD_DAYS):
            yield Waiting(f"{title}: {day_month(event.date)}", where)
        missing = [ref for ref, day in last.items() if day is None or day < event.date]
        if today - timedelta(days=BACK_DAYS) <= event.date < today and missing:
            text = (
                f"{title} of {day_month(event.date)}: results of {len(missing)} of {len(last)} are not there"
            )
            yield Waiting(text, where)
    ahead = any(today <= event.date <= today + timedelta(days=AHEAD_DAYS) for event in events)
    weeks = load_rulebook().with_changes(content.rules).number("retest", "due_weeks")
    due = today - timedelta(weeks=weeks)
    long = [names[ref] for ref, day in last.items() if day is not None and day < due]
    never = [names[ref] for ref, day in last.items() if day is None]
    if long and not ahead:
        yield Waiting(f"Not tested for more than {number(weeks)} weeks: {_named(long)}", where)
    if never:
        yield Waiting(f"Never tested: {_named(never)}", where)


def _clashes(
    squad: str, content: Brief, read: Programmes, found: Iterable[Training], *, today: date
) -> Iterator[Waiting]:
    """Find trainings on days of events that are newer than the programme."""
    known = {card.id: facts.events for card, facts in read}
    for event in content.events:
        for one in found:
            day = one.date
            new = one.programme in known and when(event) not in known[one.programme]
            if new and _stands_in_the_way(event) and day >= today and event.date <= day <= _last(event):
                title = event.title or event.kind.capitalize()
                text = f"{title}, not known to the programme: training on {day_month(day)}"
                yield Waiting(text, reverse("programme", args=[squad, one.programme]))


def _last(event: Event) -> date:
    return event.until or event.date


def _stands_in_the_way(event: Event) -> bool:
    return event.kind in {"match", "competition", "travel", "exam"} or event.training == "none"


def _next(squad: str, found: Iterable[Training], *, today: date) -> Waiting | None:
    """Give the training that comes after today, and its session page."""
    later = next((one for one in found if one.date > today), None)
    if later is None:
        return None
    said = f"{day_month(later.date)}, {clock(later.planned.start)}, {place_name(later.planned.place)}"
    return Waiting(said, _address("session", squad, later))
