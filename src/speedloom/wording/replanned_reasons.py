"""Why a re-plan changes what it changes: work that is the week's own, the way back, and why others change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import Node, Prescription, Programme, Session, Week
from speedloom.wording.brief_news import lost_days, spans, whom
from speedloom.wording.dates import day_month, listing
from speedloom.wording.names import athlete_name, athletes_of

Pair = tuple[Session | None, Session | None]
"""A session as it was and as it is; None where there is none."""
Changed = Mapping[str, Sequence[Pair]]
"""The sessions that changed, by athlete."""
SQUAD_WIDE = (
    "goal", "phases", "slots", "events", "kit", "places", "exercises", "own_lines", "rules", "end", "days",
    "trial",
)  # fmt: skip
"""Parts of a brief that speak of everybody."""
MEASURED = ("trials", "jumps", "lifts", "traces")
BACK = "rule:return_after_break.cut_"
A_FEW_DAYS = 2


def reasons(old: Programme, new: Programme, changed: Changed, *, since: date) -> Iterator[str]:
    """Write the reasons that the two programmes hold, each a sentence; what is not known is not claimed."""
    was, now = old.brief.content, new.brief.content
    if was is None or now is None:
        return
    trails = (_Trail(old.basis), _Trail(new.basis))
    yield from _coming_back(new, changed, trails)
    yield from _others(new, changed, trails, briefs=(was, now))
    yield from _amounts(old, new, briefs=(was, now), since=since)


@dataclass(frozen=True)
class _Trail:
    """What numbers rest on: the way back after a time off, and how many wait for kit."""

    basis: Mapping[str, Node]
    _known: dict[str, frozenset[str]] = field(default_factory=dict)

    def of(self, session: Session | None) -> frozenset[str]:
        """Give what the numbers of a session rest on."""
        lines: tuple[Prescription, ...] = session.prescriptions if session else ()
        return frozenset().union(*(self._under(name) for line in lines for name in line.basis.values()))

    def _under(self, name: str) -> frozenset[str]:
        if name not in self._known:
            node = self.basis.get(name)
            if node is None:
                found = {name} if name.startswith(BACK) else set()
                self._known[name] = frozenset(found)
            else:
                here = {f"present:{node.inputs.get('present')}"} if node.by == "queue.turns" else set()
                self._known[name] = frozenset(here).union(*map(self._under, node.inputs.values()))
        return self._known[name]


def _coming_back(new: Programme, changed: Changed, trails: tuple[_Trail, _Trail]) -> Iterator[str]:
    """Name who is given the lighter weeks back, as the derivations of their new numbers say."""
    back = [
        athlete
        for athlete, pairs in changed.items()
        if any(_back(trails[1].of(now)) - _back(trails[0].of(was)) for was, now in pairs)
    ]
    limited = any(athletes_of(new)[one].restrictions for one in back if one in athletes_of(new))
    if back:
        names = listing(athlete_name(new, one) for one in back)
        off = f"two weeks or more off{' or limited' if limited else ''}"
        yield f"{names}: lighter weeks back after {off} (rule return_after_break)."


def _back(trail: frozenset[str]) -> frozenset[str]:
    return frozenset(name for name in trail if name.startswith(BACK))


def _others(
    new: Programme,
    changed: Changed,
    trails: tuple[_Trail, _Trail],
    *,
    briefs: tuple[ResolvedBrief, ResolvedBrief],
) -> Iterator[str]:
    """Say of those without news of their own why they change."""
    was, now = briefs
    if any(getattr(was, part) != getattr(now, part) for part in SQUAD_WIDE):
        return
    if changed and was == now:
        # Nothing is news; a number set by hand is what the lines after it are worked out from.
        yield "Why it changes: it follows from what was changed by hand before."
        return
    moved = any(_moved(pair) for pairs in changed.values() for pair in pairs)
    groups: dict[str, list[str]] = {}
    for athlete, pairs in changed.items():
        if not _own_news(was, now, athlete):
            groups.setdefault(_cause(pairs, trails, shared=now.days == "shared", moved=moved), []).append(
                athlete
            )
    said = [f"{_whom(new, who)}, {cause}" for cause, who in groups.items()]
    if said:
        yield f"Why others change: {'; '.join(said)}."


def _whom(new: Programme, athletes: Sequence[str]) -> str:
    names = (athlete_name(new, one) for one in athletes)
    return whom(names, everybody=[athlete_name(new, one) for one in athletes_of(new)])


def _cause(pairs: Sequence[Pair], trails: tuple[_Trail, _Trail], *, shared: bool, moved: bool) -> str:
    before, after = (
        max((_present(trail.of(pair[place])) for pair in pairs), default=0)
        for place, trail in enumerate(trails)
    )
    if before and after and before != after:
        return f"a {'longer' if after > before else 'shorter'} queue for shared kit"
    if shared and any(_moved(pair) for pair in pairs):
        return "the squad trains on the same days"
    return "it follows from the days that moved" if moved else "it follows from what is new for the rest"


def _present(trail: frozenset[str]) -> int:
    """Give how many wait for kit in a session, the most of its lines."""
    counts = (name.rpartition(":")[2] for name in trail if name.startswith("present:"))
    return max((int(float(count)) for count in counts if count.replace(".", "").isdigit()), default=0)


def _moved(pair: Pair) -> bool:
    was, now = pair
    return was is None or now is None or was.date != now.date


def _own_news(was: ResolvedBrief, now: ResolvedBrief, athlete: str) -> bool:
    before, after = _athlete(was, athlete), _athlete(now, athlete)
    return before != after or _measured(was, athlete) != _measured(now, athlete)


def _athlete(brief: ResolvedBrief, ref: str) -> Athlete | None:
    return next((one for one in brief.athletes if one.ref == ref), None)


def _measured(brief: ResolvedBrief, athlete: str) -> list[object]:
    return [one for part in MEASURED for one in getattr(brief.measurements, part) if one.athlete == athlete]


def _amounts(
    old: Programme, new: Programme, *, briefs: tuple[ResolvedBrief, ResolvedBrief], since: date
) -> Iterator[str]:
    """Say of missed work that it stays missed, and of a week that has more that this is its own work."""
    lost = lost_days(*briefs, since=since)
    more = sorted(_weeks_with_more(old, new, since=since))
    if more:
        brief = "calendar" if briefs[0].events != briefs[1].events else "brief"
        weeks = f"week{'s' if len(more) > 1 else ''} from {listing(map(day_month, more))}"
        verb, own = ("hold", "their own") if len(more) > 1 else ("holds", "its own")
        missed = f" What was missed {_when(lost)} stays missed." if lost else ""
        if lost or brief == "calendar":
            yield (
                f"The {weeks} {verb} more: {own} planned work by the {brief} as it is now, nothing made up."
                f"{missed}"
            )
    elif lost:
        yield f"Nothing is stacked: what was missed {_when(lost)} stays missed."


def _when(lost: set[date]) -> str:
    if len(lost) <= A_FEW_DAYS:
        return f"on {spans(lost)}"
    whole = max(lost) - min(lost) == timedelta(days=len(lost) - 1)
    return f"from {spans(lost)}" if whole else "on these days"


def _weeks_with_more(old: Programme, new: Programme, *, since: date) -> set[date]:
    """Give the Mondays of weeks from a day on in which somebody who stays has more of something."""
    before = {own.athlete: {week.number: week for week in own.weeks} for own in old.programmes}
    return {
        week.monday
        for own in new.programmes
        for week in own.weeks
        if week.monday + timedelta(days=6) >= since
        and week.number in before.get(own.athlete, {})
        and _has_more(before[own.athlete][week.number], week)
    }


def _has_more(was: Week, now: Week) -> bool:
    """Compare metres, contacts and sets as wholes: a run of another kind in place of one is not more."""
    before, after = _totals(was), _totals(now)
    return any(after[unit] > before.get(unit, 0.0) for unit in after)


def _totals(week: Week) -> Mapping[str, float]:
    totals: dict[str, float] = {}
    for volume in week.volumes.values():
        totals[volume.unit] = totals.get(volume.unit, 0.0) + volume.planned
    return totals
