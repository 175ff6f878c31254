"""The sessions of a week: which slots stand, which day is heavier or faster, what a match allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Literal

from speedloom.planning.weeks import WeekPlan, main_peaks
from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Event, Slot
from speedloom.training.kit import Place
from speedloom.training.rule import Rulebook
from speedloom.training.words import Role

NOON = time(12, 0)
Nearness = Literal["free", "light", "primer", "top_up"]


@dataclass(frozen=True)
class Day:
    """One session to be filled: date, slot, place, role, and what lies near it."""

    date: date
    slot: Slot
    place: Place
    role: Role = "neutral"
    easy: bool = False
    jumps: bool = True
    nearness: Nearness = "free"
    days_to_peak: int | None = None
    days_to_minor: int | None = None
    present: int = 1
    last_of_kind: bool = False
    sole: bool = True

    @property
    def gym(self) -> bool:
        """Whether the session is in a gym (lifts) and not on a straight (runs)."""
        return self.place.kind == "gym"

    @property
    def at(self) -> datetime:
        """When it starts, local to the brief's time zone."""
        return datetime.combine(self.date, self.slot.start)


def days_of_week(
    brief: ResolvedBrief,
    athlete: Athlete,
    week: WeekPlan,
    *,
    rulebook: Rulebook,
    before: tuple[Day, ...],
    by_hand: Mapping[str, tuple[date, time]] | None = None,
) -> tuple[tuple[Day, ...], tuple[Slot, ...]]:
    """Give an athlete's sessions of a week in order, and the slots that events or absences took away.

    Args:
        brief: the brief.
        athlete: whose sessions they are.
        week: the week.
        rulebook: the rulebook with the coach's changes.
        before: the athlete's days so far.
        by_hand: dates and starts that the coach has set in this week, by slot.
    """
    places = {place.ref: place for place in brief.places}
    kept, lost = [], []
    for usual, stated in _dates(brief, week, rulebook=rulebook):
        day, start = (by_hand or {}).get(usual.ref, (stated, usual.start))
        slot = usual if start == usual.start else usual.model_copy(update={"start": start})
        if not (brief.start <= day <= brief.end and slot.holds(day)):
            continue
        if _blocked(brief, athlete, day):
            lost.append(slot)
        else:
            kept.append(_dated(brief, Day(day, slot, places[slot.place])))
    kept.sort(key=lambda day: (day.date, day.slot.start, day.slot.ref))
    if _youth(athlete, brief, rulebook):
        kept, near_by = _apart(kept, before)
        lost += near_by
    substitute = _is_substitute(athlete, rulebook)
    near = [(day, _nearness(brief, day, rulebook, substitute=substitute)) for day in kept]
    lost += [day.slot for day, nearness in near if nearness is None]
    days = [replace(day, nearness=nearness) for day, nearness in near if nearness is not None]
    days = [replace(day, present=_present(brief, day.date), easy=_travels(brief, day.date)) for day in days]
    return tuple(_with_roles(_with_gaps(days, rulebook=rulebook, before=before))), tuple(lost)


def _youth(athlete: Athlete, brief: ResolvedBrief, rulebook: Rulebook) -> bool:
    age = athlete.age_years(brief.start)
    return age is not None and age < rulebook.number("youth_lifting", "age_years")


def _apart(days: list[Day], before: tuple[Day, ...]) -> tuple[list[Day], list[Slot]]:
    """Take away lifting days that follow another: under 16 never two in a row (rule youth_lifting)."""
    kept: list[Day] = []
    lost: list[Slot] = []
    for day in days:
        gyms = [other.date for other in (*before, *kept) if other.gym]
        if day.gym and any(day.date - other <= timedelta(days=1) for other in gyms):
            lost.append(day.slot)
        else:
            kept.append(day)
    return kept, lost


def _is_substitute(athlete: Athlete, rulebook: Rulebook) -> bool:
    minutes = athlete.match_minutes
    return minutes is not None and minutes < rulebook.number("in_season", "substitute_minutes")


def _dates(brief: ResolvedBrief, week: WeekPlan, *, rulebook: Rulebook) -> list[tuple[Slot, date]]:
    """Give the slots' dates; open ones move, one after the other, to the day that suits them best."""
    found = [(slot, slot.on(week.monday)) for slot in brief.slots if not slot.open]
    for slot in brief.slots:
        if slot.open:
            found.append((slot, _open_date(brief, slot, week, found, rulebook=rulebook)))
    return found


def _open_date(
    brief: ResolvedBrief, slot: Slot, week: WeekPlan, taken: list[tuple[Slot, date]], *, rulebook: Rulebook
) -> date:
    """Give the day that matches and the other slots leave best for an open slot."""
    stated = slot.on(week.monday)
    standing = [(other, day) for other, day in taken if other.holds(day)]
    days = [week.monday + timedelta(days=more) for more in range(7)]
    return min(
        days, key=lambda day: (_disturbed(brief, slot, day, standing, rulebook), abs(day - stated), day)
    )


def _disturbed(
    brief: ResolvedBrief, slot: Slot, day: date, taken: list[tuple[Slot, date]], rulebook: Rulebook
) -> int:
    """Count how badly a day suits an open slot: closed, the day after a match, near one, near a session."""
    places = {place.ref: place for place in brief.places}
    tried = Day(day, slot, places[slot.place])
    closed = not (brief.start <= day <= brief.end and slot.holds(day)) or any(
        event.covers(day) and _stops_training(event) for event in brief.events
    )
    at_once = any(day == on and _overlap(slot, other) for other, on in taken)
    nearness = _nearness(brief, tried, rulebook, substitute=False)
    burden = {"free": 0, "light": 3, "primer": 8}.get(nearness or "", 20)
    crowded = sum(max(0, 2 - abs((day - on).days)) for _, on in taken)
    return burden + crowded + 40 * closed + 200 * at_once


