"""A re-plan in words before it is accepted: what is new, and what becomes of every session it changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from textwrap import wrap

from speedloom.training.programme import Programme, Session
from speedloom.wording.brief_news import news, whom
from speedloom.wording.dates import clock, day_month, listing
from speedloom.wording.locks_gone import locks_gone
from speedloom.wording.names import athlete_name, athletes_of, place_name
from speedloom.wording.replanned_reasons import Pair, reasons
from speedloom.wording.session_changes import Kind, kinds_of, kinds_text, together

WIDTH = 100
"""Characters of a line, at most."""
DAYS_ONE_BY_ONE = 12
"""With more changed days than this, the changes are told by week."""
GROUPS = 3
"""Groups of athletes told apart on one day or in one week, at most."""
IN_PART = "in part"


def replanned_text(old: Programme, new: Programme, *, since: date) -> str:
    """Write what planning again from a day on would change, in lines of at most 100 characters.

    Args:
        old: the revision before.
        new: the programme as it was planned again.
        since: first day that could change.
    """
    return "\n".join(replanned_lines(old, new, since=since)) + "\n"


def replanned_lines(old: Programme, new: Programme, *, since: date) -> tuple[str, ...]:
    """Give the lines of the text."""
    return tuple(
        line
        for said in _said(_Replanned(old, new, since))
        for line in wrap(said, WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)
    )


@dataclass(frozen=True)
class _Change:
    """What became of one athlete's session, or of somebody's sessions of a week."""

    athlete: str
    kinds: tuple[Kind, ...]


When = tuple[date, str]
"""A day of training: the date and the place."""
Groups = Sequence[tuple[Sequence[str], Sequence[Kind]]]
"""Athletes and the changes they have in common."""


@dataclass(frozen=True)
class _Replanned:
    """Two revisions side by side."""

    old: Programme
    new: Programme
    since: date

    @cached_property
    def staying(self) -> tuple[str, ...]:
        """The athletes of both."""
        before, now = athletes_of(self.old), athletes_of(self.new)
        return tuple(athlete for athlete in now if athlete in before)

    @cached_property
    def days(self) -> Mapping[When, list[_Change]]:
        """The changed days in order, with each athlete's changes."""
        found: dict[When, list[_Change]] = {}
        for athlete, pairs in self.changed.items():
            for was, now in pairs:
                shown = now or was
                if shown is not None:
                    change = _Change(athlete, _kinds(was, now))
                    found.setdefault((shown.date, shown.place), []).append(change)
        return dict(sorted(found.items()))

    @cached_property
    def changed(self) -> Mapping[str, list[Pair]]:
        """The changed sessions of those who stay, as they were and as they are."""
        found: dict[str, list[Pair]] = {}
        before, after = _sessions(self.old), _sessions(self.new)
        for athlete, ref in dict.fromkeys((*before, *after)):
            pair = before.get((athlete, ref)), after.get((athlete, ref))
            if athlete in self.staying and _kinds(*pair):
                found.setdefault(athlete, []).append(pair)
        return found

    def name(self, athlete: str) -> str:
        """Name an athlete of either revision."""
        return athlete_name(self.new if athlete in athletes_of(self.new) else self.old, athlete)

    def names(self, athletes: Iterable[str]) -> str:
        """Name athletes, or count them where they are many."""
        return whom(map(self.name, athletes), everybody=[self.name(one) for one in athletes_of(self.new)])


def _said(both: _Replanned) -> Iterator[str]:
    if both.new == both.old:
        yield f"Nothing changed: there is no news. Revision {both.old.revision.number} stays as it is."
        return
    yield _head(both)
    was, now = both.old.brief.content, both.new.brief.content
    told = news(was, now, since=both.since) if was and now else ()
    if told:
        yield f"New: {'; '.join(told)}."
    changes = [*_comings(both), *_by_day(both)]
    yield from changes or ["Nothing changed in any session."]
    yield from locks_gone(both.old, both.new, since=both.since)
    yield from reasons(both.old, both.new, both.changed, since=both.since)


def _head(both: _Replanned) -> str:
    frozen = both.new.revision.frozen_until
    stands = f": everything until {day_month(frozen)} stands as it is" if frozen else ""
    return f"Revision {both.new.revision.number}{stands}."


