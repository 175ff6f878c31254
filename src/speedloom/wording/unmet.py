"""What could not be had, merged by cause, with what to do about it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Event, Slot
from speedloom.training.programme import Programme, Unmet
from speedloom.wording.dates import clock, listing, runs
from speedloom.wording.names import athlete_name, athletes_of, place_name, word

HEAD = "Not had in full:"
MANY = 4
REASONS: Mapping[str, str] = {
    "restriction": "the limits in force",
    "kit_or_tests": "the kit or the tests do not allow it",
    "slot_minutes": "the slot is too short for more",
    "straight": "the straight leaves no room for a run-in and a zone",
}
WISHES: Mapping[str, str] = {"frequency": "sessions", "volume": "volume", "session": "session"}
REMEDIES: Mapping[str, str] = {
    "restriction": "limits give way to nothing: review them when whoever set them does",
    "kit_or_tests": "add the kit to the brief, or timed runs to the tests",
    "no_field_day": "add a slot on a straight, or take the method out of phases.methods",
    "no_gym_day": "add a slot in a gym, or take the method out of phases.methods",
    "straight": "find a longer straight for one day a week",
    "slot_minutes": "lengthen the slot, or say in phases.drop_first what should go before it",
    "away": "days away and holidays are your own: nothing to do, or move their dates in the brief",
    "": "add a slot, move an event, or accept it",
}


@dataclass(frozen=True)
class _Missed:
    """One thing not had: what it is, why, and what kind of cause that is."""

    what: str
    why: str
    kind: str


def unmet_lines(programme: Programme) -> Iterator[str]:
    """Say what could not be had: a line a cause and its weeks, then what to do."""
    found = _by_weeks(programme, _missed(programme))
    if not found:
        return
    yield HEAD
    several = len(programme.programmes) > 1
    for (missed, weeks, whole), athletes in found.items():
        when = f"week{'s' * (len(weeks) > 1)} {runs(weeks)}"
        whom = _whom(programme, athletes) if several else ""
        if whole:
            nobody = "nobody trains" if whom in {"everybody", ""} else whom
            yield f"  {when.capitalize()}: {nobody}{f', {missed.why}' if missed.why else ''}."
        else:
            said = ", ".join(filter(None, (whom, missed.why)))
            yield f"  {missed.what} in {when}{f': {said}' if said else ''}."
    yield from _todo({missed.kind for missed, _, _ in found})


def _todo(kinds: Iterable[str]) -> Iterator[str]:
    known = set(kinds)
    for kind, remedy in REMEDIES.items():
        if kind in known:
            yield f"  To do: {remedy}."


def _by_weeks(
    programme: Programme, missed: Mapping[tuple[str, _Missed, bool], list[int]]
) -> Mapping[tuple[_Missed, tuple[int, ...], bool], list[str]]:
    found: dict[tuple[_Missed, tuple[int, ...], bool], list[str]] = defaultdict(list)
    for (athlete, what, whole), weeks in missed.items():
        found[what, tuple(sorted(set(weeks))), whole].append(athlete_name(programme, athlete))
    return found


def _whom(programme: Programme, athletes: list[str]) -> str:
    if len(athletes) == len(programme.programmes):
        return "everybody"
    return listing(athletes) if len(athletes) <= MANY else f"{len(athletes)} athletes"


def _missed(programme: Programme) -> Mapping[tuple[str, _Missed, bool], list[int]]:
    found: dict[tuple[str, _Missed, bool], list[int]] = defaultdict(list)
    sessions: dict[tuple[str, int], list[str]] = defaultdict(list)
    for wish in programme.unmet:
        if wish.wish == "session" and wish.reason:
            sessions[wish.athlete, wish.week].append(wish.reason)
        else:
            found[wish.athlete, _method(wish), False].append(wish.week)
    for (athlete, week), slots in sessions.items():
        whole = not _trains(programme, athlete, week)
        for missed in _days(programme, athlete, week, slots):
            found[athlete, missed, whole].append(week)
    return found


def _method(wish: Unmet) -> _Missed:
    name = word(wish.method or "").capitalize()
    if wish.wish != "volume":
        of = f" of {word(wish.method)}" if wish.method else ""
        name = f"{WISHES.get(wish.wish, word(wish.wish))}{of}".capitalize()
    return _Missed(name, REASONS.get(wish.reason or "", word(wish.reason or "")), wish.reason or "")


def _trains(programme: Programme, athlete: str, week: int) -> bool:
    return any(
        found.sessions
        for own in programme.programmes
        if own.athlete == athlete
        for found in own.weeks
        if found.number == week
    )


def _days(programme: Programme, athlete: str, week: int, slots: list[str]) -> Iterator[_Missed]:
    """Give the slots lost in a week, those with one cause together."""
    content = programme.brief.content
    mondays = {
        found.number: found.monday
        for own in programme.programmes
        if own.athlete == athlete
        for found in own.weeks
    }
    known = {slot.ref: slot for slot in content.slots} if content else {}
    causes: dict[str, list[str]] = defaultdict(list)
    for ref in slots:
        slot = known.get(ref)
        cause = _cause(programme, content, athlete, slot.on(mondays[week])) if slot and content else ""
        causes[cause].append(_slot_name(slot) if slot else place_name(ref))
    for cause, names in causes.items():
        yield _Missed(listing(names), cause, "away" if cause else "")


def _cause(programme: Programme, content: ResolvedBrief | None, athlete: str, day: date) -> str:
    person = athletes_of(programme).get(athlete)
    events = [event for event in (content.events if content else ()) if event.covers(day)]
    named = next((event.title or word(event.kind) for event in events if _stops(event)), "")
    away = any(absence.covers(day) for absence in (person.away if person else ()))
    return named or ("away" if away else "")


def _stops(event: Event) -> bool:
    """Say whether nobody trains on an event's days: as it says, else matches, competitions and travel."""
    if event.training is not None:
        return event.training == "none"
    return event.kind in {"match", "competition", "travel"}


def _slot_name(slot: Slot) -> str:
    return f"{slot.day[:3].capitalize()} {clock(slot.start)} {place_name(slot.place)}"
