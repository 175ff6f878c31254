"""Two values of one repetition: both are shown with who wrote them when, and one is chosen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from speedloom.exchange.zone import zone_of
from speedloom.report.sheets.squad import SquadSession
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme
from speedloom.web.pages.session.box_text import said_in_box
from speedloom.web.pages.session.saying import hand
from speedloom.web.pages.session.writing import Sheet
from speedloom.wording.books import books_of
from speedloom.wording.line_words import TIMES, boxes
from speedloom.wording.names import athlete_name, exercise_name
from speedloom.wording.units import Units
from speedloom.workflows.done_as_written import named_id
from speedloom.workflows.two_accounts import TwoAccounts, chosen, differing

_SPACE = "9d1f0b7c-53a1-5a55-8f0e-2b8e4f1f6c10"


@dataclass(frozen=True)
class SaidShown:
    """One of the values, with who wrote it when."""

    entry: str
    text: str
    by: str
    at: str


@dataclass(frozen=True)
class DifferenceShown:
    """One repetition of which two values stand."""

    key: str
    about: str
    values: tuple[SaidShown, ...]


def differences_shown(
    programme: Programme, session: SquadSession, differences: Iterable[TwoAccounts], *, units: Units
) -> tuple[DifferenceShown, ...]:
    """Put what differs into words."""
    return tuple(_shown(programme, session, two, units) for two in differences)


def _shown(programme: Programme, session: SquadSession, two: TwoAccounts, units: Units) -> DifferenceShown:
    _book, catalogue = books_of(programme)
    athlete, ref, exercise, number, rep = two.place
    lines = {line.ref: line for one in session.present for line in one.work}
    line = lines.get(ref)
    timed = boxes(line)[1] == TIMES if line else any(one.result.time_s for one in two.accounts)
    name = exercise_name(line.exercise if line else exercise, catalogue=catalogue)
    where = f"set {number}" + (f", run {rep}" if rep else "")
    zone = zone_of(programme)
    return DifferenceShown(
        key=" ".join(map(str, two.place)),
        about=f"{athlete_name(programme, athlete)}, {name}, {where}",
        values=tuple(
            SaidShown(
                one.entry.id,
                said_in_box(one.result, timed=timed, load_kg=line.load_kg if line else None, units=units),
                hand(one.entry.by, one.entry.sent_by),
                f"{one.entry.at.astimezone(zone):%H:%M:%S}",
            )
            for one in two.accounts
        ),
    )


def chosen_entries(sheet: Sheet, form: Mapping[str, str]) -> Iterator[LogEntry]:
    """Write down which of two values is right."""
    key, entry = form.get("about", ""), form.get("entry", "")
    for two in differing(sheet.entries):
        if " ".join(map(str, two.place)) == key and entry in {one.entry.id for one in two.accounts}:
            ids = (
                named_id(_SPACE, f"{sheet.pen.nonce} {key} {number}") for number in range(len(two.accounts))
            )
            yield from chosen(two, entry, by=sheet.pen.by, at=sheet.pen.at, ids=ids)
