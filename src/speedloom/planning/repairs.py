"""What would make a clash possible, cheapest first: what a coach can change, in the order of its price.

Prices are common practice, in minutes: a few more minutes are cheaper than a line of the coach's own, that
is cheaper than a session, a session than the first weeks, those than a method, a method than an athlete.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil
from typing import Protocol

from speedloom.planning.clash import Clash, Overfull, Repair, clash_of
from speedloom.planning.repaired import repaired
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Slot, monday_of
from speedloom.training.words import WEEKDAYS

STEP_MIN = 5
LONGEST_SLOT_MIN = 300
DAY_MIN = 24 * 60
EARLIEST_MIN = 6 * 60
LATER_WEEKS = 26
OWN_LINE_PRICE, SLOT_PRICE, WEEK_PRICE, METHOD_PRICE, ATHLETE_PRICE = 60, 300, 100, 1000, 2000
EARLIER_PRICE = 5
ADD_SLOT = Repair("add_slot")
LONGER = ("lengthen_slot", "start_earlier")
Priced = tuple[float, Repair]


class Trial(Protocol):
    """Drafts another brief, to see whether a repair would do."""

    def trains(self, brief: ResolvedBrief, /, *, lost: bool) -> bool:
        """Say whether a brief has any session, or at least one that is lost."""
        ...

    def too_full(self, brief: ResolvedBrief, /) -> list[Overfull]:
        """Give a brief's sessions that do not fit."""
        ...


def with_repairs(clash: Clash, *, brief: ResolvedBrief, trial: Trial) -> Clash:
    """Give the clash with its repairs, cheapest first.

    Args:
        clash: the clash.
        brief: the brief it arose from.
        trial: drafts another brief.
    """
    kind = clash.tags[0]
    if kind == "slot_minutes":
        found = _for_minutes(clash, brief)
    elif kind == "screening":
        found = _for_screening(clash, brief)
    elif kind == "no_athlete":
        found = [(0.0, Repair("add_athlete", (("athlete", "athlete_1"),)))]
    else:
        found = _for_sessions(brief, trial)
    first, *more = (repair for _, repair in sorted(found, key=lambda one: one[0]))
    if first != ADD_SLOT and (kind == "no_slot" or _may_shift(first, brief)):
        first = _whole(first, brief, trial)
    return Clash(**{**vars(clash), "repair": first, "more": tuple(more)})


def _joined(steps: list[Repair]) -> Repair:
    first, *rest = steps
    return Repair(first.kind, first.facts, tuple(rest))


def _all(of_slots: list[list[Priced]]) -> Iterator[Priced]:
    """Join the cheapest step of every slot; none where a slot has none."""
    cheapest = [min(options, key=lambda one: one[0]) for options in of_slots if options]
    if len(cheapest) == len(of_slots):
        yield sum(price for price, _ in cheapest), _joined(list(dict.fromkeys(step for _, step in cheapest)))


def _for_minutes(clash: Clash, brief: ResolvedBrief) -> list[Priced]:
    slots = [(one, next(slot for slot in brief.slots if slot.ref == one.slot)) for one in _each(clash)]
    sessions = [session for one, _ in slots for session in one.sessions]
    minutes = [_more_minutes(one, slot, brief) for one, slot in slots]
    own = [_own_lines(one, brief) for one, _ in slots]
    mixed = [longer + dropped for longer, dropped in zip(minutes, own, strict=True)]
    sooner = [[one for one in options if one[1].kind == "start_earlier"] for options in minutes]
    found = [*_all(mixed), *_all(minutes), *_all(sooner), *_all(own)]
    if len(slots) < len(brief.slots):
        found += _all([[(SLOT_PRICE + slot.minutes, Repair("leave_out_slot", (("slot", slot.ref),)))]
                       for _, slot in slots])  # fmt: skip
    found += [
        *_later_start(sessions, brief),
        *_fewer_athletes(sessions, brief),
        *_fewer_methods(sessions, brief),
    ]
    distinct = {repair: price for price, repair in reversed(found)}
    return [(price, repair) for repair, price in distinct.items()]


def _each(clash: Clash) -> tuple[Clash, ...]:
    return (clash, *clash.also)


def _more_minutes(clash: Clash, slot: Slot, brief: ResolvedBrief) -> list[Priced]:
    """Lengthen the slot at its end, or begin earlier, where the day has room."""
    longest = max(session.needed_min - session.available_min for session in clash.sessions)
    more = ceil(longest / STEP_MIN) * STEP_MIN
    begin = _minute(slot)
    free_from, free_until = _room(slot, brief)
    facts = (("slot", slot.ref), ("minutes", more))
    found: list[Priced] = []
    if slot.minutes + more > LONGEST_SLOT_MIN:
        return found
    if begin + slot.minutes + more <= free_until:
        found.append((more, Repair("lengthen_slot", facts)))
    if begin - more >= free_from:
        found.append((more + EARLIER_PRICE, Repair("start_earlier", facts)))
    return found


def _minute(slot: Slot) -> int:
    return slot.start.hour * 60 + slot.start.minute


def _room(slot: Slot, brief: ResolvedBrief) -> tuple[int, int]:
    """Give the minutes of the day between the slots before and after."""
    others = [one for one in brief.slots if one.ref != slot.ref and (one.open or one.day == slot.day)]
    begin = _minute(slot)
    before = [_minute(one) + one.minutes for one in others if _minute(one) < begin]
    after = [_minute(one) for one in others if _minute(one) >= begin]
    return max([EARLIEST_MIN, *before]), min([DAY_MIN - 1, *after])