def _overlap(one: Slot, other: Slot) -> bool:
    """Say whether two slots share minutes on the same day."""
    first, second = sorted((one, other), key=lambda slot: slot.start)
    end = datetime.combine(date.min, first.start) + timedelta(minutes=first.minutes)
    return end > datetime.combine(date.min, second.start)


def _blocked(brief: ResolvedBrief, athlete: Athlete, day: date) -> bool:
    if any(away.covers(day) for away in athlete.away):
        return True
    return any(event.covers(day) and _stops_training(event) for event in brief.events)


def _travels(brief: ResolvedBrief, day: date) -> bool:
    """Nobody sprints flat out on a day of travel."""
    return any(event.kind == "travel" and event.covers(day) for event in brief.events)


def _stops_training(event: Event) -> bool:
    if event.training is not None:
        return event.training == "none"
    return event.kind in {"match", "competition", "travel"}


def _present(brief: ResolvedBrief, day: date) -> int:
    return sum(1 for athlete in brief.athletes if not any(away.covers(day) for away in athlete.away))


def _dated(brief: ResolvedBrief, day: Day) -> Day:
    to_main = [(peak - day.date).days for peak in main_peaks(brief) if peak >= day.date]
    minor = [(peak.date - day.date).days for peak in brief.goal.peaks if peak.size == "minor"]
    to_minor = [days for days in minor if days >= 0]
    return replace(day, days_to_peak=min(to_main, default=None), days_to_minor=min(to_minor, default=None))


def competitions(brief: ResolvedBrief) -> tuple[datetime, ...]:
    """Give when matches, competitions (each of their days) and peaks start, in order; noon if not said."""
    starts = {
        event.date + timedelta(days=more): event.start or NOON
        for event in brief.events
        if event.kind in {"match", "competition"}
        for more in range(((event.until or event.date) - event.date).days + 1)
    }
    peaks = {peak.date: NOON for peak in brief.goal.peaks if peak.date not in starts}
    return tuple(sorted(datetime.combine(day, start) for day, start in (starts | peaks).items()))


def _nearness(brief: ResolvedBrief, day: Day, rulebook: Rulebook, *, substitute: bool) -> Nearness | None:
    """Say what a match allows: nothing the day after, a primer the day before, light work two days before.

    A day before counts as such whatever the clock says: 17:00 is the day before tomorrow's 18:00 match too.
    """
    if any(start.date() == day.date for start in competitions(brief)):
        return None
    ahead = [min(start - day.at, start.date() - day.date) for start in competitions(brief) if start >= day.at]
    behind = [day.date - start.date() for start in competitions(brief) if start < day.at]
    hours = min(ahead, default=timedelta(days=99)) / timedelta(hours=1)
    if behind and min(behind) <= timedelta(days=1):
        # Who hardly played gets a few top-speed runs instead of nothing, unless the next match is tomorrow.
        far = hours > rulebook.number("match_gap", "hard_h")
        return "top_up" if substitute and far and not day.gym and min(behind) == timedelta(days=1) else None
    if hours <= rulebook.number("match_gap", "hard_h"):
        return None if day.gym else "primer"
    return "light" if hours <= rulebook.number("match_gap", "warn_h") else "free"


def _with_gaps(days: list[Day], *, rulebook: Rulebook, before: tuple[Day, ...]) -> list[Day]:
    """Mark field days that follow another within the rest a hard sprint or jump day needs."""
    sprint_gap = timedelta(hours=rulebook.number("sprint_gap", "gap_h"))
    jump_gap = timedelta(hours=rulebook.number("plyometric_gap", "gap_h"))
    marked = []
    last_hard = next((day for day in reversed(before) if not day.gym and not day.easy), None)
    last_jump = next((day for day in reversed(before) if not day.gym and day.jumps), None)
    for day in days:
        if day.gym:
            marked.append(day)
            continue
        easy = day.easy or (last_hard is not None and day.at - last_hard.at < sprint_gap)
        jumps = last_jump is None or day.at - last_jump.at >= jump_gap
        marked.append(replace(day, easy=easy, jumps=jumps))
        last_hard = last_hard if easy else day
        last_jump = day if jumps else last_jump
    return marked


def _with_roles(days: list[Day]) -> list[Day]:
    fixed = {"primer", "top_up"}
    hard = [day for day in days if not day.gym and not day.easy and day.nearness not in fixed]
    roles = _roles(hard)
    roles |= _roles([day for day in days if day.gym])
    last = {day.gym: day for day in days}
    return [
        replace(
            day,
            role=roles.get(day.at, "neutral"),
            last_of_kind=last[day.gym] is day,
            sole=len(hard) == 1 and hard[0] is day,
        )
        for day in days
    ]


def _roles(days: list[Day]) -> dict[datetime, Role]:
    if not days:
        return {}
    if len(days) == 1:
        return {days[0].at: "heavier" if days[0].gym else "neutral"}
    first, last = days[0], days[-1]
    if first.nearness == "light" and last.nearness == "free":
        first, last = last, first
    return {first.at: "heavier", last.at: "faster"}
