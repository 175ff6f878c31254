"""S10, S11: near-top-speed runs often enough, and rises of fast metres and contacts from week to week."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import timedelta

from speedloom.checking.exposure import is_exposure, spared
from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit, at
from speedloom.training.programme import Week

_RUNNING_EVENTS = ("match", "competition", "test")


def top_speed_exposure(scene: Scene) -> Iterator[Finding]:
    """Find stretches of training without a near-top-speed run, and too few or too many of them at a time."""
    rule = "top_speed_exposure"
    share = scene.number(rule, "share")
    for person in scene.people:
        yield from _stretches(scene, person, share)
        for visit in scene.visits_of[person.ref]:
            runs = _top_speed_runs(visit, share)
            if runs and runs < scene.number(rule, "runs_low"):
                yield scene.breach(rule, "runs_low", visit=visit, value=float(runs))
            elif runs > scene.number(rule, "runs_high"):
                yield scene.breach(rule, "runs_high", visit=visit, value=float(runs))


def _top_speed_runs(visit: Visit, share: float) -> int:
    runs = [work for work in visit.work if work.line.run == "top_speed" and is_exposure(work, share)]
    return sum(work.repetitions for work in runs)


def _stretches(scene: Scene, person: Person, share: float) -> Iterator[Finding]:
    most = scene.number("top_speed_exposure", "days")
    fast = {
        visit.day
        for visit in scene.visits_of[person.ref]
        if any(is_exposure(work, share) for work in visit.work)
    }
    without = 0
    for week in person.programme.weeks[1:]:
        for weekday in range(7):
            day = week.monday + timedelta(days=weekday)
            if day in fast or _runs_elsewhere(scene, day):
                without = 0
            elif week.kind != "break" and not spared(person, day, share) and not _absent(scene, person, week):
                without += 1
            if without > most:
                yield at(scene.breach("top_speed_exposure", "days", value=float(without)), person, week)
                without = 0


def _runs_elsewhere(scene: Scene, day: object) -> bool:
    events = scene.brief.events if scene.brief else ()
    return any(event.kind in _RUNNING_EVENTS and event.date == day for event in events)


def _absent(scene: Scene, person: Person, week: Week) -> bool:
    return not any(visit.week is week for visit in scene.visits_of[person.ref])


def fast_metres_rise(scene: Scene) -> Iterator[Finding]:
    """Find weeks whose fast metres rise too far above the best of the last weeks."""
    share = scene.number("fast_metres_rise", "share")
    yield from _rises(scene, "fast_metres_rise", "metres", lambda work: work.metres_from(share))


def contacts_rise(scene: Scene) -> Iterator[Finding]:
    """Find weeks whose contacts rise too far above the best of the last weeks."""
    yield from _rises(scene, "contacts_rise", "contacts", lambda work: float(work.contacts))


def _rises(scene: Scene, rule: str, number: str, count: Callable[[Work], float]) -> Iterator[Finding]:
    rise, step = scene.number(rule, "rise"), scene.number(rule, number)
    back = int(scene.number(rule, "weeks"))
    for person in scene.people:
        totals = _weekly(scene, person, count)
        weeks = person.programme.weeks
        for index, week in enumerate(weeks):
            # An introduction or a break says nothing about what the athlete is used to.
            before = [
                totals[one.number] for one in weeks[max(0, index - back) : index] if one.kind == "loading"
            ]
            best = max(before, default=0.0)
            limit = max(best * (1 + rise), best + step)
            if best and totals[week.number] > limit:
                value = totals[week.number]
                yield at(
                    scene.breach(rule, "rise", value=value, limit=limit, unit=_UNITS[number]), person, week
                )


_UNITS = {"metres": "m", "contacts": "contacts"}


def _weekly(scene: Scene, person: Person, count: Callable[[Work], float]) -> Mapping[int, float]:
    totals = dict.fromkeys((week.number for week in person.programme.weeks), 0.0)
    for visit in scene.visits_of[person.ref]:
        totals[visit.week.number] += sum(count(work) for work in visit.work)
    return totals