def _own_lines(clash: Clash, brief: ResolvedBrief) -> list[Priced]:
    """Drop the fewest minutes of the coach's own lines with which every session fits."""
    lines = sorted(
        (line for line in brief.own_lines if line.slot == clash.slot),
        key=lambda line: (line.minutes, line.ref),
    )
    enough = [
        [line]
        for line in lines
        if all(session.fits_without((f"own_{line.ref}",)) for session in clash.sessions)
    ]
    if not enough and len(lines) > 1 and all(one.fits_without(("own_",)) for one in clash.sessions):
        enough = [lines]
    return [
        (
            OWN_LINE_PRICE * len(those),
            _joined([Repair("drop_own_line", (("line", line.ref), ("slot", line.slot))) for line in those]),
        )
        for those in enough[:1]
    ]


def _later_start(sessions: list[Overfull], brief: ResolvedBrief) -> Iterator[Priced]:
    """Start after the clashing weeks where they are the programme's first third."""
    last = max(session.week for session in sessions)
    weeks = (monday_of(brief.end) - monday_of(brief.start)).days // 7 + 1
    if 3 * last <= weeks:
        start = monday_of(brief.start) + timedelta(weeks=last)
        yield WEEK_PRICE * last, Repair("later_start", (("start", start.isoformat()),))


def _fewer_athletes(sessions: list[Overfull], brief: ResolvedBrief) -> Iterator[Priced]:
    gone = sorted({session.athlete for session in sessions})
    if len(gone) < len(brief.athletes):
        steps = [Repair("leave_out_athlete", (("athlete", ref),)) for ref in gone]
        yield ATHLETE_PRICE * len(gone), _joined(steps)


def _fewer_methods(sessions: list[Overfull], brief: ResolvedBrief) -> Iterator[Priced]:
    """Leave the sprints out: the only method with lines that are never dropped."""
    methods = brief.phases.methods
    if "unloaded_sprint" in methods and all(
        session.fits_without(("top_speed", "acceleration")) for session in sessions
    ):
        yield METHOD_PRICE, Repair("leave_out_method", (("method", "unloaded_sprint"),))


def _for_screening(clash: Clash, brief: ResolvedBrief) -> list[Priced]:
    """Name the clearance first: whoever is not cleared is helped, before others train without them."""
    clear = _joined([Repair("clear_athlete", (("athlete", ref),)) for ref in clash.athletes])
    found: list[Priced] = [(0.0, clear)]
    if len(clash.athletes) < len(brief.athletes):
        leave = [Repair("leave_out_athlete", (("athlete", ref),)) for ref in clash.athletes]
        found.append((ATHLETE_PRICE, _joined(leave)))
    return found


def _for_sessions(brief: ResolvedBrief, trial: Trial) -> list[Priced]:
    """Try each change until one gives a session, or a day that something else takes; else ask for a slot."""
    for lost in (False, True):
        found = [one for one in _changes(brief) if trial.trains(repaired(brief, one), lost=lost)]
        found += [one for one in _later_ends(brief) if trial.trains(repaired(brief, one), lost=lost)][:1]
        if found:
            return [(float(price), repair) for price, repair in enumerate(found)]
    return [(0.0, ADD_SLOT)]


def _may_shift(repair: Repair, brief: ResolvedBrief) -> bool:
    """Say whether a repair may change which day is which, and so what another slot must hold."""
    steady = all(step.kind in {LONGER[0], "drop_own_line"} for step in repair.steps)
    return not steady or any(slot.open for slot in brief.slots)


def _whole(repair: Repair, brief: ResolvedBrief, trial: Trial) -> Repair:
    """Lengthen in the same go what would then be too short."""
    for _ in brief.slots:
        after = repaired(brief, repair)
        too_full = trial.too_full(after)
        if not too_full:
            break
        _, more = min(_for_minutes(clash_of(too_full), after), key=lambda one: one[0])
        repair = _joined(_summed([*repair.steps, *more.steps]))
    return repair


def _summed(steps: list[Repair]) -> list[Repair]:
    """Put the minutes of one slot into one step."""
    minutes: dict[tuple[str, str], int] = {}
    for step in steps:
        if step.kind in LONGER:
            facts = dict(step.facts)
            key = (step.kind, str(facts["slot"]))
            minutes[key] = minutes.get(key, 0) + int(facts["minutes"])
    others = [step for step in steps if step.kind not in LONGER]
    longer = [Repair(kind, (("slot", slot), ("minutes", more))) for (kind, slot), more in minutes.items()]
    return [*others, *longer]


def _changes(brief: ResolvedBrief) -> Iterator[Repair]:
    for slot in brief.slots:
        yield Repair("slot_all_dates", (("slot", slot.ref),))
    for slot in brief.slots:
        if not slot.open:
            yield Repair("open_slot", (("slot", slot.ref),))
    for slot in brief.slots[:1]:
        for day in WEEKDAYS:
            if day != slot.day:
                yield Repair("move_slot", (("slot", slot.ref), ("day", day)))


def _later_ends(brief: ResolvedBrief) -> Iterator[Repair]:
    for weeks in range(1, LATER_WEEKS + 1):
        yield Repair("later_end", (("end", _later(brief, weeks)),))


def _later(brief: ResolvedBrief, weeks: int) -> str:
    sunday: date = monday_of(brief.end) + timedelta(weeks=weeks, days=6)
    return sunday.isoformat()
