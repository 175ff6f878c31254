"""Change, lock and unlock by hand: one number, a day, a session; what follows is computed again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, time, timedelta
from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError

from speedloom.errors import EditError
from speedloom.planning.edited import Change, edited, holders
from speedloom.planning.holding import LINE_NUMBERS, WHOLE
from speedloom.training.document import digest
from speedloom.training.programme import Prescription, Programme, Revision, Session, Week
from speedloom.training.rule import Rulebook

Known = Mapping[str, tuple[date, Prescription | Session | Week]]
SESSION_FIELDS = ("date", "start")
FOLLOWS = {
    "minutes": "it follows from sets, repetitions and rests",
    "contacts": "it follows from sets and repetitions",
    "decrement": "it follows from the load",
    "expect": "it follows from the profile, the distance and the load",
    "stop_rule": "it is a rule's number; change the rule in the brief",
    "minutes_available": "it is the slot's; change the brief",
    "specificity": "it follows from the phases; change the brief",
    "volumes": "it is a sum; change a line of the week",
}
"""Numbers that cannot be set by hand, and what to change instead."""


def edit(programme: Programme, changes: Sequence[Change], *, reason: str, rulebook: Rulebook) -> Programme:
    """Change numbers, dates and locks by hand, as one new revision; every change is possible or none is made.

    Args:
        programme: the revision before.
        changes: what is changed; a changed number is locked as well, so that a re-plan keeps it.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.

    Raises:
        EditError: every fault of the changes, a line each.
    """
    if not reason.strip():
        message = "Expected a reason for the change, got none; a few words are enough."
        raise EditError(message)
    brief = programme.brief.content
    if brief is None or not programme.basis:
        message = "Expected a programme that was planned, got one made by hand; change it in its own file."
        raise EditError(message)
    known = dict(_everything(programme))
    checked = [_checked(programme, change, known) for change in changes]
    faults = [one for one in checked if isinstance(one, str)]
    if faults:
        raise EditError("\n".join(faults))
    possible = [one for one in checked if isinstance(one, Change)]
    book = rulebook.with_changes(brief.rules)
    try:
        changed = edited(programme, possible, brief=brief, rulebook=book, reason=reason)
    except ValidationError as error:
        raise EditError(_refused(error)) from error
    if all(
        new is old or new == old for new, old in zip(changed.programmes, programme.programmes, strict=True)
    ):
        return programme
    return changed.model_copy(update={"revision": _next(programme, "edit", reason)})


def _next(programme: Programme, cause: Any, reason: str) -> Revision:  # noqa: ANN401 - a revision's word
    return Revision(
        number=programme.revision.number + 1,
        parent=digest(programme),
        cause=cause,
        reason=reason,
        frozen_until=programme.revision.frozen_until,
    )


def _refused(error: ValidationError) -> str:
    first = error.errors()[0]
    field = ".".join(str(part) for part in first["loc"])
    return f"{field}: {first['msg']}, got {first['input']}."


def _checked(programme: Programme, change: Change, known: Known) -> Change | str:
    """Give a change with its value as the document holds it, or what is wrong with it."""
    found = known.get(change.ref)
    if found is None:
        return _unknown(known, change.ref)
    day, holder = found
    where = f"{change.ref}.{change.field}" if change.field else change.ref
    frozen = programme.revision.frozen_until
    if frozen is not None and day <= frozen:
        return f"{where}: expected a day after {frozen}, got {day}; the past is frozen."
    fault = _not_changeable(holder, change)
    if fault:
        return f"{where}: {fault}"
    if change.lock is not None:
        return change
    try:
        value = _value(holder, change)
    except ValueError as error:
        return f"{where}: {error}"
    return Change(change.ref, change.field, value)


def _everything(programme: Programme) -> Iterator[tuple[str, tuple[date, Prescription | Session | Week]]]:
    for own in programme.programmes:
        day = date.min
        for ref, holder in holders(own):
            if isinstance(holder, Session):
                day = holder.date
            yield ref, (holder.monday + timedelta(days=6) if isinstance(holder, Week) else day, holder)


def _unknown(known: Known, ref: str) -> str:
    near = get_close_matches(ref, list(known), n=1)
    hint = f"did you mean {near[0]}?" if near else "the sheets and `speedloom why --all` print them."
    return f"{ref}: expected the ref of a line or a session; {hint}"


def _not_changeable(holder: Prescription | Session | Week, change: Change) -> str:
    top = change.field.partition(".")[0]
    if isinstance(holder, Session):
        if change.lock is not None:
            return (
                "" if not change.field else "expected a session without a field; a session is locked whole."
            )
        return "" if change.field in SESSION_FIELDS else _instead(top, SESSION_FIELDS)
    if isinstance(holder, Week):
        return _instead(top, ())
    if change.lock is not None and not change.field:
        return "expected a field of the line, such as .load_kg; or the ref of the session to lock it whole."
    if holder.purpose != "work":
        return "expected a line of work; the warm-up follows from the level and the place."
    return (
        "" if change.field in LINE_NUMBERS or change.field == "cue" else _instead(top, (*LINE_NUMBERS, "cue"))
    )


def _instead(name: str, fields: Sequence[str]) -> str:
    if name in FOLLOWS:
        return f"{name} is not set by hand: {FOLLOWS[name]}."
    near = get_close_matches(name, fields, n=1)
    hint = f"did you mean {near[0]}?" if near else f"what can be changed: {', '.join(fields) or 'its lines'}."
    return f"expected a field that can be changed, got {name or 'none'}; {hint}"


def _value(holder: Prescription | Session | Week, change: Change) -> Any:  # noqa: ANN401 - number, date, time
    text = change.value
    if isinstance(holder, Session):
        return _when(holder, change.field, str(text))
    if change.field == "cue":
        return str(text)
    number = float(str(text).replace(",", "."))
    if number < 0 and change.field != "grade":
        message = f"expected a number not below 0, got {text}."
        raise ValueError(message)
    if change.field in WHOLE:
        if number != int(number):
            message = f"expected a whole number, got {text}."
            raise ValueError(message)
        return int(number)
    if change.field in {"share_1rm", "effort"} and number > 1:
        message = f"expected a share from 0 to 1, got {text}; 85 % is 0.85."
        raise ValueError(message)
    return number


def _when(session: Session, name: str, text: str) -> date | time:
    if name == "start":
        return time.fromisoformat(text)
    day = date.fromisoformat(text)
    monday = session.date - timedelta(days=session.date.weekday())
    if not monday <= day <= monday + timedelta(days=6):
        message = f"expected a day of the same week ({monday} to {monday + timedelta(days=6)}), got {day}."
        raise ValueError(message)
    return day
