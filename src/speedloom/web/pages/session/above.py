"""Whose line is above a limit that holds now: who stands beside the field must see it at the name."""

from __future__ import annotations

from collections.abc import Mapping

from speedloom.report.sheets.restrictions import limits_text
from speedloom.report.sheets.squad import SquadSession
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of
from speedloom.wording.units import Units
from speedloom.workflows.beyond_limits import not_as_written


def above_limits(programme: Programme, session: SquadSession, *, units: Units) -> Mapping[str, str]:
    """Give the limits in words by the refs of the lines that are above them.

    Args:
        programme: the document with the limits as they stand now; it may be older than they are.
        session: the training that is looked at.
        units: what the person reads in.
    """
    content = programme.brief.content
    people = {one.ref: one for one in content.athletes} if content else {}
    held = {ref: one.restrictions for ref, one in people.items()}
    rulebook, catalogue = books_of(programme)
    above = not_as_written(
        programme, held, first=session.date, last=session.date, rulebook=rulebook, catalogue=catalogue
    )
    return {
        line.ref: limits_text(people.get(one.athlete), on=session.date, catalogue=catalogue, units=units)
        for one in session.present
        for line in one.session.prescriptions
        if line.ref in above or one.session.ref in above
    }
