"""Lines and sessions by ref, and the same line or session of everybody who trains together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from speedloom.planning.acts import Act, Add, Swap, where
from speedloom.training.programme import Prescription, Programme, Session, Week


@dataclass(frozen=True)
class Found:
    """A line or a session with whose it is and when."""

    athlete: str
    week: Week
    session: Session
    line: Prescription | None = None


def found(programme: Programme) -> Iterator[tuple[str, Found]]:
    """Give every session and line by ref."""
    for own in programme.programmes:
        for week in own.weeks:
            for session in week.sessions:
                yield session.ref, Found(own.athlete, week, session)
                for line in session.prescriptions:
                    yield line.ref, Found(own.athlete, week, session, line)


def same_refs(programme: Programme, ref: str) -> tuple[str, ...]:
    """Give the same line or session of everybody who has it that day; the one asked for first.

    A line is the same where exercise and run are; a session where day, start and place are.
    """
    at = dict(found(programme)).get(ref)
    if at is None:
        return (ref,)
    others = [
        name
        for name, other in found(programme)
        if other.athlete != at.athlete
        and other.session.date == at.session.date
        and (_same_line(at, other) if at.line else _same_session(at, other))
    ]
    return (ref, *others)


def for_group(programme: Programme, act: Act) -> tuple[Act, ...]:
    """Give the same for everybody who does that line, or has that session, that day."""
    return tuple(_at(act, ref) for ref in same_refs(programme, where(act)))


def _same_line(at: Found, other: Found) -> bool:
    mine, line = at.line, other.line
    if mine is None or line is None:
        return False
    return (mine.exercise, mine.run, mine.purpose) == (line.exercise, line.run, line.purpose)


def _same_session(at: Found, other: Found) -> bool:
    mine, session = at.session, other.session
    return other.line is None and (mine.start, mine.place) == (session.start, session.place)


def _at(act: Act, ref: str) -> Act:
    if isinstance(act, Swap):
        return replace(act, line=ref)
    return replace(act, session=ref) if isinstance(act, Add) else replace(act, ref=ref)
