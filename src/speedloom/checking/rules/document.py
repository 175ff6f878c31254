"""X8: references are unique, dates lie inside their weeks, and what is named exists."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from speedloom.checking.finding import Finding
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit, at
from speedloom.training.calendar import week_number
from speedloom.training.programme import Node, Prescription, Session
from speedloom.training.rule import RuleNumber

RULE = "document_sound"
_DAYS = 7


def document_sound(scene: Scene) -> Iterator[Finding]:
    """Find references, dates and names that do not hold together."""
    yield from _references(scene)
    for person in scene.people:
        yield from _weeks(scene, person)
    for visit in scene.visits:
        yield from _session(scene, visit)
    yield from _circles(scene)
    yield from _loosened(scene)


def _references(scene: Scene) -> Iterator[Finding]:
    athletes = Counter(person.ref for person in scene.people)
    yield from (_said(scene, "athlete_twice", ref) for ref, count in athletes.items() if count > 1)
    known = {athlete.ref for athlete in scene.brief.athletes} if scene.brief else set()
    for person in scene.people:
        if known and person.ref not in known and not _left(scene, person):
            yield at(_said(scene, "athlete_unknown", person.ref), person)
        refs = Counter(_refs(person))
        for ref, count in sorted(refs.items()):
            if count > 1:
                yield at(_said(scene, "ref_twice", ref), person)
            if ref in person.programme.retired:
                yield at(_said(scene, "ref_retired", ref), person)
            if not _own(ref, person):
                yield at(_said(scene, "ref_form", ref), person)


def _left(scene: Scene, person: Person) -> bool:
    """Say whether somebody left the squad: all their days are over."""
    sessions = [session for week in person.programme.weeks for session in week.sessions]
    frozen = scene.programme.revision.frozen_until
    return frozen is not None and all(scene.is_over(session.date) for session in sessions)


def _refs(person: Person) -> Iterator[str]:
    for week in person.programme.weeks:
        for session in week.sessions:
            yield session.ref
            yield from (line.ref for line in session.prescriptions)


def _own(ref: str, person: Person) -> bool:
    """Say whether a reference is the athlete's, with a number that was given out."""
    athlete, _, number = ref.rpartition("-")
    return athlete == person.ref and number.isdigit() and int(number) < person.programme.next_ref


def _said(scene: Scene, what: str, value: str, *, limit: str | None = None) -> Finding:
    return scene.breach(RULE, value=value, limit=limit, what=what)


def _weeks(scene: Scene, person: Person) -> Iterator[Finding]:
    weeks = person.programme.weeks
    start = scene.brief.start if scene.brief else (weeks[0].monday if weeks else None)
    for index, week in enumerate(weeks):
        first = week.monday.weekday() == 0
        follows = index == 0 or week.number == weeks[index - 1].number + 1
        first_number = weeks[0].number if scene.brief is None else 1
        right = start is None or week.number == week_number(week.monday, start=start) + first_number - 1
        if not (first and follows and right):
            yield at(_said(scene, "week", week.monday.isoformat()), person, week)


def _session(scene: Scene, visit: Visit) -> Iterator[Finding]:
    session = visit.session
    if not 0 <= (session.date - visit.week.monday).days < _DAYS:
        yield _about(
            scene, visit, "date_outside_week", session.date.isoformat(), limit=visit.week.monday.isoformat()
        )
    if scene.brief is not None and not scene.is_over(session.date):
        yield from _named(scene, visit)
    for line in session.prescriptions:
        yield from _line(scene, visit, line)


def _about(
    scene: Scene,
    visit: Visit,
    what: str,
    value: str,
    *,
    line: Prescription | None = None,
    limit: str | None = None,
) -> Finding:
    return scene.breach(RULE, visit=visit, line=line, value=value, limit=limit, what=what)


def _named(scene: Scene, visit: Visit) -> Iterator[Finding]:
    session = visit.session
    if session.place not in scene.places:
        yield _about(scene, visit, "place_unknown", session.place)
    if session.slot is None or scene.brief is None:
        return
    slot = next((one for one in scene.brief.slots if one.ref == session.slot), None)
    if slot is None:
        yield _about(scene, visit, "slot_unknown", session.slot)
        return
    # What the coach has set by hand has a node that says so; the slot is then where it came from.
    day = slot.open or slot.on(visit.week.monday) == session.date or "date" in session.basis
    start = slot.start == session.start or "start" in session.basis
    if not (day and start and slot.holds(session.date) and slot.place == session.place):
        yield _about(scene, visit, "slot_differs", session.slot, limit=f"{slot.day} {slot.start:%H:%M}")


def _line(scene: Scene, visit: Visit, line: Prescription) -> Iterator[Finding]:
    for name in line.locked:
        if not _has(line, name):
            yield _about(scene, visit, "locked_unknown", name, line=line)
    if line.pair is not None and line.pair not in _line_refs(visit.session):
        yield _about(scene, visit, "pair_unknown", line.pair, line=line)
    known = scene.exercise(line.exercise)
    if (
        line.purpose == "work"
        and scene.brief is not None
        and known is None
        and not _own_exercise(scene, line)
    ):
        yield _about(scene, visit, "exercise_unknown", line.exercise, line=line)


def _has(line: Prescription, name: str) -> bool:
    owner, dot, field = name.partition(".")
    if not dot:
        return name in type(line).model_fields
    part = getattr(line, owner, None)
    return part is not None and field in type(part).model_fields


def _line_refs(session: Session) -> set[str]:
    return {line.ref for line in session.prescriptions}


def _own_exercise(scene: Scene, line: Prescription) -> bool:
    own = scene.brief.own_lines if scene.brief else ()
    return any(line.exercise == one.exercise for one in own)


def _circles(scene: Scene) -> Iterator[Finding]:
    """Find derivations that rest on themselves."""
    nodes = scene.programme.basis
    done: set[str] = set()
    for ref in nodes:
        if _circular(nodes, ref, done):
            yield _said(scene, "basis_circle", ref)
            return


def _circular(nodes: Mapping[str, Node], start: str, done: set[str]) -> bool:
    """Walk down without recursion: derivations can be long."""
    path: list[tuple[str, Iterator[str]]] = [(start, _below(nodes, start))]
    open_refs = {start}
    while path:
        ref, below = path[-1]
        step = next((one for one in below if one not in done), None)
        if step is None:
            path.pop()
            open_refs.discard(ref)
            done.add(ref)
        elif step in open_refs:
            return True
        else:
            open_refs.add(step)
            path.append((step, _below(nodes, step)))
    return False


def _below(nodes: Mapping[str, Node], ref: str) -> Iterator[str]:
    return iter([path for path in nodes[ref].inputs.values() if path in nodes])


def _loosened(scene: Scene) -> Iterator[Finding]:
    """Find hard health rules that the brief loosens without a name."""
    for change in scene.brief.rules if scene.brief else ():
        try:
            rule = scene.book.rule(change.rule)
            number = rule.numbers[change.number]
        except KeyError:
            yield _said(scene, "rule_unknown", f"{change.rule}.{change.number}")
            continue
        hard = rule.health and (number.weight or rule.weight) == "hard"
        if hard and _looser(number, change.value) and not change.approved_by:
            yield _said(scene, "loosened_without_name", f"{change.rule}.{change.number}")


def _looser(number: RuleNumber, value: float) -> bool:
    return value > number.value if number.tighter == "lower" else value < number.value
