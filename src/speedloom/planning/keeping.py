"""Keeping what has no news: which drafted sessions are the very ones of an earlier revision."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import floor

from speedloom.planning.calendar_week import Day
from speedloom.planning.ledger import Ledger
from speedloom.planning.limits import UNITS, adds_up, amount
from speedloom.planning.prescribe import Line, finish
from speedloom.planning.problem import Before, Filled
from speedloom.training.programme import Prescription, Session

Key = tuple[object, ...]


@dataclass(frozen=True)
class Kept:
    """A drafted session beside the one it was in the earlier revision."""

    old: Session | None
    counts: Mapping[int, int]
    same: bool
    most: Mapping[int, int] = field(default_factory=dict)


def matched(days: Sequence[Day], old: Sequence[Session]) -> tuple[Session | None, ...]:
    """Give each day its earlier session: the one of the same slot, else of the same date and place."""
    left = list(old)
    found: list[Session | None] = []
    for day in days:
        same_slot = [one for one in left if one.slot == day.slot.ref]
        same_day = [one for one in left if one.date == day.date and one.place == day.place.ref]
        chosen = next(iter(same_slot or same_day), None)
        if chosen is not None:
            left.remove(chosen)
        found.append(chosen)
    return tuple(found)


def keep(filled: Filled, old: Session | None) -> Kept:
    """Say what an earlier session chose for these drafts, and whether it comes out the very same."""
    if old is None:
        return Kept(None, {}, same=False)
    counts = _counts(filled, old)
    fits = counts is not None and within_limits(filled, counts) and _comes_out(filled, old, counts)
    return Kept(old, counts or _near(filled, old), same=fits, most=_no_fuller(filled, old))


def counts_before(kept: Iterable[Kept]) -> Before:
    """Give the counts that stand, and those the others should stay near.

    A lighter week stands too, although weeks before it may have lost days: fewer changes are worth more.
    """
    fixed: dict[tuple[int, int], int] = {}
    near: dict[tuple[int, int], int] = {}
    most: dict[tuple[int, int], int] = {}
    for at, one in enumerate(kept):
        target = fixed if one.same else near
        target.update({(at, line): count for line, count in one.counts.items()})
        most.update({(at, line): count for line, count in one.most.items()})
    return Before(fixed, near, most)


def line_key(line: Prescription) -> Key:
    """Name what a line is for: a line keeps its ref while this stays."""
    return (line.purpose, line.method, line.run, line.exercise)


def numbered(keys: Iterable[Key]) -> list[Key]:
    """Tell apart lines that are for the same, by their order."""
    seen: Counter[Key] = Counter()
    found: list[Key] = []
    for key in keys:
        found.append((*key, seen[key]))
        seen[key] += 1
    return found


def old_lines(old: Session) -> dict[Key, Prescription]:
    """Give a session's lines by what they are for."""
    keys = numbered(line_key(line) for line in old.prescriptions)
    return dict(zip(keys, old.prescriptions, strict=True))


def draft_keys(filled: Filled) -> list[Key]:
    """Name what each draft of a session is for."""
    return numbered(
        (draft.purpose, draft.method, draft.fields.get("run"), draft.exercise_ref) for draft in filled.drafts
    )


def _counts(filled: Filled, old: Session) -> dict[int, int] | None:
    """Give the earlier count of each draft; None where a line has no draft or a count cannot be chosen."""
    lines = old_lines(old)
    counts: dict[int, int] = {}
    for at, (key, draft) in enumerate(zip(draft_keys(filled), filled.drafts, strict=True)):
        line = lines.pop(key, None)
        counts[at] = 0 if line is None else getattr(line, draft.counted)
        if draft.minutes is None and counts[at] not in draft.counts():
            return None
    return None if lines else counts


def _near(filled: Filled, old: Session) -> dict[int, int]:
    """Give the earlier counts of those drafts that have one."""
    lines = old_lines(old)
    return {
        at: getattr(lines[key], draft.counted)
        for at, (key, draft) in enumerate(zip(draft_keys(filled), filled.drafts, strict=True))
        if key in lines
    }


def _no_fuller(filled: Filled, old: Session) -> dict[int, int]:
    """Give the most that a session after time off may hold: what it was to hold, so nothing is stacked.

    An exercise that was not there takes the place of one that is no more; of a kind of work that was not
    there at all, the formulas alone say how much.
    """
    if "after_break" not in filled.setting.ledger.links_of(filled.setting.factor):
        return {}
    gone = old_lines(old)
    lines = [gone.pop(key, None) for key in draft_keys(filled)]
    sorts = {(line.purpose, line.method, line.run) for line in old.prescriptions}
    most: dict[int, int] = {}
    for at, (draft, line) in enumerate(zip(filled.drafts, lines, strict=True)):
        sort = (draft.purpose, draft.method, draft.fields.get("run"))
        instead = [line] if line else [one for key, one in gone.items() if key[:3] == sort]
        if sort in sorts:
            most[at] = max((getattr(one, draft.counted) for one in instead), default=0)
    return most


def within_limits(filled: Filled, counts: Mapping[int, int]) -> bool:
    """Say whether counts keep a session's minutes and the restrictions on its sums, as they are now."""
    chosen = [(draft, counts[at]) for at, draft in enumerate(filled.drafts)]
    half_minutes = sum(round(2 * draft.minutes_for(count)) for draft, count in chosen)
    return half_minutes <= filled.room_half_minutes and all(
        sum(amount(limit, draft, count) for draft, count in chosen if adds_up(limit, draft))
        <= floor(UNITS * limit.at_most)
        for limit in filled.setting.limits
    )


def _comes_out(filled: Filled, old: Session, counts: Mapping[int, int]) -> bool:
    day = filled.setting.day
    if (day.date, day.slot.start, day.place.ref, day.role) != (old.date, old.start, old.place, old.role):
        return False
    if float(day.slot.minutes) != old.minutes_available:
        return False
    done = [finish(filled.setting, draft, counts[at]) for at, draft in enumerate(filled.drafts) if counts[at]]
    return len(done) == len(old.prescriptions) and all(
        is_line(line, was, ledger=filled.setting.ledger)
        for line, was in zip(done, old.prescriptions, strict=True)
    )


def is_line(line: Line, old: Prescription, *, ledger: Ledger) -> bool:
    """Say whether a finished line is an earlier one, in every number and every derivation."""
    basis = {name: ledger.name_of(tag) for name, tag in line.basis.items() if holds_number(line.fields, name)}
    if basis != old.basis:
        return False
    return Prescription(ref=old.ref, locked=old.locked, basis=old.basis, **line.fields) == old


def holds_number(fields: Mapping[str, object], name: str) -> bool:
    """Say whether a line's fields hold the number that a node is named for."""
    value: object = fields
    for step in name.split("."):
        value = value.get(step) if isinstance(value, dict) else getattr(value, step, None)
    return value is not None
