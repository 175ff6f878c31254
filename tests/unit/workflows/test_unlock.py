"""A session that was moved by hand goes back to its slot once it is unlocked and planned again."""

from __future__ import annotations

from datetime import date

from briefs import EXAMPLES, planned
from speedloom.planning.edited import Change
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme, Session
from speedloom.training.rule import load_rulebook
from speedloom.workflows.edit import edit
from speedloom.workflows.replan import replan

MOVED_TO = date(2026, 2, 18)


def session(programme: Programme, ref: str) -> Session:
    return next(
        session
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        if session.ref == ref
    )


def again(programme: Programme) -> Programme:
    outcome = replan(
        programme,
        since=date(2026, 2, 1),
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
        reason="look again",
    )
    assert isinstance(outcome, Programme)
    return outcome


def test_unlocked_it_goes_back_and_locked_it_stays() -> None:
    first = planned(EXAMPLES / "spring_build.toml")
    book = load_rulebook()
    moved = edit(
        first, [Change("ines-147", "date", MOVED_TO.isoformat())], reason="hall closed", rulebook=book
    )
    assert session(again(moved), "ines-147").date == MOVED_TO
    freed = edit(moved, [Change("ines-147", "", lock=False)], reason="hall open", rulebook=book)
    assert session(freed, "ines-147").date == MOVED_TO
    assert session(again(freed), "ines-147") == session(first, "ines-147")
