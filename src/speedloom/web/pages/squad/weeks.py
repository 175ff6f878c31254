"""Where everybody stands in their programme: the week that runs, and what of it was done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from speedloom.store.programmes import linked_programme
from speedloom.store.training_now import ProgrammeOf, Written
from speedloom.training.kept import of_people
from speedloom.training.programme import Week

KEPT = 4000
"""Programmes whose weeks are kept in mind [count]."""
MOST_LOOKED_AT = 3
"""Programmes of one athlete that are looked at for the one that runs, newest first [count]."""
DONE = frozenset({"done", "modified", "extra"})


@dataclass(frozen=True)
class WeekFacts:
    """A week of one athlete: its number, its Monday and its sessions."""

    number: int
    monday: date
    sessions: tuple[str, ...]

    def holds(self, day: date) -> bool:
        """Say whether a day lies in the week."""
        return self.monday <= day <= self.monday + timedelta(days=6)


@dataclass(frozen=True)
class Standing:
    """An athlete's programme, the week that runs (None before and after it), and how many there are."""

    programme: ProgrammeOf
    week: WeekFacts | None
    weeks: int
    starts: date | None


def standings(
    squad: str, programmes: Iterable[ProgrammeOf], refs: Sequence[str], *, today: date
) -> dict[str, Standing]:
    """Give each athlete's programme that runs today, else the newest."""
    own: dict[str, list[ProgrammeOf]] = {ref: [] for ref in refs}
    for one in programmes:
        for ref in one.athletes:
            if ref in own:
                own[ref].append(one)
    return {ref: _standing(squad, ref, those[:MOST_LOOKED_AT], today) for ref, those in own.items() if those}


def _standing(squad: str, ref: str, those: Sequence[ProgrammeOf], today: date) -> Standing:
    found = [_in_programme(squad, one, ref, today) for one in those]
    return next((one for one in found if one.week), found[0])


def _in_programme(squad: str, programme: ProgrammeOf, ref: str, today: date) -> Standing:
    weeks = _weeks(squad, programme.id, programme.digest).get(ref, ())
    running = next((week for week in weeks if week.holds(today)), None)
    return Standing(programme, running, len(weeks), weeks[0].monday if weeks else None)


@of_people
@lru_cache(maxsize=KEPT)
def _weeks(squad: str, programme: str, digest: str) -> Mapping[str, tuple[WeekFacts, ...]]:  # noqa: ARG001 - a new digest is a new programme
    document = linked_programme(squad, programme, None)
    return {own.athlete: tuple(_facts(week) for week in own.weeks) for own in document.programmes}


def _facts(week: Week) -> WeekFacts:
    return WeekFacts(week.number, week.monday, tuple(session.ref for session in week.sessions))


@dataclass(frozen=True)
class DoneShown:
    """Sessions of the running week that were done, and the last day something was written down."""

    sessions: int
    last: date | None


def done_by(written: Iterable[Written], *, standing: Mapping[str, Standing]) -> dict[str, DoneShown]:
    """Count each athlete's sessions of the running week with something done in them."""
    sessions: dict[str, set[str]] = {}
    last: dict[str, date] = {}
    for one in written:
        entry = one.entry
        if entry.status not in DONE:
            continue
        last[entry.athlete] = max(last.get(entry.athlete, entry.date), entry.date)
        where = standing.get(entry.athlete)
        if where and where.week and entry.session in where.week.sessions and entry.session:
            sessions.setdefault(entry.athlete, set()).add(entry.session)
    return {
        ref: DoneShown(len(sessions.get(ref, ())), last.get(ref)) for ref in last.keys() | sessions.keys()
    }
