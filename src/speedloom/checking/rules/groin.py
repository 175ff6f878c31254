"""G1, G2, N1: Nordics, Copenhagens, and a hamstring set and a fast run in each loading week."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.exposure import is_exposure, spared
from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.checking.rules.matches import hours_before, meetings
from speedloom.checking.scene import Scene, Visit, at
from speedloom.training.programme import Week

_TRAINING = ("loading", "in_season")


def _is_nordic(work: Work) -> bool:
    return work.slot == "nordic" and "isometric" not in work.tags


def _nordic_reps(visit: Visit) -> int:
    return sum(work.repetitions for work in visit.work if _is_nordic(work))


def nordic_ramp(scene: Scene) -> Iterator[Finding]:
    """Find weeks with more Nordics than the ramp has for that week."""
    for person in scene.people:
        weekly: dict[int, int] = {}
        for visit in scene.visits_of[person.ref]:
            reps = _nordic_reps(visit)
            if reps:
                weekly[visit.week.number] = weekly.get(visit.week.number, 0) + reps
        last = scene.book.steps("nordic_ramp", "week")
        for week in person.programme.weeks:
            number = f"week_{min(week.number - min(weekly, default=1) + 1, last)}"
            reps = weekly.get(week.number, 0)
            if reps and reps > scene.number("nordic_ramp", number):
                yield at(scene.breach("nordic_ramp", number, value=float(reps)), person, week)


def copenhagen(scene: Scene) -> Iterator[Finding]:
    """Find fewer groin sessions a week than the trial had; once an athlete for each part of the year."""
    for person in scene.people:
        for number, kind in (("pre_season", "loading"), ("in_season", "in_season")):
            weeks = [week for week in person.programme.weeks if week.kind == kind]
            sessions = sum(_groin(scene, person, week) for week in weeks)
            least = scene.number("copenhagen", number)
            if weeks and sessions / len(weeks) < least:
                yield at(scene.breach("copenhagen", number, value=sessions / len(weeks)), person)


def _groin(scene: Scene, person: Person, week: Week) -> int:
    return sum(
        any(work.slot == "groin" for work in visit.work)
        for visit in scene.visits_of[person.ref]
        if visit.week is week
    )


def hamstring_week(scene: Scene) -> Iterator[Finding]:
    """Find loading weeks without a hamstring set or a fast run, and new Nordics too close to a match."""
    for person in scene.people:
        for week in person.programme.weeks:
            visits = [visit for visit in scene.visits_of[person.ref] if visit.week is week]
            if week.kind in _TRAINING and visits:
                yield from _lacking(scene, person, week, visits)
        yield from _near_match(scene, person)


def _lacking(scene: Scene, person: Person, week: Week, visits: list[Visit]) -> Iterator[Finding]:
    sets = sum(work.line.sets for visit in visits for work in visit.work if _for_hamstrings(work))
    if sets < scene.number("hamstring_week", "sets"):
        yield at(scene.breach("hamstring_week", "sets", value=float(sets)), person, week)
    share = scene.number("hamstring_week", "share")
    works = [work for visit in visits for work in visit.work if is_exposure(work, share)]
    runs = sum(work.repetitions for work in works)
    healthy = any(not spared(person, visit.day, share) for visit in visits)
    if healthy and runs < scene.number("hamstring_week", "runs"):
        yield at(scene.breach("hamstring_week", "runs", value=float(runs)), person, week)


def _for_hamstrings(work: Work) -> bool:
    return work.line.method == "hamstring_groin_calf" and (work.exercise is None or "hamstring" in work.tags)


def _near_match(scene: Scene, person: Person) -> Iterator[Finding]:
    """Find Nordics that are new, or more than ever before, shortly before a match or peak."""
    gap = scene.number("hamstring_week", "match_gap_h")
    ahead = meetings(scene)
    most = 0
    for visit in scene.visits_of[person.ref]:
        reps = _nordic_reps(visit)
        hours = [hours_before(visit, match) for match in ahead]
        near = min((each for each in hours if each >= 0), default=gap)
        if reps > most and near < gap:
            yield scene.breach("hamstring_week", "match_gap_h", visit=visit, value=near)
        most = max(most, reps)
