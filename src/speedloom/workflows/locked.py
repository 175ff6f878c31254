"""What is locked and would be changed: nothing that somebody has fixed is changed in passing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from speedloom.planning.acts import Act, Add, where
from speedloom.planning.by_hand import CHOSEN
from speedloom.planning.edited import Change, holders
from speedloom.training.programme import Prescription, Programme, Session, Week

Holder = Prescription | Session | Week


def locked_faults(programme: Programme, changes: Iterable[Change]) -> list[str]:
    """List the locked numbers, days and sessions that changes would change, with why they are locked."""
    known = _known(programme)
    return [
        _said(f"{one.ref}.{one.field}", fixed)
        for one in changes
        if one.lock is None and (fixed := _fixed(programme, one, *known[one.ref]))
    ]


def locked_by_acts(programme: Programme, acts: Iterable[Act]) -> list[str]:
    """List what is locked in lines and sessions that would be swapped, taken out or added to."""
    known = _known(programme)
    found: list[str] = []
    for act in acts:
        holder, session = known.get(where(act), (None, None))
        if holder is None:
            continue
        if session is not None and session.locked:
            found.append(_said(session.ref, "as a whole"))
        elif not isinstance(act, Add):
            found += [
                _said(f"{line.ref}.{name}", _why(programme, line, name)) for line, name in _fixed_in(holder)
            ]
    return found


def locks_of(programme: Programme, ref: str) -> tuple[tuple[str, str], ...]:
    """Give the names of what is locked in a line or session, each with the reason that is kept with it."""
    holder, session = _known(programme).get(ref, (None, None))
    whole = [("", "")] if session is not None and session.locked else []
    own = [(name, _reason(programme, line, name)) for line, name in _fixed_in(holder) if line.ref == ref]
    return (*whole, *own)


def _fixed_in(holder: Holder | None) -> Iterator[tuple[Prescription, str]]:
    lines: tuple[Prescription, ...] = ()
    if isinstance(holder, Session):
        lines = holder.prescriptions
    elif isinstance(holder, Prescription):
        lines = (holder,)
    # An exercise put in by hand may be taken out by hand: it fixes no number.
    yield from ((line, name) for line in lines for name in line.locked if name != CHOSEN)


def _known(programme: Programme) -> dict[str, tuple[Holder, Session | None]]:
    found: dict[str, tuple[Holder, Session | None]] = {}
    for own in programme.programmes:
        session: Session | None = None
        for ref, holder in holders(own):
            session = holder if isinstance(holder, Session) else session
            found[ref] = (holder, None if isinstance(holder, Week) else session)
    return found


def _fixed(programme: Programme, change: Change, holder: Holder, session: Session | None) -> str:
    """Say how something is fixed that a change would change; nothing where it is free or stays the same."""
    if getattr(holder, change.field, None) == change.value:
        return ""
    if isinstance(holder, Prescription) and change.field in holder.locked:
        return _why(programme, holder, change.field)
    return "as a whole" if session is not None and session.locked else ""


def _why(programme: Programme, line: Prescription, name: str) -> str:
    value, reason = getattr(line, name, None), _reason(programme, line, name)
    at = f"at {value:g}" if isinstance(value, int | float) else ""
    return f"{at}{f' ({reason})' if reason else ''}".strip() or "by hand"


def _reason(programme: Programme, holder: Prescription, name: str) -> str:
    node = programme.basis.get(holder.basis.get(name, ""))
    return (node.reason or "") if node is not None and node.by == "coach" else ""


def _said(where_: str, fixed: str) -> str:
    return f"{where_}: locked {fixed}; unlock it first, or say that what is locked is changed too (--unlock)."
