"""The lines of a written programme read back into it: unchanged lines give an equal document."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.line_sessions import LineTable, Refs, read_line_table, refs_in, told_sessions
from speedloom.training.calendar import monday_of
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session

Part = TypeVar("Part", Session, Prescription)


def read_lines_back(path: Path, original: Programme, *, catalogue: Catalogue) -> Programme:
    """Read the sheet `lines` of a workbook, or a table, into the programme it was written from.

    Weeks, and athletes who are not in the table, stay as they are. A session or line that is gone is retired;
    a number that was changed loses its derivation.

    Raises:
        UnusableFileError: every fault, each with row and column.
    """
    extra = frozenset(
        line.exercise
        for own in original.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
    )
    table = read_line_table(path, catalogue=catalogue, extra=extra)
    known = {own.athlete for own in original.programmes}
    strangers = [row for row in table.rows if row.athlete not in known]
    if strangers:
        expected = f"an athlete of programme {original.id}"
        raise UnusableFileError(
            Fault(table.file, row.number, "athlete", f'"{row.athlete}"', expected, "correct the ref")
            for row in strangers
        )
    return original.model_copy(
        update={
            "programmes": tuple(
                _put_back(own, table) if own.athlete in table.athletes else own for own in original.programmes
            )
        }
    )


def _put_back(own: AthleteProgramme, table: LineTable) -> AthleteProgramme:
    rows = table.of(own.athlete)
    refs = Refs(own.athlete, refs_in(rows), first=own.next_ref)
    before = {session.ref: session for week in own.weeks for session in week.sessions}
    told = [_session(one.session, before) for one in told_sessions(table, own.athlete, refs)]
    mondays = {week.monday for week in own.weeks}
    outside = [session.date for session in told if monday_of(session.date) not in mondays]
    if outside:
        raise UnusableFileError(_outside(table, outside))
    weeks = tuple(
        week.model_copy(update={"sessions": tuple(one for one in told if monday_of(one.date) == week.monday)})
        for week in own.weeks
    )
    kept = {ref for session in told for ref in _refs(session)}
    gone = [ref for session in before.values() for ref in _refs(session) if ref not in kept]
    return own.model_copy(update={"weeks": weeks, "next_ref": refs.next, "retired": (*own.retired, *gone)})


def _refs(session: Session) -> tuple[str, ...]:
    return (session.ref, *(line.ref for line in session.prescriptions))


def _outside(table: LineTable, days: list[date]) -> list[Fault]:
    return [
        Fault(table.file, row.number, "date", row.day.isoformat(), "a date in the weeks of the programme", "")
        for row in table.rows
        if row.day in days
    ]


def _session(session: Session, before: Mapping[str, Session]) -> Session:
    """Give a session and its lines the derivations of what did not change."""
    old = before.get(session.ref)
    lines = {line.ref: line for one in before.values() for line in one.prescriptions}
    told = tuple(_kept(line, lines.get(line.ref)) for line in session.prescriptions)
    return _kept(session, old).model_copy(update={"prescriptions": told})


def _kept(part: Part, old: Part | None) -> Part:
    if old is None:
        return part
    same_words = {
        name: value for name, value in _values(old).items() if _equal_words(value, _values(part)[name])
    }
    kept = {name: node for name, node in old.basis.items() if _at(part, name) == _at(old, name)}
    return part.model_copy(update={**same_words, "basis": kept})


def _values(part: BaseModel) -> dict[str, object]:
    return {name: getattr(part, name) for name in type(part).model_fields}


def _equal_words(old: object, new: object) -> bool:
    """Say whether texts differ only in blanks and signs that a cell does not keep."""
    return isinstance(old, str) and isinstance(new, str | None) and _bare(old) == _bare(new or "")


def _bare(text: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def _at(part: BaseModel, path: str) -> object:
    found: object = part
    for name in path.split("."):
        found = getattr(found, name, None)
    return found
