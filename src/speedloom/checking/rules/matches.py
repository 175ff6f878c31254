"""S8b: what may be done in the last two days before a match, a competition or a peak."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit
from speedloom.training.programme import Prescription

_COUNTED = ("match", "competition")
_SECONDS = 3600
RULE = "match_gap"


@dataclass(frozen=True)
class Meeting:
    """A moment to be fresh for: a day of a match or competition, or a peak that has no event of its own."""

    starts: datetime
    title: str
    is_peak: bool = False


def meetings(scene: Scene) -> tuple[Meeting, ...]:
    """Give every match, each day of a competition, and every peak on a day without one.

    What has no start counts from midnight, so that days are whole.
    """
    if scene.brief is None:
        return ()
    found = [
        Meeting(datetime.combine(event.date + timedelta(days=more), event.start or time.min), event.title)
        for event in scene.brief.events
        if event.kind in _COUNTED
        for more in range(((event.until or event.date) - event.date).days + 1)
    ]
    days = {one.starts.date() for one in found}
    found += [
        Meeting(datetime.combine(peak.date, time.min), str(peak.date), is_peak=True)
        for peak in scene.brief.goal.peaks
        if peak.date not in days
    ]
    return tuple(found)


def match_gap(scene: Scene) -> Iterator[Finding]:
    """Find work too hard for its distance from the next match or peak."""
    ahead = meetings(scene)
    for visit in scene.visits:
        for match in ahead:
            hours = hours_before(visit, match)
            if 0 <= hours < scene.number(RULE, "hard_h"):
                yield from _last_day(scene, visit, hours, match)
            if 0 <= hours < scene.number(RULE, "warn_h"):
                yield from _two_days(scene, visit, match)


def hours_before(visit: Visit, match: Meeting) -> float:
    """Count the hours to a match or peak."""
    return (match.starts - visit.starts).total_seconds() / _SECONDS


def _last_day(scene: Scene, visit: Visit, hours: float, match: Meeting) -> Iterator[Finding]:
    fast = [work for work in visit.work if work.reaches(scene.number(RULE, "fast_share"))]
    if sum(work.repetitions for work in fast) > scene.number(RULE, "primer_runs") or _too_far(scene, fast):
        yield _found(scene, "hard_h", match, visit=visit, line=fast[0].line, value=hours)
    for work in visit.work:
        if work.is_sled:
            yield _warned(scene, visit, work, hours, "sled")
        elif (work.share_1rm or 0.0) > scene.number(RULE, "lift_share"):
            yield _found(scene, "lift_share", match, visit=visit, line=work.line, value=work.share_1rm)
    contacts = float(sum(work.contacts for work in visit.work))
    if contacts > scene.number(RULE, "contacts_24"):
        yield _found(scene, "contacts_24", match, visit=visit, value=contacts)


def _found(
    scene: Scene,
    number: str,
    match: Meeting,
    *,
    visit: Visit,
    value: float | None,
    line: Prescription | None = None,
) -> Finding:
    if match.is_peak:
        return scene.breach(RULE, number, visit=visit, line=line, value=value, peak=match.title)
    return scene.breach(RULE, number, visit=visit, line=line, value=value, match=match.title)


def _warned(scene: Scene, visit: Visit, work: Work, hours: float, why: str) -> Finding:
    limit = scene.number(RULE, "hard_h")
    return scene.breach(RULE, visit=visit, line=work.line, value=hours, limit=limit, unit="h", why=why)


def _too_far(scene: Scene, fast: list[Work]) -> bool:
    return any(work.run_m > scene.number(RULE, "primer_distance_m") for work in fast)


def _two_days(scene: Scene, visit: Visit, match: Meeting) -> Iterator[Finding]:
    fast = [work for work in visit.work if work.reaches(scene.number(RULE, "fast_share"))]
    runs = float(sum(work.repetitions for work in fast))
    contacts = float(sum(work.contacts for work in visit.work))
    for number, value in (("top_speed_runs_48", runs), ("contacts_48", contacts)):
        if value > scene.number(RULE, number):
            yield _found(scene, number, match, visit=visit, value=value)
