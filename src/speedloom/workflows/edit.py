"""Change, lock and unlock by hand: one number, a day, a session; what follows is computed again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError

from speedloom.errors import EditError, SpeedloomError
from speedloom.planning.by_hand import CHOSEN
from speedloom.planning.edited import Change, edited, holders
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.programme import Prescription, Programme, Revision, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.workflows.editable import line_number, not_there, session_time, together
from speedloom.workflows.locked import locked_faults

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
    "exercise": "another exercise is another line; swap it",
}
"""Numbers that cannot be set by hand, and what to change instead."""


def edit(
    programme: Programme,
    changes: Sequence[Change],
    *,
    reason: str,
    rulebook: Rulebook,
    unlock: bool = False,
) -> Programme:
    """Change numbers, dates and locks by hand, as one new revision; every change is possible or none is made.

    Args:
        programme: the revision before.
        changes: what is changed; a changed number is locked as well, so that a re-plan keeps it.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.
        unlock: whether numbers that are locked are changed too.

    Raises:
        EditError: every fault of the changes, a line each.
    """
    changed = edited_content(programme, changes, reason=reason, rulebook=rulebook, unlock=unlock)
    if all(
        new is old or new == old for new, old in zip(changed.programmes, programme.programmes, strict=True)
    ):
        return programme
    return changed.model_copy(update={"revision": next_revision(programme, "edit", reason)})


def edited_content(
    programme: Programme,
    changes: Sequence[Change],
    *,
    reason: str,
    rulebook: Rulebook,
    unlock: bool = False,
) -> Programme:
    """Give the content that `edit` makes, under the revision it was made from; the same faults."""
    brief = brief_of(programme, reason)
    known = dict(_everything(programme))
    possible = _possible(programme, changes, known)
    held = [] if unlock else locked_faults(programme, possible)
    if held:
        raise EditError("\n".join(held))
    book = rulebook.with_changes(brief.rules)
    try:
        return edited(programme, possible, brief=brief, rulebook=book, reason=reason)
    except ValidationError as error:
        raise EditError(refused(error)) from error
    except SpeedloomError as error:
        where = ", ".join(f"{one.ref}.{one.field}" for one in possible)
        message = f"{where}: {error}"
        raise EditError(message) from error


def brief_of(programme: Programme, reason: str) -> ResolvedBrief:
    """Give the brief inside a programme that can be changed by hand.

    Raises:
        EditError: there is no reason, or no brief.
    """
    if not reason.strip():
        message = "Expected a reason for the change, got none; a few words are enough."
        raise EditError(message)
    brief = programme.brief.content
    if brief is None or not programme.basis:
        message = "Expected a programme that was planned, got one made by hand; change it in its own file."
        raise EditError(message)
    return brief


def _possible(programme: Programme, changes: Sequence[Change], known: Known) -> list[Change]:
    """Give the changes as the document holds them, in one order whatever order they were typed in.

    Raises:
        EditError: every fault, a line each.
    """
    typed: dict[str, dict[str, Any]] = {}
    for change in changes:
        if change.lock is None:
            typed.setdefault(change.ref, {})[change.field] = change.value
    checked = [_checked(programme, change, known, typed.get(change.ref, {})) for change in changes]
    faults = [one for one in checked if isinstance(one, str)]
    possible = [one for one in checked if isinstance(one, Change)]
    faults += _twice(changes) + _against(possible, known)
    if faults:
        raise EditError("\n".join(faults))
    order = (*SESSION_FIELDS, *LINE_NUMBERS, "cue", CHOSEN, "")
    return sorted(possible, key=lambda one: (one.ref, order.index(one.field)))


def _twice(changes: Sequence[Change]) -> list[str]:
    times = Counter((one.ref, one.field) for one in changes)
    return [
        f"{'.'.join(filter(None, name))}: expected one change of it, got {count}; keep the one that is meant."
        for name, count in times.items()
        if count > 1
    ]


def _against(possible: Sequence[Change], known: Known) -> list[str]:
    """List what does not go together in a line once all of its changes are made."""
    values: dict[str, dict[str, Any]] = {}
    for one in possible:
        if one.lock is None:
            values.setdefault(one.ref, {})[one.field] = one.value
    found = ((known[ref][1], typed) for ref, typed in values.items())
    told = (together(holder, typed) for holder, typed in found if isinstance(holder, Prescription))
    return [one for one in told if one]


def next_revision(programme: Programme, cause: Any, reason: str) -> Revision:  # noqa: ANN401 - a revision's word
    """Give the place of the next revision in the line."""
    return Revision(
        number=programme.revision.number + 1,
        parent=digest(programme),
        cause=cause,
        reason=reason,
        frozen_until=programme.revision.frozen_until,
    )


def refused(error: ValidationError) -> str:
    """Say what a document cannot hold."""
    first = error.errors()[0]
    field = ".".join(str(part) for part in first["loc"])
    return f"{field}: {first['msg']}, got {first['input']}."


def _checked(programme: Programme, change: Change, known: Known, typed: Mapping[str, Any]) -> Change | str:
    """Give a change with its value as the document holds it, or what is wrong with it."""
    found = known.get(change.ref)
    if found is None:
        return _unknown(known, change.ref)
    day, holder = found
    where = f"{change.ref}.{change.field}" if change.field else change.ref
    frozen = programme.revision.frozen_until
    if frozen is not None and day <= frozen:
        return f"{where}: expected a day after {frozen}, got {day}; the past is frozen."
    fault = _not_changeable(holder, change) or _not_there(holder, change, typed)
    if fault:
        return f"{where}: {fault}"
    try:
        return change if change.lock is not None else _with_value(holder, change, frozen)
    except ValueError as error:
        return f"{where}: {error}"


def _not_there(holder: Prescription | Session | Week, change: Change, typed: Mapping[str, Any]) -> str:
    if not isinstance(holder, Prescription) or change.field in {"cue", CHOSEN} or change.lock is False:
        return ""
    return not_there(holder, change.field, typed=typed)


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
    free = change.field == CHOSEN and change.lock is False
    known = free or change.field in LINE_NUMBERS or change.field == "cue"
    return "" if known else _instead(top, (*LINE_NUMBERS, "cue"))


def _instead(name: str, fields: Sequence[str]) -> str:
    if name in FOLLOWS:
        return f"{name} is not set by hand: {FOLLOWS[name]}."
    near = get_close_matches(name, fields, n=1)
    hint = f"did you mean {near[0]}?" if near else f"what can be changed: {', '.join(fields) or 'its lines'}."
    return f"expected a field that can be changed, got {name or 'none'}; {hint}"


def _with_value(holder: Prescription | Session | Week, change: Change, frozen: date | None) -> Change:
    """Give a change with its value read; a ValueError says what is wrong with it."""
    value: Any = str(change.value)
    if isinstance(holder, Session):
        value = session_time(holder, change.field, value, frozen=frozen)
    elif change.field != "cue":
        value = line_number(change.field, change.value)
    return Change(change.ref, change.field, value)
