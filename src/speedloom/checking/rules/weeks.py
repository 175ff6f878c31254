"""D1 to D3, I1: lighter weeks, tapers, returns after a break, and the introduction week."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit, at
from speedloom.training.programme import Week

_KINDS = ("m", "sets")
_DAYS = 7
_NEARLY = 1e-6


def amounts(visits: Sequence[Visit]) -> dict[str, float]:
    """Count metres (run-ins included) and lifting sets of some sessions."""
    works = [work for visit in visits for work in visit.work]
    return {
        "m": sum(work.repetitions * work.run_m for work in works if work.is_run or work.is_sled),
        "sets": float(sum(work.line.sets for work in works if work.is_lift)),
    }


def _of_week(scene: Scene, person: Person, week: Week) -> dict[str, float]:
    return amounts([visit for visit in scene.visits_of[person.ref] if visit.week is week])


def deload_cut(scene: Scene) -> Iterator[Finding]:
    """Find deload weeks that cut too little or too much, and too many weeks without one."""
    for person in scene.people:
        weeks = person.programme.weeks
        for index, week in enumerate(weeks):
            if week.kind == "deload":
                yield from _cut(scene, person, week, _reference(scene, weeks, index))
        yield from _too_long(scene, person)


def _reference(scene: Scene, weeks: Sequence[Week], index: int) -> list[Week]:
    """Give the loading weeks a lighter week follows; the fullest of them is what it is lighter than."""
    back = _look_back(scene)
    before = [week for week in weeks[max(0, index - back - 1) : index] if week.kind == "loading"]
    return before[-back:]


def _look_back(scene: Scene) -> int:
    return int(scene.number("deload_cut", "look_back_weeks"))


def _cut(scene: Scene, person: Person, week: Week, reference: Sequence[Week]) -> Iterator[Finding]:
    before = [_of_week(scene, person, one) for one in reference]
    here = _of_week(scene, person, week)
    for kind in _KINDS:
        usual = max((one[kind] for one in before), default=0.0)
        if not usual or not here[kind]:
            continue
        cut = 1 - here[kind] / usual
        if cut < scene.number("deload_cut", "cut_low") - _NEARLY:
            yield at(scene.breach("deload_cut", "cut_low", value=cut, of=kind), person, week)
        elif cut > scene.number("deload_cut", "cut_high") + _NEARLY:
            yield at(scene.breach("deload_cut", "cut_high", value=cut, of=kind), person, week)


def _too_long(scene: Scene, person: Person) -> Iterator[Finding]:
    running = 0
    for week in person.programme.weeks:
        running = running + 1 if week.kind == "loading" else 0
        if running == scene.number("deload_cut", "every_high_weeks") + 1:
            yield at(scene.breach("deload_cut", "every_high_weeks", value=float(running)), person, week)


def taper(scene: Scene) -> Iterator[Finding]:
    """Find tapers that cut too little or too much on average."""
    if scene.brief is None or not scene.brief.phases.taper_days:
        return
    days = scene.brief.phases.taper_days
    for person in scene.people:
        for peak in scene.brief.goal.peaks:
            if peak.size == "main":
                yield from _one_taper(scene, person, peak.date, days)


def _one_taper(scene: Scene, person: Person, peak: date, days: int) -> Iterator[Finding]:
    first = peak - timedelta(days=days)
    visits = scene.visits_of[person.ref]
    inside = amounts([visit for visit in visits if first <= visit.day < peak])
    before = [week for week in person.programme.weeks if week.kind == "loading" and week.monday < first]
    usual = _fullest(scene, person, before[-_look_back(scene) :])["m"]
    week = next((one for one in person.programme.weeks if 0 <= (peak - one.monday).days < _DAYS), None)
    if not usual or not inside["m"] or week is None:
        return
    cut = 1 - inside["m"] * _DAYS / days / usual
    if cut < scene.number("taper", "cut_low") - _NEARLY:
        yield at(scene.breach("taper", "cut_low", value=cut), person, week)
    elif cut > scene.number("taper", "cut_high") + _NEARLY:
        yield at(scene.breach("taper", "cut_high", value=cut), person, week)


def return_after_break(scene: Scene) -> Iterator[Finding]:
    """Find the first four weeks after two or more weeks off that hold too much."""
    for person in scene.people:
        for first, usual in _returns(scene, person):
            for cut_week in range(scene.book.steps("return_after_break", "cut")):
                week = _numbered(person, first + cut_week)
                if week is not None and week.kind != "break":
                    here = _of_week(scene, person, week)
                    yield from _too_much(scene, person, week, f"cut_{cut_week + 1}", (here, usual))
        yield from _just_back(scene, person)


def _just_back(scene: Scene, person: Person) -> Iterator[Finding]:
    """Find first seven days after nine days or more (but no full break) that hold as much as a usual week."""
    short = scene.number("return_after_break", "short_days")
    off = scene.number("return_after_break", "weeks_off") * _DAYS
    visits = scene.visits_of[person.ref]
    for earlier, later in pairwise(visits):
        if short < (later.day - earlier.day).days <= off:
            weeks = [week for week in person.programme.weeks if week.number <= earlier.week.number]
            before = [week for week in weeks if week.kind == "loading"]
            usual = _fullest(scene, person, before[-_look_back(scene) :])
            here = amounts([visit for visit in visits if 0 <= (visit.day - later.day).days < _DAYS])
            yield from _too_much(scene, person, later.week, "short_cut", (here, usual))


def _numbered(person: Person, number: int) -> Week | None:
    return next((week for week in person.programme.weeks if week.number == number), None)


def _returns(scene: Scene, person: Person) -> Iterator[tuple[int, dict[str, float]]]:
    """Give the first week after each break, and what the athlete does in a usual week.

    A usual week is the fullest of the last four loading weeks before the break; at the start of a programme
    it is the fullest from week 5 on, or of all where it is shorter.
    """
    off = scene.number("return_after_break", "weeks_off")
    weeks, visits = person.programme.weeks, scene.visits_of[person.ref]
    if person.entry is not None and person.entry.weeks_off >= off and weeks:
        yield weeks[0].number, _fullest(scene, person, weeks[4:] or weeks)
    for earlier, later in pairwise(visits):
        if (later.day - earlier.day).days > off * _DAYS:
            before = [week for week in weeks if week.kind == "loading" and week.number <= earlier.week.number]
            yield later.week.number, _fullest(scene, person, before[-_look_back(scene) :])


def _fullest(scene: Scene, person: Person, weeks: Sequence[Week]) -> dict[str, float]:
    counted = [_of_week(scene, person, week) for week in weeks]
    return {kind: max((one[kind] for one in counted), default=0.0) for kind in _KINDS}


def _too_much(
    scene: Scene, person: Person, week: Week, number: str, amounts_of: tuple[dict[str, float], ...]
) -> Iterator[Finding]:
    here, usual = amounts_of
    for kind in _KINDS:
        cut = 1 - here[kind] / usual[kind] if usual[kind] else 1.0
        if cut < scene.number("return_after_break", number) - _NEARLY:
            yield at(scene.breach("return_after_break", number, value=cut, of=kind), person, week)


def introduction_week(scene: Scene) -> Iterator[Finding]:
    """Find too hard work in the first week of an athlete who does not come straight from training."""
    for visit in scene.visits:
        trained = visit.person.entry is not None and visit.person.entry.in_training
        if visit.week is visit.person.programme.weeks[0] and not trained:
            for work in visit.work:
                yield from _too_hard(scene, visit, work)


def _too_hard(scene: Scene, visit: Visit, work: Work) -> Iterator[Finding]:
    rule, line = "introduction_week", work.line
    if work.is_run and work.share > scene.number(rule, "share") + _NEARLY:
        yield scene.breach(rule, "share", visit=visit, line=line, value=work.share)
    if work.is_sled and (line.decrement or 0.0) > scene.number(rule, "decrement"):
        yield scene.breach(rule, "decrement", visit=visit, line=line, value=line.decrement)
    strength = line.method in {"maximal_strength", "general_strength"}
    if strength and line.rir is not None and line.rir < scene.number(rule, "rir"):
        yield scene.breach(rule, "rir", visit=visit, line=line, value=float(line.rir))
