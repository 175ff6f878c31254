"""Holding what the coach has locked or changed, while everything around it is planned again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, time
from typing import Any

from speedloom.planning.by_hand import with_hand_made
from speedloom.planning.draft import Draft, Timing
from speedloom.planning.keeping import draft_keys, old_lines, within_limits
from speedloom.planning.ledger import Ledger, Tag, literal
from speedloom.planning.problem import Filled
from speedloom.training.programme import Expect, Prescription, Session, StopRule

LINE_NUMBERS = {
    "sets": "1",
    "reps": "1",
    "reps_to": "1",
    "distance_m": "m",
    "run_in_m": "m",
    "load_kg": "kg",
    "added_kg": "kg",
    "share_1rm": "share",
    "rir": "1",
    "effort": "share",
    "hold_s": "s",
    "height_m": "m",
    "grade": "1",
    "rest_reps_s": "s",
    "rest_s": "s",
}
"""Numbers of a line that a coach may change or lock, with the unit of each; the rest follows from them."""
WHOLE = frozenset({"sets", "reps", "reps_to", "rir", "hold_s", "rest_reps_s", "rest_s"})


def set_by_hand(sessions: Iterable[Session]) -> dict[str, tuple[date, time]]:
    """Give the date and start that the coach has set for a slot's session, by slot."""
    return {
        session.slot: (session.date, session.start)
        for session in sessions
        if session.locked
        and session.slot is not None
        and ("date" in session.basis or "start" in session.basis)
    }


def held(filled: Filled, old: Session | None, *, ledger: Ledger) -> Filled:
    """Give a drafted session with all that is locked in its earlier self held, as far as it fits.

    A session has its minutes and its athlete's limits whatever is locked in it: where even the fewest of
    everything are too much, counts are let go first, then all numbers, then exercises put in by hand.

    Args:
        filled: the session as it would be drafted now.
        old: its earlier self.
        ledger: the programme's ledger, with the earlier revision's basis in it.
    """
    by_hand = with_hand_made(filled, old, ledger=ledger)
    if old is None or not any(line.locked for line in old.prescriptions):
        return by_hand
    for counts in (True, False):
        found = _held(by_hand, old, ledger=ledger, counts=counts)
        if _fits(found):
            return found
    return by_hand if _fits(by_hand) else filled


def _fits(filled: Filled) -> bool:
    """Say whether a session's fewest runs and sets keep its minutes and its athlete's limits."""
    return within_limits(filled, {at: min(draft.counts()) for at, draft in enumerate(filled.drafts)})


def _held(filled: Filled, old: Session, *, ledger: Ledger, counts: bool) -> Filled:
    lines = old_lines(old)
    drafts: list[Draft] = []
    for key, draft in zip(draft_keys(filled), filled.drafts, strict=True):
        line = lines.get(key)
        drafts.append(draft if line is None else _held_draft(draft, line, ledger=ledger, counts=counts))
    return replace(filled, drafts=tuple(drafts))


@dataclass
class _Hold:
    """What stands in for what in one line."""

    swaps: dict[int, Tag] = field(default_factory=dict)
    numbers: list[tuple[Tag, float, str | None]] = field(default_factory=list)
    added: dict[str, Tag] = field(default_factory=dict)
    count: tuple[int, str | None] | None = None


def _held_draft(draft: Draft, line: Prescription, *, ledger: Ledger, counts: bool) -> Draft:
    if draft.minutes is not None:
        return draft  # A warm-up is what it is.
    if "cue" in line.locked:
        draft = replace(draft, fields=draft.fields | {"cue": line.cue})
    draft = _in_sets(draft, line, ledger=ledger)
    hold = _Hold()
    for name, unit in LINE_NUMBERS.items():
        if name in line.locked and getattr(line, name) is not None:
            _take_hold(hold, draft, line, name, unit=unit, ledger=ledger)
    return _with_count(_recast(draft, hold, ledger=ledger), hold.count if counts else None, ledger=ledger)


def _in_sets(draft: Draft, line: Prescription, *, ledger: Ledger) -> Draft:
    """Give a run that the coach has put in several sets a rest between them."""
    timing = draft.timing
    if "sets" not in line.locked or line.sets == 1 or timing.rest is not None or timing.rest_reps is None:
        return draft
    return replace(draft, timing=replace(timing, rest=set_rest(timing.rest_reps, ledger=ledger)))


