"""X9, X10: every number has a derivation, and every step of it gives the same value again."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

from speedloom.checking.fields import Held, held_numbers
from speedloom.checking.finding import Finding
from speedloom.checking.inputs import Inputs
from speedloom.checking.recompute.nodes import Again, recompute
from speedloom.checking.rules.own_numbers import strangers
from speedloom.checking.scene import Scene, at
from speedloom.checking.volumes import volumes
from speedloom.training.programme import Node

_RELATIVE = 6e-6
"""Half of the sixth digit, in which nodes are stored, at its largest."""
_ABSOLUTE = 1e-9
_LOOSE: Mapping[str, float] = {
    "profile.fit": 5e-5,
    "profile.fit_trace": 5e-5,
    "expect.profile_spread": 2e-4,
    "expect.friction_spread": 2e-4,
}
"""Found by iteration or from small differences, so that the last digits may differ."""


@dataclass(frozen=True)
class Fault:
    """A node that does not hold what its inputs give."""

    node: Node
    wanted: float | str | None
    why: str


def derivation(scene: Scene) -> Iterator[Finding]:
    """Find nodes that do not hold what their inputs give, and numbers that are not their node's."""
    nodes = scene.programme.basis
    if not nodes:
        return
    inputs = Inputs(nodes, scene.brief, scene.book, scene.lines_over)
    held = tuple(held_numbers(scene))
    judged = tuple(one for one in held if not _over(scene, one))
    past = under(nodes, _named(scene, over=True)) - under(nodes, _named(scene, over=False))
    rule = scene.brief.trial if scene.brief else "best"
    refs = [ref for ref in nodes if ref not in past]
    faults = dict(_faults(inputs, recompute(inputs, rule=rule, refs=refs)))
    # One wrong step makes all that rest on it wrong: the first in the chain is named, where it is first used.
    causes = {ref: fault for ref, fault in faults.items() if not _rests_on(fault.node, faults)}
    for ref, fault in causes.items():
        yield _placed(scene, ref, fault, _first_use(ref, nodes, held))
    for one in held:
        node = nodes.get(one.node)
        if one.node and (node is None or not one.equals(node.value)):
            yield _differs(scene, one, node)
    yield from strangers(scene, inputs, judged)
    yield from _miscounted(scene)


def _over(scene: Scene, held: Held) -> bool:
    """Say whether a number belongs to a day that is over: its brief may have been another."""
    day = held.session.date if held.session else held.week.monday + timedelta(days=6)
    return scene.is_over(day)


def _named(scene: Scene, *, over: bool) -> Iterator[str]:
    """Give the nodes that weeks, sessions and lines name, of days that are over or of all others."""
    for person in scene.people:
        for week in person.programme.weeks:
            if scene.is_over(week.monday + timedelta(days=6)) == over:
                yield from week.basis.values()
            for session in week.sessions:
                if scene.is_over(session.date) == over:
                    yield from session.basis.values()
                    yield from (ref for line in session.prescriptions for ref in line.basis.values())


def under(nodes: Mapping[str, Node], named: Iterable[str]) -> set[str]:
    """Give these nodes and all that they rest on."""
    found: set[str] = set()
    waiting = [ref for ref in named if ref in nodes]
    while waiting:
        ref = waiting.pop()
        if ref not in found:
            found.add(ref)
            waiting += [path for path in nodes[ref].inputs.values() if path in nodes]
    return found


def _faults(inputs: Inputs, computed: Iterable[Again]) -> Iterator[tuple[str, Fault]]:
    for again in computed:
        node = inputs.nodes[again.ref]
        if again.fault:
            yield again.ref, Fault(node, None, again.fault)
        elif not _same(node.value, again.value, node.by):
            yield again.ref, Fault(node, again.value, "value")
        elif again.low is not None and not _same_band(node, again):
            yield again.ref, Fault(node, f"{again.low:.6g} to {again.high:.6g}", "band")


def _same_band(node: Node, again: Again) -> bool:
    return _same(node.low, again.low, node.by) and _same(node.high, again.high, node.by)


def _same(stored: object, computed: object, formula: str) -> bool:
    if not isinstance(stored, int | float) or not isinstance(computed, int | float):
        return stored == computed
    size = max(abs(stored), abs(computed))
    return abs(stored - computed) <= _LOOSE.get(formula, _RELATIVE) * size + _ABSOLUTE


def _rests_on(node: Node, refs: Container[str]) -> bool:
    return any(path in refs for path in node.inputs.values())


def _first_use(ref: str, nodes: Mapping[str, Node], held: Iterable[Held]) -> Held | None:
    """Give the first number, in the order of the document, that rests on a node."""
    resting = {ref}
    grown = True
    while grown:
        more = {other for other, node in nodes.items() if other not in resting and _rests_on(node, resting)}
        resting |= more
        grown = bool(more)
    return next((one for one in held if one.node in resting), None)


def _placed(scene: Scene, ref: str, fault: Fault, use: Held | None) -> Finding:
    bare = scene.breach(
        "derivation",
        value=fault.node.value,
        limit=fault.wanted,
        unit=fault.node.unit,
        node=ref,
        quantity=fault.node.quantity,
        by=fault.node.by,
        why=fault.why,
    )
    if use is None:
        return bare
    placed = at(bare, use.person, use.week, use.session)
    return replace(placed, number=use.field, line=use.line.ref if use.line else None)


def _differs(scene: Scene, held: Held, node: Node | None) -> Finding:
    bare = scene.breach(
        "derivation",
        value=held.value,
        limit=None if node is None else node.value,
        unit="" if node is None else node.unit,
        line=held.line,
        node=held.node,
        why="no such node" if node is None else "the number is not its node's value",
    )
    return replace(at(bare, held.person, held.week, held.session), number=held.field)


def _miscounted(scene: Scene) -> Iterator[Finding]:
    """Find weekly volumes and contacts that are not what the lines hold, counted here."""
    for person in scene.people:
        for week in person.programme.weeks:
            counted = volumes(
                work for session in week.sessions for work in scene.works(person, week, session)
            )
            for key, volume in week.volumes.items():
                if not _same(volume.planned, counted.get(key, 0.0), ""):
                    bare = scene.breach(
                        "derivation",
                        value=volume.planned,
                        limit=counted.get(key, 0.0),
                        unit=volume.unit,
                        why="count",
                    )
                    yield replace(at(bare, person, week), number=f"volumes.{key}")
    for visit, work in scene.lines:
        counted_contacts = work.counted_contacts
        written = work.line.contacts
        if work.line.method == "plyometric" and counted_contacts and written != counted_contacts:
            bare = scene.breach(
                "derivation",
                value=written,
                limit=counted_contacts,
                visit=visit,
                line=work.line,
                unit="contacts",
                why="count",
            )
            yield replace(bare, number="contacts")


def basis_present(scene: Scene) -> Iterator[Finding]:
    """Find numbers without a derivation; a document without any is named once."""
    if not scene.programme.basis:
        yield scene.breach("basis_present", why="none")
        return
    for held in held_numbers(scene):
        if not held.node:
            bare = scene.breach("basis_present", value=held.value, line=held.line, field=held.field)
            yield at(bare, held.person, held.week, held.session)