def _comings(both: _Replanned) -> Iterator[str]:
    """Say how many sessions come and go with athletes who joined or left."""
    before, now = _by_athlete(both.old, both.since), _by_athlete(both.new, both.since)
    joined = [
        (athlete, days, "added") for athlete, days in now.items() if athlete not in athletes_of(both.old)
    ]
    left = [
        (athlete, days, "left out")
        for athlete, days in before.items()
        if athlete not in athletes_of(both.new)
    ]
    yield from (
        f"{both.name(athlete)}: {_counted(days)} {how}." for athlete, days, how in joined + left if days
    )


def _by_athlete(programme: Programme, since: date) -> Mapping[str, list[date]]:
    found: dict[str, list[date]] = {own.athlete: [] for own in programme.programmes}
    for (athlete, _), session in _sessions(programme).items():
        if session.date >= since:
            found[athlete].append(session.date)
    return found


def _counted(days: Sequence[date]) -> str:
    if len(days) == 1:
        return f"the session of {day_month(days[0])}"
    return f"all {len(days)} sessions from {day_month(min(days))} to {day_month(max(days))}"


def _sessions(programme: Programme) -> Mapping[tuple[str, str], Session]:
    return {
        (own.athlete, session.ref): session
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
    }


def _kinds(was: Session | None, now: Session | None) -> tuple[Kind, ...]:
    if was is None or now is None:
        return (("added" if now else "left out", "session"),)
    moved = _whence(was, now)
    kinds = kinds_of(was, now)
    return (("moved", f"from {moved}"), *kinds) if moved else kinds


def _whence(was: Session, now: Session) -> str:
    """Say from where a session was moved, or nothing."""
    parts = (
        day_month(was.date) if was.date != now.date else "",
        clock(was.start) if was.start != now.start else "",
        place_name(was.place) if was.place != now.place else "",
    )
    return " ".join(filter(None, parts))


def _by_day(both: _Replanned) -> Iterator[str]:
    if len(both.days) > DAYS_ONE_BY_ONE:
        yield from _by_week(both)
        return
    days: dict[tuple[str, str], list[date]] = {}
    for (day, place), changes in both.days.items():
        days.setdefault((place_name(place), _who_what(changes, both)), []).append(day)
    for (place, said), dates in days.items():
        yield f"{listing(map(day_month, dates))}, {place}, {said}."


def _by_week(both: _Replanned) -> Iterator[str]:
    weeks: dict[tuple[int, int], list[When]] = {}
    for day, place in both.days:
        weeks.setdefault(day.isocalendar()[:2], []).append((day, place))
    for whens in weeks.values():
        kinds: dict[str, list[Kind]] = {}
        for when in whens:
            for change in both.days[when]:
                kinds.setdefault(change.athlete, []).extend(change.kinds)
        changes = [_Change(athlete, together(found)) for athlete, found in kinds.items()]
        named = listing(f"{day_month(day)} {place_name(place)}" for day, place in whens)
        yield f"{named}, {_who_what(changes, both)}."
    yield "speedloom diff OLD NEW tells every line that changes."


def _who_what(changes: Sequence[_Change], both: _Replanned) -> str:
    """Say who has which changes: what all have in common once, the most athletes first."""
    athletes: dict[Kind, list[str]] = {}
    for change in changes:
        for kind in dict.fromkeys(change.kinds):
            athletes.setdefault(kind, []).append(change.athlete)
    groups: dict[tuple[str, ...], list[Kind]] = {}
    for kind, people in athletes.items():
        groups.setdefault(tuple(sorted(people)), []).append(kind)
    ordered = sorted(groups.items(), key=lambda one: -len(one[0]))
    parts = [f"{both.names(people)}: {kinds_text(kinds)}" for people, kinds in ordered[:GROUPS]]
    if len(ordered) > GROUPS:
        parts[-1] = _rest(ordered[GROUPS - 1 :], both)
    return "; ".join(parts)


def _rest(groups: Groups, both: _Replanned) -> str:
    """Say of many small groups together what some of them have."""
    people = sorted({athlete for group, _ in groups for athlete in group})
    kinds = together(kind for _, found in groups for kind in found)
    return f"{both.names(people)} {IN_PART}: {kinds_text(kinds)}"
