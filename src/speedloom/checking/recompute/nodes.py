"""All nodes of a document computed again, by formula and in batches."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from speedloom.checking.inputs import Inputs, UnresolvedError
from speedloom.checking.recompute import body, kit, plain, session, weeks
from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number
from speedloom.checking.recompute.motion import BATCHES
from speedloom.checking.recompute.profile import Band, fitted, fitted_trace
from speedloom.checking.recompute.spread import SPREADS
from speedloom.checking.trials import TrialRule
from speedloom.errors import SpeedloomError
from speedloom.training.programme import Node

SINGLES: Mapping[str, Callable[[Arguments], Any]] = {
    "given": plain.given,
    "profile.typical": plain.given,
    "total": plain.total,
    "product": plain.product,
    "least": plain.least,
    "clamp": plain.clamp,
    "round.step": plain.round_step,
    "round.up": plain.round_up,
    "round.distance": plain.round_distance,
    "volume.count": plain.count,
    "volume.planned": plain.volume_planned,
    "contacts.line": plain.contacts,
    "taper.factor": plain.taper_factor,
    "weeks.specificity": weeks.specificity,
    "weeks.in_season": weeks.in_season,
    "weeks.mesocycle_point": weeks.mesocycle_point,
    "role.shift": weeks.role_shift,
    "dose.linear": weeks.linear,
    "dose.geometric": weeks.geometric,
    "rest.run": session.rest,
    "minutes.line": session.line_minutes,
    "queue.turns": session.turns,
    "air.density": body.air_density,
    "air.drag": body.drag,
    "run.distance": body.run_distance,
    "run.share_point": body.share_point,
    "run.longest": body.longest,
    "one_rep_max.estimate": body.one_rep_max,
    "repetitions.share": body.repetitions_share,
    "effort.time": body.effort_time,
    "expect.spread": body.spread,
    "expect.low": body.low,
    "expect.high": body.high,
    "kit.round_load": kit.round_load,
}
BANDS: Mapping[str, Callable[[Arguments], tuple[float, float, float]]] = {
    "friction.middle": body.friction_between,
    "friction.timed": body.friction_timed,
}
BANDED = ("profile.fit", "profile.fit_trace", *BANDS)
BOUNDED = "solver.count"
COACH = "coach"
FORMULAS = frozenset({*SINGLES, *BATCHES, *SPREADS, *BANDED, BOUNDED, COACH})


@dataclass(frozen=True)
class Again:
    """A node computed again: what it should hold, or why that cannot be said."""

    ref: str
    value: Any = None
    low: float | None = None
    high: float | None = None
    fault: str = ""


def recompute(inputs: Inputs, *, rule: TrialRule, refs: Iterable[str] | None = None) -> Iterator[Again]:
    """Compute nodes again (all, or those named) from their inputs as they are stored."""
    by_formula: dict[str, list[str]] = {}
    for ref in inputs.nodes if refs is None else refs:
        by_formula.setdefault(inputs.nodes[ref].by, []).append(ref)
    for formula, named in by_formula.items():
        yield from _formula(inputs, formula, named, rule)


def _formula(inputs: Inputs, formula: str, refs: Sequence[str], rule: TrialRule) -> Iterator[Again]:
    if formula in BATCHES or formula in SPREADS:
        yield from _batch(inputs, formula, refs)
        return
    for ref in refs:
        yield _guarded(inputs, ref, lambda one: _single(inputs, one, rule))


def _batch(inputs: Inputs, formula: str, refs: Sequence[str]) -> Iterator[Again]:
    """Compute many at once; where one of them cannot be, each by itself, to name it."""
    try:
        values = _together(inputs, formula, refs)
    except (SpeedloomError, LookupError, ValueError):
        for ref in refs:
            yield _guarded(inputs, ref, lambda one: Again(one, _together(inputs, formula, [one])[0]))
        return
    yield from (Again(ref, float(value)) for ref, value in zip(refs, values, strict=True))


def _together(inputs: Inputs, formula: str, refs: Sequence[str]) -> Sequence[float]:
    nodes = [inputs.nodes[ref] for ref in refs]
    if formula in SPREADS:
        return list(SPREADS[formula](inputs, nodes))
    return list(BATCHES[formula]([inputs.arguments(node) for node in nodes]))


def _guarded(inputs: Inputs, ref: str, compute: Callable[[str], Again]) -> Again:
    try:
        return compute(ref)
    except UnresolvedError as error:
        return Again(ref, fault=str(error.args[0]))
    except (SpeedloomError, NotComputableError, LookupError, ValueError, ZeroDivisionError) as error:
        return Again(ref, fault=f"{inputs.nodes[ref].by}: {error}")


def _single(inputs: Inputs, ref: str, rule: TrialRule) -> Again:
    node = inputs.nodes[ref]
    if node.by not in FORMULAS:
        return Again(ref, fault=f"no formula {node.by}")
    arguments = inputs.arguments(node)
    if node.by == COACH:
        return Again(ref, node.value, node.low, node.high)
    if node.by == BOUNDED:
        return _within(ref, node, arguments)
    if node.by in BANDED:
        return Again(ref, *_banded(inputs, node, arguments, rule))
    return Again(ref, SINGLES[node.by](arguments))


def _banded(inputs: Inputs, node: Node, arguments: Arguments, rule: TrialRule) -> Band:
    if node.by == "profile.fit":
        return fitted(node.quantity, arguments, rule=rule, book=inputs.book)
    if node.by == "profile.fit_trace":
        return fitted_trace(node.quantity, arguments, rule=rule)
    return BANDS[node.by](arguments)


def _within(ref: str, node: Node, arguments: Arguments) -> Again:
    """A chosen count: a whole number from the fewest to the most."""
    fewest, most = number(arguments, "fewest"), number(arguments, "most")
    if not isinstance(node.value, float):
        return Again(ref, fault="expected a whole number")
    return Again(ref, float(round(min(most, max(fewest, node.value)))))
