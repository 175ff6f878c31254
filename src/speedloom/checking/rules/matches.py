"""S8b: what may be done in the last two days before a match or competition."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit
from speedloom.training.calendar import Event

_COUNTED = ("match", "competition")
_SECONDS = 3600
RULE = "match_gap"


def match_gap(scene: Scene) -> Iterator[Finding]:
    """Find work too hard for its distance from the next match."""
    matches = [event for event in (scene.brief.events if scene.brief else ()) if event.kind in _COUNTED]
    for visit in scene.visits:
        for match in matches:
            hours = hours_before(visit, match)
            if 0 <= hours < scene.number(RULE, "hard_h"):
                yield from _last_day(scene, visit, hours, match)
            if 0 <= hours < scene.number(RULE, "warn_h"):
                yield from _two_days(scene, visit, match)


def hours_before(visit: Visit, match: Event) -> float:
    """Count the hours to a match; one without a start counts from midnight, so that days are whole."""
    starts = datetime.combine(match.date, match.start or time.min)
    return (starts - visit.starts).total_seconds() / _SECONDS


def _last_day(scene: Scene, visit: Visit, hours: float, match: Event) -> Iterator[Finding]:
    fast = [work for work in visit.work if work.reaches(scene.number(RULE, "fast_share"))]
    if sum(work.repetitions for work in fast) > scene.number(RULE, "primer_runs") or _too_far(scene, fast):
        yield scene.breach(RULE, "hard_h", visit=visit, line=fast[0].line, value=hours, match=match.title)
    for work in visit.work:
        if work.is_sled:
            yield _warned(scene, visit, work, hours, "sled")
        elif (work.share_1rm or 0.0) > scene.number(RULE, "lift_share"):
            yield scene.breach(
                RULE, "lift_share", visit=visit, line=work.line, value=work.share_1rm, match=match.title
            )
    contacts = float(sum(work.contacts for work in visit.work))
    if contacts > scene.number(RULE, "contacts_24"):
        yield scene.breach(RULE, "contacts_24", visit=visit, value=contacts, match=match.title)


def _warned(scene: Scene, visit: Visit, work: Work, hours: float, why: str) -> Finding:
    limit = scene.number(RULE, "hard_h")
    return scene.breach(RULE, visit=visit, line=work.line, value=hours, limit=limit, unit="h", why=why)


def _too_far(scene: Scene, fast: list[Work]) -> bool:
    return any(work.run_m > scene.number(RULE, "primer_distance_m") for work in fast)


def _two_days(scene: Scene, visit: Visit, match: Event) -> Iterator[Finding]:
    fast = [work for work in visit.work if work.reaches(scene.number(RULE, "fast_share"))]
    runs = float(sum(work.repetitions for work in fast))
    contacts = float(sum(work.contacts for work in visit.work))
    for number, value in (("top_speed_runs_48", runs), ("contacts_48", contacts)):
        if value > scene.number(RULE, number):
            yield scene.breach(RULE, number, visit=visit, value=value, match=match.title)
