"""What a coach had locked and a re-plan could not hold, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.wording.dates import day_month, listing
from speedloom.wording.differences import FIELDS
from speedloom.wording.names import athlete_name, line_name, with_own_titles, word

MOST_TOLD = 5


def locks_gone(old: Programme, new: Programme, *, since: date) -> Iterator[str]:
    """Say which locked lines a re-plan no longer has, and which locks it took away.

    Args:
        old: the revision before.
        new: the programme as it was planned again.
        since: first day that could change.
    """
    now = {line.ref: line for _, session in _sessions(new) for line in session.prescriptions}
    gone: list[str] = []
    freed: list[str] = []
    changed: list[str] = []
    for athlete, session in _sessions(old):
        if session.date < since:
            continue
        for line in (one for one in session.prescriptions if one.locked):
            new_line = now.get(line.ref)
            if new_line is None:
                gone.append(_said(old, athlete, session, line, line.locked))
                continue
            lost = [name for name in line.locked if name not in new_line.locked]
            other = [
                name for name in line.locked if getattr(line, name, None) != getattr(new_line, name, None)
            ]
            freed += [_said(old, athlete, session, line, lost)] if lost else []
            changed += [_said(old, athlete, session, line, other)] if other and not lost else []
    yield from _sentence("Locked, and no longer there", gone)
    yield from _sentence("Locked, and changed all the same because it no longer fits", changed)
    yield from _sentence("No longer locked, a hard rule or a restriction goes first", freed)


def _sentence(what: str, found: list[str]) -> Iterator[str]:
    if found:
        more = [f"{len(found) - MOST_TOLD} more"] if len(found) > MOST_TOLD else []
        yield f"{what}: {'; '.join([*found[:MOST_TOLD], *more])}."


def _sessions(programme: Programme) -> Iterator[tuple[str, Session]]:
    for own in programme.programmes:
        for week in own.weeks:
            yield from ((own.athlete, session) for session in week.sessions)


def _said(
    programme: Programme, athlete: str, session: Session, line: Prescription, names: Iterable[str]
) -> str:
    fields = listing(FIELDS.get(name, word(name)) for name in names)
    name = line_name(line, catalogue=with_own_titles(load_catalogue(), programme))
    return f"{athlete_name(programme, athlete)}, {day_month(session.date)} {name} ({fields})"
