"""S8, P2, X14: days of hard work lie far enough apart, counted from start to start."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from speedloom.checking.finding import Finding
from speedloom.checking.people import Person
from speedloom.checking.rules.jumps import has_jumps
from speedloom.checking.scene import Scene, Visit


def _neighbours(scene: Scene, counts: Callable[[Visit], bool]) -> Iterator[tuple[Visit, Visit]]:
    """Give each athlete's neighbouring sessions of one sort."""
    for visits in scene.visits_of.values():
        yield from pairwise([visit for visit in visits if counts(visit)])


def sprint_gap(scene: Scene) -> Iterator[Finding]:
    """Find fast days too close to the fast day before."""
    fast = scene.number("sprint_gap", "fast_share")

    def is_fast(visit: Visit) -> bool:
        return any(work.reaches(fast) for work in visit.work)

    for earlier, later in _neighbours(scene, is_fast):
        gap = later.hours_since(earlier)
        number = _sprint_number(scene, gap, earlier)
        if number:
            yield scene.breach("sprint_gap", number, visit=later, value=gap, after=earlier.session.ref)


def _sprint_number(scene: Scene, gap: float, earlier: Visit) -> str:
    if gap < scene.number("sprint_gap", "hard_gap_h"):
        return "hard_gap_h"
    if gap < scene.number("sprint_gap", "gap_h"):
        return "gap_h"
    flat_out = any(work.line.run == "top_speed" and work.is_maximal for work in earlier.work)
    close = gap < scene.number("sprint_gap", "top_speed_gap_h")
    return "top_speed_gap_h" if flat_out and close else ""


def plyometric_gap(scene: Scene) -> Iterator[Finding]:
    """Find plyometric days too close together; the long gap is asked for after shock jumps only."""
    for earlier, later in _neighbours(scene, has_jumps):
        gap = later.hours_since(earlier)
        if gap < scene.number("plyometric_gap", "gap_h"):
            yield scene.breach("plyometric_gap", "gap_h", visit=later, value=gap, after=earlier.session.ref)
        elif gap < scene.number("plyometric_gap", "long_gap_h") and _shock(earlier):
            yield scene.breach(
                "plyometric_gap", "long_gap_h", visit=later, value=gap, after=earlier.session.ref
            )


def _shock(visit: Visit) -> bool:
    return any("shock" in work.tags for work in visit.work)


def two_hard_days(scene: Scene) -> Iterator[Finding]:
    """Find hard days on days that follow each other, for novices and athletes under 16."""
    most = int(scene.number("two_hard_days", "days_high"))
    for person in scene.people:
        days = [visit for visit in scene.visits_of[person.ref] if _hard(scene, visit)]
        running = 1
        for earlier, later in pairwise(days):
            apart = (later.day - earlier.day).days
            running = running + 1 if apart == 1 else running if apart == 0 else 1
            if running > most and apart == 1 and _spared(scene, person, later):
                yield scene.breach("two_hard_days", "days_high", visit=later, value=float(running))


def _spared(scene: Scene, person: Person, visit: Visit) -> bool:
    young = person.under(scene.number("two_hard_days", "age_years"), visit.day)
    return young or person.level("unloaded_sprint") == "novice"


def _hard(scene: Scene, visit: Visit) -> bool:
    """Say whether a day is hard: a fast run, a sled, or a main lift closer to failure than a novice's."""
    fast = scene.number("sprint_gap", "fast_share")
    spare = scene.number("main_lift_dose", "rir_novice_week_4")
    return any(
        work.reaches(fast)
        or (work.is_sled and work.line.load_kg is not None)
        or (work.line.method == "maximal_strength" and work.line.rir is not None and work.line.rir < spare)
        for work in visit.work
    )
