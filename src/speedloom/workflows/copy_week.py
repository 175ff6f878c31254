"""Copy the work of one week into another of the same athlete: exercises and numbers, on the other's days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap
from speedloom.planning.edited import Change
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.planning.keeping import line_key, numbered
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.workflows.edit import brief_of, edited_content, next_revision
from speedloom.workflows.editable import can_have, not_there
from speedloom.workflows.lines import OWN_LINE, reworked_content


@dataclass(frozen=True)
class CopiedWeek:
    """A programme with a week copied into another, and the sessions of both that had no partner.

    `left` are sessions of the week that was copied, `kept` those of the other week that stand as they were.
    """

    programme: Programme
    left: tuple[Session, ...]
    kept: tuple[Session, ...]


@dataclass
class _Copy:
    """What has to be done."""

    acts: list[Act] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)


def copy_week(
    programme: Programme,
    athlete: str,
    *,
    source: int,
    target: int,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
    unlock: bool = False,
) -> CopiedWeek:
    """Copy a week's work into another week, as one new revision.

    Days are matched by slot, else by place and role; dates, places and days that are over stay. Numbers are
    copied as the coach's own: no formula changes them again.

    Args:
        programme: the revision before.
        athlete: whose weeks.
        source: number of the week that is copied.
        target: number of the week that is changed.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
        unlock: whether numbers and sessions that are locked are changed too.

    Raises:
        EditError: there are no such weeks, the other is over, or nothing of it can be copied.
    """
    brief_of(programme, reason)
    one, other = (_week(programme, athlete, number) for number in (source, target))
    if source == target:
        message = f"Expected two weeks, got week {source} twice."
        raise EditError(message)
    open_days = _open(other, programme.revision.frozen_until)
    pairs = matched_days(one.sessions, open_days)
    if not pairs:
        message = (
            f"Week {target} of {athlete}: expected a day to copy to, got none that lies ahead and matches."
        )
        raise EditError(message)
    todo = _Copy()
    for a, b in pairs:
        _copy_session(a, b, todo, catalogue)
    made = programme
    if todo.acts:
        made = reworked_content(
            made, todo.acts, reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
        )
    if todo.changes:
        made = edited_content(made, todo.changes, reason=reason, rulebook=rulebook, unlock=unlock)
    if todo.acts or todo.changes:
        made = succeeding(made, before=programme, revision=next_revision(programme, "edit", reason))
    copied, changed = {a.ref for a, _ in pairs}, {b.ref for _, b in pairs}
    return CopiedWeek(
        made,
        left=tuple(session for session in one.sessions if session.ref not in copied),
        kept=tuple(session for session in other.sessions if session.ref not in changed),
    )


def _week(programme: Programme, athlete: str, number: int) -> Week:
    own = next((one for one in programme.programmes if one.athlete == athlete), None)
    if own is None:
        known = ", ".join(one.athlete for one in programme.programmes)
        message = f"{athlete}: expected an athlete of the programme ({known})."
        raise EditError(message)
    week = next((one for one in own.weeks if one.number == number), None)
    if week is None:
        message = f"Expected a week from {own.weeks[0].number} to {own.weeks[-1].number}, got {number}."
        raise EditError(message)
    return week


def _open(week: Week, frozen: date | None) -> list[Session]:
    return [session for session in week.sessions if frozen is None or session.date > frozen]


def matched_days(source: Sequence[Session], target: Sequence[Session]) -> tuple[tuple[Session, Session], ...]:
    """Pair the sessions of two weeks: those of one slot, else those of one place and role."""
    left = list(target)
    pairs: list[tuple[Session, Session]] = []
    waiting: list[Session] = []
    for session in source:
        same = next((one for one in left if one.slot is not None and one.slot == session.slot), None)
        if same is None:
            waiting.append(session)
        else:
            left.remove(same)
            pairs.append((session, same))
    for session in waiting:
        like = next((one for one in left if (one.place, one.role) == (session.place, session.role)), None)
        if like is not None:
            left.remove(like)
            pairs.append((session, like))
    return tuple(sorted(pairs, key=lambda pair: (pair[1].date, pair[1].start)))


def work_of(session: Session) -> Mapping[object, Prescription]:
    """Give a session's lines of work by what they are for."""
    lines = [line for line in session.prescriptions if line.purpose == "work"]
    return dict(zip(numbered(line_key(line) for line in lines), lines, strict=True))


def _copy_session(a: Session, b: Session, todo: _Copy, catalogue: Catalogue) -> None:
    lines, there = work_of(a), dict(work_of(b))
    new: list[Prescription] = []
    for key, line in lines.items():
        old = there.pop(key, None)
        if old is None:
            new.append(line)
        else:
            todo.changes += _changes(line, old)
    free = list(there.values())
    for line in new:
        instead = next((one for one in free if same_part(one, line, catalogue)), None)
        numbers = dict(_numbers(line))
        if instead is None:
            todo.acts.append(_added(line, b, numbers))
        else:
            free.remove(instead)
            todo.acts.append(Swap(instead.ref, line.exercise, numbers, minutes=line.minutes, cue=line.cue))
    todo.acts += [Remove(line.ref) for line in free]


def same_part(old: Prescription, new: Prescription, catalogue: Catalogue) -> bool:
    """Say whether two lines stand for the same part of a session."""
    one, other = catalogue.get(old.exercise), catalogue.get(new.exercise)
    if one is None or other is None or (old.method, old.run) != (new.method, new.run):
        return False
    return one.slot == other.slot or {one.slot, other.slot} == {"sled", "hill"}


def _added(line: Prescription, session: Session, numbers: dict[str, float]) -> Act:
    method = line.method if line.exercise == OWN_LINE else None
    return Add(session.ref, line.exercise, method, numbers, minutes=line.minutes, cue=line.cue)


def _numbers(line: Prescription) -> Iterator[tuple[str, float]]:
    for name in LINE_NUMBERS:
        value = getattr(line, name)
        if value is not None and can_have(line.method, name):
            yield name, value


def _changes(line: Prescription, old: Prescription) -> Iterator[Change]:
    """Give what has to be changed of a line to say what another says; what it says already is locked."""
    copied = dict(_numbers(line))
    typed = {name: value for name, value in copied.items() if value != getattr(old, name)}
    for name, value in copied.items():
        if name not in typed:
            yield Change(old.ref, name, lock=True)
        elif not not_there(old, name, typed=typed):
            yield Change(old.ref, name, value)
