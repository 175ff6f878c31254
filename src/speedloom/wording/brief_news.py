"""What is new in a brief since a programme was made from it, in words: the reasons for planning again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import zip_longest
from typing import TypeVar

from speedloom.training.athlete import Athlete, Restriction
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Event, Slot
from speedloom.wording.dates import clock, day_month, listing, span
from speedloom.wording.names import place_name, word

PARTS = ("goal", "phases", "places", "exercises", "own_lines", "rules", "end", "days", "trial")
"""Parts of a brief of which it is only said that they have changed."""
PEOPLE: Mapping[str, str] = {
    "level": "level",
    "mass_kg": "body mass",
    "height_m": "height",
    "born": "birth date",
    "sex": "sex",
    "in_training": "in training",
    "weeks_off": "weeks off",
    "match_minutes": "match minutes",
    "screening": "screening",
}
MEASURED = ("trials", "jumps", "lifts", "traces")
MANY = 3
A_PAIR = 2
T = TypeVar("T")


def news(old: ResolvedBrief, new: ResolvedBrief, *, since: date) -> tuple[str, ...]:
    """Say what a brief says otherwise than before, each thing once.

    Args:
        old: the brief of the revision before.
        new: the brief now.
        since: first day that may change: absences before it are days that were lost.
    """
    return tuple(
        said
        for source in (_joining, _absences, _restrictions, _events, _peaks, _slots, _kit, _measured, _rest)
        for said in source(old, new, since)
    )


def whom(athletes: Iterable[str], *, everybody: Sequence[str]) -> str:
    """Name athletes, or count them where they are many.

    >>> whom(["Ada", "Bea", "Cleo", "Dina"], everybody=["Ada", "Bea", "Cleo", "Dina", "Elin"])
    'all but Elin'
    """
    named = list(athletes)
    if len(named) == len(everybody) > 1:
        return f"all {len(named)}"
    if len(named) <= MANY:
        return listing(named)
    others = [one for one in everybody if one not in named]
    return f"all but {others[0]}" if len(others) == 1 else f"{len(named)} athletes"


def _pairs(old: ResolvedBrief, new: ResolvedBrief) -> Iterator[tuple[Athlete, Athlete]]:
    before = {athlete.ref: athlete for athlete in old.athletes}
    yield from ((before[athlete.ref], athlete) for athlete in new.athletes if athlete.ref in before)


def _joining(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    before, now = ({athlete.ref: athlete.title for athlete in one.athletes} for one in (old, new))
    joined = [title for ref, title in now.items() if ref not in before]
    left = [title for ref, title in before.items() if ref not in now]
    if joined:
        yield f"{whom(joined, everybody=list(now.values()))} joined"
    if left:
        yield f"{whom(left, everybody=list(before.values()))} left"


def _grouped(athletes: Iterable[tuple[str, str]], *, everybody: Sequence[str]) -> Iterator[str]:
    """Write what is said of athletes, those of whom the same is said together."""
    groups: dict[str, list[str]] = {}
    for athlete, said in athletes:
        groups.setdefault(said, []).append(athlete)
    yield from (f"{whom(group, everybody=everybody)}: {said}" for said, group in groups.items())


def lost_days(old: ResolvedBrief, new: ResolvedBrief, *, since: date) -> set[date]:
    """Give the days before a date on which somebody was not trained, as only the later brief says."""
    return {day for was, now in _pairs(old, new) for day in _days(now) - _days(was) if day < since}


def _titles(brief: ResolvedBrief) -> list[str]:
    return [athlete.title for athlete in brief.athletes]


def _absences(old: ResolvedBrief, new: ResolvedBrief, since: date) -> Iterator[str]:
    said = [
        (now.title, text)
        for was, now in _pairs(old, new)
        for text in _away(_days(now) - _days(was), since=since, back=_days(was) - _days(now))
    ]
    yield from _grouped(said, everybody=_titles(new))


def _days(athlete: Athlete) -> set[date]:
    return {
        away.date + timedelta(days=more)
        for away in athlete.away
        for more in range(((away.until or away.date) - away.date).days + 1)
    }


def _away(days: set[date], *, since: date, back: set[date]) -> Iterator[str]:
    lost = spans(day for day in days if day < since)
    ahead = spans(day for day in days if day >= since)
    if lost:
        yield f"no training {lost}"
    if ahead:
        yield f"away {ahead}"
    if back:
        yield f"not away {spans(back)}"


def spans(days: Iterable[date]) -> str:
    """Write days, three or more in a row together.

    >>> spans([date(2026, 1, 12), date(2026, 1, 13), date(2026, 1, 20)])
    'Mon 12, Tue 13 and Tue 20 Jan'
    >>> spans([date(2026, 1, 12), date(2026, 1, 13), date(2026, 1, 14), date(2026, 2, 2)])
    'Mon 12 to Wed 14 Jan and Mon 2 Feb'
    """
    rows: list[list[date]] = []
    for day in sorted(days):
        if rows and day - rows[-1][-1] == timedelta(days=1):
            rows[-1].append(day)
        else:
            rows.append([day])
    parts = [part for row in rows for part in ([row] if len(row) > A_PAIR else [[day] for day in row])]
    return listing(
        _short(part[0]) if _same_month(part, after) else _span(part[0], part[-1])
        for part, after in zip_longest(parts, parts[1:])
    )


def _same_month(part: Sequence[date], after: Sequence[date] | None) -> bool:
    """Say whether the month of a day stands with the day after it."""
    singles = after is not None and len(part) == len(after) == 1
    return singles and after is not None and (part[0].year, part[0].month) == (after[0].year, after[0].month)


def _short(day: date) -> str:
    return day_month(day).rpartition(" ")[0]


def _span(first: date, last: date) -> str:
    whole = span(first, last)
    if first == last or first.month != last.month:
        return whole
    return f"{_short(first)} to {day_month(last)}"


def _restrictions(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    said = [(now.title, text) for was, now in _pairs(old, new) for text in _restricted(was, now)]
    yield from _grouped(said, everybody=_titles(new))


def _restricted(was: Athlete, now: Athlete) -> Iterator[str]:
    gone = [one for one in was.restrictions if one not in now.restrictions]
    for one in (new for new in now.restrictions if new not in was.restrictions):
        before = next((other for other in gone if other.ref == one.ref), None)
        if before is not None:
            gone.remove(before)
        change = "changed" if before is not None else "set"
        yield f"restriction {change} by {one.set_by}, {_holds(one)}"
    for one in gone:
        yield f"restriction of {one.set_by} lifted"


def _holds(restriction: Restriction) -> str:
    if restriction.until is None:
        return f"from {day_month(restriction.from_)} until it is lifted"
    return _span(restriction.from_, restriction.until)


def _events(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    yield from _moved(old.events, new.events, name=_event, when=_event_days)


def _event(event: Event) -> str:
    return f"{event.title or word(event.kind)} ({word(event.kind)})" if event.title else word(event.kind)


def _event_days(event: Event) -> str:
    at = f" {clock(event.start)}" if event.start else ""
    return f"{_span(event.date, event.until or event.date)}{at}"


def _peaks(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    yield from _moved(
        old.goal.peaks,
        new.goal.peaks,
        name=lambda peak: f"{peak.size} peak",
        when=lambda peak: day_month(peak.date),
    )


def _slots(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    yield from _moved(old.slots, new.slots, name=lambda slot: f"slot {place_name(slot.ref)}", when=_slot)


def _slot(slot: Slot) -> str:
    limits = (("from", slot.from_), ("until", slot.until))
    dates = "".join(f" {how} {day_month(day)}" for how, day in limits if day)
    day = slot.day.capitalize()
    return f"{day} {clock(slot.start)}, {slot.minutes} min, {place_name(slot.place)}{dates}"


def _moved(
    old: Iterable[T], new: Iterable[T], *, name: Callable[[T], str], when: Callable[[T], str]
) -> Iterator[str]:
    """Write what moved, is new or is gone, of things that are known by a name."""
    gone, come = [one for one in old if one not in new], [one for one in new if one not in old]
    for one in list(come):
        was = next((other for other in gone if name(other) == name(one)), None)
        if was is not None:
            gone.remove(was)
            come.remove(one)
            if when(was) == when(one):
                yield f"{name(one)} changed"
            else:
                yield f"{name(one)} from {when(was)} to {when(one)}"
    yield from (f"{name(one)} new, {when(one)}" for one in come)
    yield from (f"{name(one)} gone, {when(one)}" for one in gone)


def _kit(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    before, now = ({kit.ref: kit for kit in one.kit} for one in (old, new))
    sorts = {
        "gone": [ref for ref in before if ref not in now],
        "new": [ref for ref in now if ref not in before],
        "changed": [ref for ref in now if ref in before and before[ref] != now[ref]],
    }
    for how, refs in sorts.items():
        if refs:
            yield f"kit {how}: {listing(map(place_name, refs))}"


def _measured(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    """Say of whom there are new tests, by day, and which are gone; or that older ones were corrected."""
    titles = {now.ref: now.title for _, now in _pairs(old, new)}
    came, went = _tests(new) - _tests(old), _tests(old) - _tests(new)
    for tests, what in ((came, "tests of"), (went, "without the tests of")):
        by_day: dict[date, set[str]] = {}
        for day, athlete in tests:
            by_day.setdefault(day, set()).add(titles.get(athlete, ""))
        for day, people in sorted(by_day.items()):
            named = [title for title in titles.values() if title in people]
            if named:
                yield f"{what} {day_month(day)}, {whom(named, everybody=_titles(new))}"
    if not came and not went and old.measurements != new.measurements:
        yield "tests changed"


def _tests(brief: ResolvedBrief) -> set[tuple[date, str]]:
    """Give on which days who was tested."""
    measured = (one for part in MEASURED for one in getattr(brief.measurements, part))
    lifts = ((lift.date, athlete.ref) for athlete in brief.athletes for lift in athlete.lifts)
    return {*lifts, *((one.date, one.athlete) for one in measured if one.athlete)}


def _rest(old: ResolvedBrief, new: ResolvedBrief, _: date) -> Iterator[str]:
    goal = old.goal.model_copy(update={"peaks": new.goal.peaks})
    before = old.model_copy(update={"goal": goal})
    changed = [word(part) for part in PARTS if getattr(before, part) != getattr(new, part)]
    if changed:
        yield f"changed in the brief: {listing(changed)}"
    said = [
        (
            now.title,
            f"changed: {listing(word(part.removesuffix('_kg').removesuffix('_m')) for part in parts)}",
        )
        for was, now in _pairs(old, new)
        if (parts := [part for part in PEOPLE if getattr(was, part) != getattr(now, part)])
    ]
    yield from _grouped(said, everybody=_titles(new))
