"""Locks: gone, a session goes back to its slot; safety takes them away ahead, never on days that are over."""

from __future__ import annotations

from datetime import date, timedelta

from briefs import EXAMPLES, planned
from edited import change, lock, squad, unsound
from replanned import again as look_again
from speedloom.planning.edited import Change
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.training.rule import load_rulebook
from speedloom.wording.replanned import replanned_text
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.edit import edit
from speedloom.workflows.replan import _without_unsafe_locks, replan

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


def test_safety_takes_locks_ahead_away_and_leaves_those_that_are_over() -> None:
    session = squad().programmes[0].weeks[1].sessions[0]
    ref = next(line.ref for line in session.prescriptions if line.exercise == "acceleration_run")
    # More runs than the slot has minutes for, in a session that is locked whole: a hard finding about it.
    made = lock(change(squad(), (f"{ref}.reps", 40)), session.ref)
    books = {"rulebook": load_rulebook(), "catalogue": load_catalogue()}
    over = _without_unsafe_locks(made, made, since=session.date + timedelta(days=1), **books)
    ahead = _without_unsafe_locks(made, made, since=session.date, **books)
    assert over is made
    assert [line.locked for line in _lines(made, ref)] == [("reps",)]
    assert [line.locked for line in _lines(ahead, ref)] == [()]


def test_a_lock_that_no_longer_fits_the_slot_gives_way_and_is_told() -> None:
    ref = next(
        line.ref
        for line in squad().programmes[0].weeks[2].sessions[0].prescriptions
        if line.exercise == "acceleration_run"
    )
    made = change(squad(), (f"{ref}.reps", 40))
    since = date(2026, 1, 20)
    new = look_again(made, since=since)
    (line,) = _lines(new, ref)
    assert line.reps < 40
    assert unsound(new) == []
    assert check_programme(new, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue()).hard() == ()
    told = " ".join(replanned_text(made, new, since=since).split())
    assert "Locked, and changed all the same because it no longer fits: ada, Mon 26 Jan" in told


def _lines(programme: Programme, ref: str) -> list[Prescription]:
    sessions = [one for week in programme.programmes[0].weeks for one in week.sessions]
    return [line for one in sessions for line in one.prescriptions if line.ref == ref]


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