def _take_hold(
    hold: _Hold, draft: Draft, line: Prescription, name: str, *, unit: str, ledger: Ledger
) -> None:
    value, now = getattr(line, name), _tag(draft, name)
    hand = _hand(line.basis.get(name), ledger)
    reason = None if hand is None else ledger.nodes[hand.index].reason
    if name == draft.counted:
        hold.count = (value, reason)
    elif now is None:
        hold.added[name] = ledger.by_coach(None, value, unit=unit, reason=reason)
    elif hand is not None or now.value != value:
        hold.numbers.append((now, value, reason))
        hold.swaps[now.index] = ledger.by_coach(now, value, unit=unit, reason=reason)


def _hand(node: str | None, ledger: Ledger) -> Tag | None:
    tag = None if node is None else ledger.named(node)
    return tag if tag is not None and ledger.nodes[tag.index].by == "coach" else None


def _tag(draft: Draft, name: str) -> Tag | None:
    if name in {"sets", "reps"}:
        return draft.other
    rests = {"rest_reps_s": draft.timing.rest_reps, "rest_s": draft.timing.rest}
    return rests[name] if name in rests else draft.basis.get(name)


def _recast(draft: Draft, hold: _Hold, *, ledger: Ledger) -> Draft:
    added = hold.added
    if not hold.swaps and not added:
        return draft
    swaps = _proposals_again(hold, ledger=ledger)
    other = ledger.recast(draft.other, swaps)
    each = None if draft.each is None else ledger.recast(draft.each, swaps)
    basis = {name: ledger.recast(tag, swaps) for name, tag in draft.basis.items()} | added
    changed = {name: tag for name, tag in basis.items() if tag != draft.basis.get(name)}
    worth = draft.per_unit if each is None else float(each.value)
    timing = draft.timing
    parts = {
        name: ledger.recast(tag, swaps)
        for name in ("work", "rest_reps", "rest", "change_over", "ramp_up", "turns")
        if isinstance(tag := getattr(timing, name), Tag)
    }
    return replace(
        draft,
        other=other,
        proposed=ledger.recast(draft.proposed, swaps),
        each=each,
        per_unit=worth * float(other.value) if draft.counted == "reps" else worth,
        basis=basis,
        fields=with_values(draft.fields, changed),
        timing=Timing(**parts, runs_on=timing.runs_on),
    )


def _proposals_again(hold: _Hold, *, ledger: Ledger) -> dict[int, Tag]:
    """Give the coach's numbers with what would stand there otherwise, by all the others of them."""
    swaps: dict[int, Tag] = {}
    for now, value, reason in hold.numbers:
        others = {index: tag for index, tag in hold.swaps.items() if index != now.index}
        proposed = ledger.recast(now, others)
        swaps[now.index] = ledger.by_coach(proposed, value, unit="", reason=reason)
    return swaps


def _with_count(draft: Draft, count: tuple[int, str | None] | None, *, ledger: Ledger) -> Draft:
    if count is None:
        return draft
    value, reason = count
    held_count = ledger.by_coach(draft.proposed, value, unit="1", reason=reason, quantity=draft.counted)
    return replace(draft, proposed=held_count, fewest=value, most=value, optional=False, by_coach=True)


def set_rest(rest_reps: Tag, *, ledger: Ledger) -> Tag:
    """Give the rest between sets of a run that is written in one set: that between its repetitions."""
    return ledger.compute("rest between sets", "s", "round.step", value=rest_reps, step=literal(1))


def with_values(fields: dict[str, Any], changed: dict[str, Tag]) -> dict[str, Any]:
    """Give a line's fields with the values of nodes that have changed, whole numbers as such."""
    new = dict(fields)
    for name, tag in changed.items():
        first, _, inner = name.partition(".")
        if inner:
            part = new.get(first)
            if isinstance(part, (Expect, StopRule)):
                kept = part.model_dump() | {inner: float(tag.value)}
                new[first] = type(part)(**kept)
        elif name in WHOLE or name == "contacts":
            new[name] = round(tag.value)
        else:
            new[name] = tag.value
    return new
