"""A changed programme becomes the next revision: what went stays countable, what came is known to be new."""

from __future__ import annotations

from typing import Any

from speedloom.training.programme import (
    AthleteProgramme,
    Prescription,
    Programme,
    RetiredLine,
    Revision,
    Session,
)

_OF_A_LINE = tuple(name for name in RetiredLine.model_fields if name in Prescription.model_fields)


def succeeding(made: Programme, *, before: Programme, revision: Revision) -> Programme:
    """Give a changed programme its place in the line of revisions.

    Each athlete keeps the doses of working lines that are gone, and from which revision on a line stood in a
    session that was there before it: a log is about the lines that stood when it was written.

    Args:
        made: the changed programme, its retired refs told already.
        before: the revision it follows.
        revision: its own place.
    """
    olds = {own.athlete: own for own in before.programmes}
    athletes = tuple(
        _succeeding(own, olds[own.athlete], number=revision.number) if own.athlete in olds else own
        for own in made.programmes
    )
    return made.model_copy(update={"revision": revision, "programmes": athletes})


def as_it_stood(gone: RetiredLine) -> Prescription:
    """Give a line that is gone with the dose it had; it takes no minutes and has no derivation any more."""
    return Prescription(purpose="work", minutes=0.0, **{name: getattr(gone, name) for name in _OF_A_LINE})


def _succeeding(own: AthleteProgramme, old: AthleteProgramme, *, number: int) -> AthleteProgramme:
    if own is old:
        return own
    now, then = _working(own), _working(old)
    was_gone = {one.ref: one for one in old.retired_lines}
    gone = was_gone | {
        ref: _retired(session, line, first=old.came_later.get(ref, 1), last=number - 1)
        for ref, (session, line) in then.items()
    }
    there = {session.ref for week in old.weeks for session in week.sessions}
    came = {
        ref: old.came_later.get(ref, 1) if ref in then else was_gone[ref].first if ref in was_gone else number
        for ref, (session, _) in now.items()
        if session.ref in there
    }
    found: dict[str, Any] = {
        "retired_lines": tuple(one for ref, one in gone.items() if ref not in now),
        "came_later": {ref: first for ref, first in came.items() if first > 1},
    }
    if all(getattr(own, name) == value for name, value in found.items()):
        return own
    return own.model_copy(update=found)


def _working(own: AthleteProgramme) -> dict[str, tuple[Session, Prescription]]:
    return {
        line.ref: (session, line)
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work"
    }


def _retired(session: Session, line: Prescription, *, first: int, last: int) -> RetiredLine:
    dose = {name: getattr(line, name) for name in _OF_A_LINE}
    return RetiredLine(session=session.ref, first=first, last=last, **dose)
