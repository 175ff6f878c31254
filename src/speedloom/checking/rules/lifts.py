"""W1, W2, M1, M3, M4: shares of the one-repetition maximum, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.inputs import Inputs, UnresolvedError
from speedloom.checking.line import Work
from speedloom.checking.recompute.arguments import NotComputableError, number
from speedloom.checking.scene import Scene, Visit
from speedloom.training.programme import Node

_ESTIMATE = "one_rep_max.estimate"
_LOAD = ".load_kg"


def jump_squat_load(scene: Scene) -> Iterator[Finding]:
    """Find jump squats heavier than 30 %."""
    for visit, work in scene.lines:
        share = work.share_1rm
        if (
            work.slot == "jump_squat"
            and share is not None
            and share > scene.number("jump_squat_load", "share")
        ):
            yield scene.breach("jump_squat_load", "share", visit=visit, line=work.line, value=share)


def velocity_loss(scene: Scene) -> Iterator[Finding]:
    """Find stop rules that let a set slow down too far."""
    for visit, work in scene.lines:
        stop = work.line.stop_rule
        if stop is None or stop.kind != "velocity_loss" or stop.value is None:
            continue
        name = "sprint" if work.line.method == "power" else "other"
        if stop.value > scene.number("velocity_loss", name):
            yield scene.breach("velocity_loss", name, visit=visit, line=work.line, value=stop.value)


def strength_zone(scene: Scene) -> Iterator[Finding]:
    """Find main lifts of full days in loading weeks outside the zone; it is for trained athletes."""
    for visit, work in scene.lines:
        full = visit.week.kind == "loading" and visit.session.role != "faster"
        trained = work.person.level("maximal_strength") in {"intermediate", "advanced"}
        if work.line.method == "maximal_strength" and full and trained:
            yield from _outside(scene, visit, work)


def _outside(scene: Scene, visit: Visit, work: Work) -> Iterator[Finding]:
    line, rule = work.line, "strength_zone"
    late = visit.week.specificity > scene.number(rule, "specificity")
    lows: dict[str, float | None] = {
        "sets_low": line.sets,
        "rest_low_s": line.rest_s,
        "share" if late else "low_share": line.share_1rm,
    }
    highs: dict[str, float | None] = {
        "sets_high": line.sets,
        "rest_high_s": line.rest_s,
        "reps": line.reps if late else None,
    }
    if not late:
        highs["share"] = line.share_1rm
    for number_, value in lows.items():
        if value is not None and value < scene.number(rule, number_):
            yield scene.breach(rule, number_, visit=visit, line=line, value=float(value))
    for number_, value in highs.items():
        if value is not None and value > scene.number(rule, number_):
            yield scene.breach(rule, number_, visit=visit, line=line, value=float(value))


def one_rep_max_repetitions(scene: Scene) -> Iterator[Finding]:
    """Find one-repetition maxima estimated from too many repetitions."""
    inputs = Inputs(scene.programme.basis, scene.brief, scene.book)
    most = scene.number("one_rep_max_repetitions", "reps")
    for visit, work, node in _estimates(scene):
        done = _repetitions(inputs, node)
        if done is not None and done > most:
            yield scene.breach("one_rep_max_repetitions", "reps", visit=visit, line=work.line, value=done)


def _repetitions(inputs: Inputs, node: Node) -> float | None:
    try:
        arguments = inputs.arguments(node)
        return number(arguments, "reps") + number(arguments, "rir", 0.0)
    except (UnresolvedError, NotComputableError):
        return None


def bars_not_converted(scene: Scene) -> Iterator[Finding]:
    """Find loads that rest on the one-repetition maximum of another lift or bar."""
    inputs = Inputs(scene.programme.basis, scene.brief, scene.book)
    for visit, work, node in _estimates(scene):
        lifted = _lifted(inputs, node)
        own = {work.line.exercise, work.exercise.one_rep_max_of if work.exercise else ""}
        if lifted is not None and lifted not in own:
            yield scene.breach(
                "bars_not_converted", visit=visit, line=work.line, value=lifted, limit=work.line.exercise
            )


def _lifted(inputs: Inputs, node: Node) -> str | None:
    """Name the exercise of the set an estimate rests on."""
    path = node.inputs.get("load_kg", "")
    while path in inputs.nodes:
        path = next(iter(inputs.nodes[path].inputs.values()), "")
    if not path.startswith("brief:") or not path.endswith(_LOAD):
        return None
    try:
        return str(inputs.value(path.removesuffix(_LOAD) + ".exercise"))
    except UnresolvedError:
        return None


def _estimates(scene: Scene) -> Iterator[tuple[Visit, Work, Node]]:
    """Give the estimates that the lines' loads rest on."""
    nodes = scene.programme.basis
    known: dict[str, frozenset[str]] = {}
    for visit, work in scene.lines:
        ref = work.line.basis.get("load_kg")
        for found in sorted(_below(nodes, ref, known)) if ref else ():
            yield visit, work, nodes[found]


def _below(nodes: dict[str, Node], ref: str, known: dict[str, frozenset[str]]) -> frozenset[str]:
    """Give the estimates under a node; a node on its own path counts once."""
    if ref not in known:
        known[ref] = frozenset()
        node = nodes.get(ref)
        paths = node.inputs.values() if node else ()
        under = [_below(nodes, path, known) for path in paths if path in nodes]
        own = frozenset({ref}) if node is not None and node.by == _ESTIMATE else frozenset()
        known[ref] = own.union(*under)
    return known[ref]
