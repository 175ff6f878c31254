"""R1 to R5: resisted sprints by their decrement, length, metres, rest and usual kilograms."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from speedloom.checking.finding import Finding
from speedloom.checking.full_weeks import lower_ends_hold
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit

_BANDS = (10, 25, 50, 75)
_PUSH = "push_sled"


def sled_session(scene: Scene) -> Iterator[Finding]:
    """Find resisted runs outside the length, the metres a session or the rest of the rule."""
    rule = "sled_session"
    for visit in scene.visits:
        runs = [work for work in visit.work if work.is_sled]
        total = sum(work.metres for work in runs)
        for work in runs:
            yield from _long(scene, visit, work)
        if total > scene.number(rule, "session_high_m"):
            yield scene.breach(rule, "session_high_m", visit=visit, value=total)
        if runs and lower_ends_hold(scene, visit):
            yield from _short(scene, visit, runs, total)


def _long(scene: Scene, visit: Visit, work: Work) -> Iterator[Finding]:
    values = {"distance_high_m": work.line.distance_m, "rest_high_s": work.line.rest_reps_s}
    for number, value in values.items():
        if value is not None and value > scene.number("sled_session", number):
            yield scene.breach("sled_session", number, visit=visit, line=work.line, value=float(value))


def _short(scene: Scene, visit: Visit, runs: list[Work], total: float) -> Iterator[Finding]:
    for work in runs:
        values = {"distance_low_m": work.line.distance_m, "rest_low_s": work.line.rest_reps_s}
        for number, value in values.items():
            if value is not None and value < scene.number("sled_session", number):
                yield scene.breach("sled_session", number, visit=visit, line=work.line, value=float(value))
    if total < scene.number("sled_session", "session_low_m"):
        yield scene.breach("sled_session", "session_low_m", visit=visit, value=total)


def sled_heavy_caution(scene: Scene) -> Iterator[Finding]:
    """Find heavy sleds for a novice, in an introduction week, or in the last days before a peak."""
    heavy = scene.number("sled_heavy_caution", "decrement")
    for visit, work in scene.lines:
        decrement = work.line.decrement
        if not work.is_sled or decrement is None or decrement <= heavy:
            continue
        why = _caution(scene, visit)
        if why:
            yield scene.breach(
                "sled_heavy_caution", "decrement", visit=visit, line=work.line, value=decrement, why=why
            )


def _caution(scene: Scene, visit: Visit) -> str:
    if visit.person.level("resisted_sprint") == "novice":
        return "novice"
    if visit.week.kind == "introduction":
        return "introduction"
    days = timedelta(days=scene.number("sled_heavy_caution", "days_before_peak"))
    peaks = scene.brief.goal.peaks if scene.brief else ()
    near = any(visit.day <= peak.date <= visit.day + days for peak in peaks)
    return "peak" if near else ""


def sled_by_decrement(scene: Scene) -> Iterator[Finding]:
    """Find sled loads that say nothing about how much they slow the athlete."""
    for visit, work in scene.lines:
        line = work.line
        if work.is_sled and line.load_kg and line.decrement is None and line.effort is None:
            share = line.load_kg / work.person.mass_kg if work.person.mass_kg else None
            yield scene.breach("sled_by_decrement", visit=visit, line=line, value=share, unit="share")


def sled_pull_bands(scene: Scene) -> Iterator[Finding]:
    """Find pulled loads outside the usual share of body mass for their decrement."""
    for visit, work in scene.lines:
        if _PUSH not in work.tags:
            yield from _outside_band(scene, "sled_pull_bands", visit, work)


def sled_push_bands(scene: Scene) -> Iterator[Finding]:
    """Find pushed loads outside the usual share of body mass for their decrement."""
    for visit, work in scene.lines:
        if _PUSH in work.tags:
            yield from _outside_band(scene, "sled_push_bands", visit, work)


def _outside_band(scene: Scene, rule: str, visit: Visit, work: Work) -> Iterator[Finding]:
    line, mass = work.line, work.person.mass_kg
    if not work.is_sled or line.decrement is None or not line.load_kg or not mass:
        return
    share = line.load_kg / mass
    reach = scene.number(rule, "decrement_near")
    near = [band for band in _BANDS if abs(line.decrement - band / 100) <= reach]
    for band in near:
        low, high = f"decrement_{band}_low", f"decrement_{band}_high"
        if not scene.book.has(rule, low):
            return
        if share < scene.number(rule, low):
            yield scene.breach(rule, low, visit=visit, line=line, value=share)
        elif share > scene.number(rule, high):
            yield scene.breach(rule, high, visit=visit, line=line, value=share)
