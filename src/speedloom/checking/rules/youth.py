"""Y1, Y3: lifting days, loads and the adult of athletes under 16."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit, at
from speedloom.training.programme import Week


def _lifts(visit: Visit) -> bool:
    return any(
        work.line.method in {"maximal_strength", "general_strength"}
        or (work.line.method == "power" and bool(work.line.load_kg))
        for work in visit.work
    )


def youth_lifting(scene: Scene) -> Iterator[Finding]:
    """Find lifting days that follow each other, too many of them, or too few, for athletes under 16."""
    years = scene.number("youth_lifting", "age_years")
    for person in scene.people:
        days = [
            visit for visit in scene.visits_of[person.ref] if _lifts(visit) and person.under(years, visit.day)
        ]
        for earlier, later in pairwise(days):
            if (later.day - earlier.day).days == 1:
                yield scene.breach("youth_lifting", "consecutive", visit=later, value=1.0)
        yield from _a_week(scene, person, days)


def _a_week(scene: Scene, person: Person, days: list[Visit]) -> Iterator[Finding]:
    few: list[tuple[float, Week]] = []
    for week in person.programme.weeks:
        lifted = float(len({visit.day for visit in days if visit.week is week}))
        if lifted > scene.number("youth_lifting", "sessions_high"):
            yield at(scene.breach("youth_lifting", "sessions_high", value=lifted), person, week)
        elif 0 < lifted < scene.number("youth_lifting", "sessions_low") and week.kind == "loading":
            few.append((lifted, week))
    if few:
        found = scene.breach("youth_lifting", "sessions_low", value=few[0][0], weeks=str(len(few)))
        yield at(found, person, few[0][1])


def youth_load(scene: Scene) -> Iterator[Finding]:
    """Find lifts above 80 %, to failure, or for one repetition, for athletes under 16."""
    years = scene.number("youth_load", "age_years")
    for visit, work in scene.lines:
        if work.is_lift and work.person.under(years, visit.day):
            yield from _too_heavy(scene, visit, work)


def _too_heavy(scene: Scene, visit: Visit, work: Work) -> Iterator[Finding]:
    line = work.line
    share = work.share_1rm
    if share is not None and share > scene.number("youth_load", "share"):
        yield scene.breach("youth_load", "share", visit=visit, line=line, value=share)
    if line.rir is not None and line.rir < scene.number("youth_load", "rir"):
        yield scene.breach("youth_load", "rir", visit=visit, line=line, value=float(line.rir))
    if line.method == "maximal_strength" and line.reps == 1 and line.load_kg:
        yield scene.breach(
            "youth_load", visit=visit, line=line, value=1.0, limit=2.0, unit="reps", why="one_rep_max"
        )


def adult_named(scene: Scene) -> Iterator[Finding]:
    """Find a programme for athletes under 16 that names no responsible adult; once a document."""
    years = scene.number("adult_named", "age_years")
    if scene.brief is None or scene.brief.responsible_adult:
        return
    young = [person for person in scene.people if _young(scene, person, years)]
    if young:
        yield at(scene.breach("adult_named", "age_years", value=float(len(young)), unit="athletes"), young[0])


def _young(scene: Scene, person: Person, years: float) -> bool:
    visits = scene.visits_of[person.ref]
    return bool(visits) and person.under(years, visits[0].day)
