"""D4, X11 to X13: the order of a session, whole lines, a warm-up, and what exercises ask for first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit
from speedloom.training.words import COACH_METHODS, LEVELS, Level, LineMethod

_ORDER: Mapping[LineMethod, int] = {
    "unloaded_sprint": 0,
    "resisted_sprint": 1,
    "plyometric": 2,
    "power": 3,
    "maximal_strength": 4,
    "general_strength": 5,
    "hamstring_groin_calf": 5,
}
_LAST = 6
_CONDITIONING = ("tempo_run",)


def session_order(scene: Scene) -> Iterator[Finding]:
    """Find faster work after slower work; paired lines stand in their pair's order."""
    for visit in scene.visits:
        paired = {line.pair for line in visit.session.prescriptions} | {
            line.ref for line in visit.session.prescriptions if line.pair
        }
        before = 0
        for work in visit.work:
            rank = _rank(work)
            if rank is None or work.line.ref in paired:
                continue
            if rank < before:
                yield scene.breach("session_order", visit=visit, line=work.line, value=work.line.method)
            before = max(before, rank)


def _rank(work: Work) -> int | None:
    return _LAST if work.line.exercise in _CONDITIONING else _ORDER.get(work.line.method)


def line_complete(scene: Scene) -> Iterator[Finding]:
    """Find working lines without a rest, without what their load rests on, or without a stop."""
    for visit, work in scene.lines:
        if work.line.method in COACH_METHODS:
            continue
        for missing in _missing(work):
            yield scene.breach("line_complete", visit=visit, line=work.line, value=missing)


def _missing(work: Work) -> Iterator[str]:
    line = work.line
    if (work.is_run or work.is_sled) and line.reps > 1 and line.rest_reps_s is None:
        yield "rest_reps_s"
    if line.sets > 1 and line.rest_s is None:
        yield "rest_s"
    if not _load_explained(work):
        yield "load"
    if line.stop_rule is None:
        yield "stop_rule"


def _load_explained(work: Work) -> bool:
    """Say whether a load rests on a decrement, a share, repetitions in reserve, or effort."""
    line = work.line
    if work.is_sled:
        return line.decrement is not None or line.effort is not None
    asked = line.method == "maximal_strength" or bool(line.load_kg and work.is_lift)
    return not asked or any(known is not None for known in (line.share_1rm, line.rir, line.effort))


def warm_up_present(scene: Scene) -> Iterator[Finding]:
    """Find sessions that do not begin with a warm-up, or with one that is too short."""
    for visit in scene.visits:
        lines = visit.session.prescriptions
        if not visit.work:
            continue
        ready = [line for line in lines if line.purpose != "work"]
        minutes = sum(line.minutes for line in ready) if lines[0].purpose == "warm_up" else 0.0
        least = scene.number("warm_up_present", "share") * _default_minutes(scene, visit)
        if minutes < least:
            yield scene.breach(
                "warm_up_present", "share", visit=visit, value=minutes, limit=least, unit="min"
            )


def _default_minutes(scene: Scene, visit: Visit) -> float:
    """Give the default for field or gym; where the level is unknown, the shortest."""
    runs = any(work.is_run or work.is_sled for work in visit.work)
    level = visit.person.level("unloaded_sprint" if runs else "maximal_strength")
    kind = "field" if runs else "gym"
    levels = LEVELS if level is None else (level,)
    return min(scene.number("session_minutes", f"warm_up_{kind}_{each}") for each in levels)


def prerequisites_met(scene: Scene) -> Iterator[Finding]:
    """Find exercises above the athlete's level or below their age."""
    for visit, work in scene.lines:
        exercise = work.exercise
        if exercise is None:
            continue
        young = work.person.under(exercise.minimum_age_years, visit.day)
        if young and "shock" in work.tags:
            continue  # Shock jumps under 16 have a rule of their own.
        level = _level(work)
        if level is not None and LEVELS.index(exercise.level) > LEVELS.index(level):
            yield scene.breach(
                "prerequisites_met",
                visit=visit,
                line=work.line,
                value=level,
                limit=exercise.level,
                what="level",
            )
        if young:
            yield scene.breach(
                "prerequisites_met",
                visit=visit,
                line=work.line,
                limit=float(exercise.minimum_age_years),
                unit="years",
                what="age",
            )


def _level(work: Work) -> Level | None:
    if work.line.method in COACH_METHODS:
        return None
    return work.person.level(work.line.method) or work.person.highest_level
