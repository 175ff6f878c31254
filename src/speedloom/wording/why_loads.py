"""Loads and distances as a coach says them: the aim, the measurement, the sum, the plates, the clock."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from speedloom.training.programme import Node
from speedloom.wording.units import mass
from speedloom.wording.why_doses import (
    MAIN,
    chain,
    changes,
    core_words,
    dose_sentences,
    figure,
    origin,
    rule_words,
    scale,
)
from speedloom.wording.why_inputs import number_of
from speedloom.wording.why_measured import (
    friction_sentence,
    one_rep_max_sentence,
    per_cent,
    profile_sentence,
    slower,
)
from speedloom.wording.why_steps import first_upper
from speedloom.wording.why_trail import Trail
from speedloom.workflows.explain import CAP

BALANCE = "resistance.load_for_decrement_at_distance"


def load_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say where a load comes from, plates last."""
    raw = trail.behind(node, "load_kg")
    if raw is not None and raw.by == BALANCE:
        yield from _sled(trail, raw)
    elif raw is not None and raw.by == "product":
        yield from _lift(trail, raw)
    elif raw is not None:
        yield f"{trail.standing.when()}: {core_words(trail, raw)}."
    yield from _limit(trail, node)
    yield _plates(trail, node, raw)


def _sled(trail: Trail, raw: Node) -> Iterator[str]:
    aim, distance = trail.behind(raw, "decrement"), trail.behind(raw, "distance_m")
    if aim is not None:
        yield from dose_sentences(trail, aim, slower)
    yield from profile_sentence(trail, trail.behind(raw, "f0_npkg"), trail.behind(raw, "v0_mps"))
    yield from friction_sentence(trail, trail.behind(raw, "friction"))
    over = f" over {figure(trail, distance)}" if distance else ""
    yield f"Balance of forces{over}: {about(trail, raw)}, sled included ({origin(trail, raw)})."


def _lift(trail: Trail, raw: Node) -> Iterator[str]:
    most, part = trail.behind(raw, "one_rep_max"), trail.behind(raw, "share")
    yield from one_rep_max_sentence(trail, most)
    if part is not None:
        yield from share_sentences(trail, part)
    yield f"{per_cent(part.value if part else None)} of the 1RM: {about(trail, raw)}."


def share_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say a share of the one-repetition maximum: the chart at repetitions and reserve, or a dose."""
    found = _shares(trail, node)
    core = found[-1]
    if found == chain(trail, node) and core.by != "repetitions.share":
        yield from dose_sentences(trail, node, "{} of the 1RM".format)
        return
    if core.by == "repetitions.share":
        reps, reserve = trail.behind(core, "reps"), trail.behind(core, "rir")
        if reps is not None and reserve is not None:
            yield _chart(trail, core, reps, reserve)
    else:
        yield f"{trail.standing.when()}: {core_words(trail, core)}."
    for inner, step in pairwise(reversed(found)):
        yield from _share_change(trail, step, inner)


def _chart(trail: Trail, core: Node, reps: Node, reserve: Node) -> str:
    dose = chain(trail, reps)[-1]
    how = f", {scale(trail, dose)}" if dose.by.startswith("dose.") else ""
    kept = chain(trail, reserve)[-1]
    rule = kept.inputs.get("value", "")
    why = f" ({rule_words(trail, rule)})" if rule.startswith("rule:") else ""
    more = (
        "" if kept.value == reserve.value else ", more than the row says because of a lighter week or a cap"
    )
    done = f"{trail.standing.when()}: {figure(trail, reps)} repetitions{how}"
    kept_back = f"{figure(trail, reserve)} in reserve{why}{more}"
    return f"{done}; {kept_back}. The chart gives {per_cent(core.value)} of the 1RM ({origin(trail, core)})."


def _shares(trail: Trail, node: Node) -> tuple[Node, ...]:
    found = list(chain(trail, node))
    while found[-1].by == "product" and (inner := trail.behind(found[-1], "share")) is not None:
        found += chain(trail, inner)
    return tuple(found)


def _share_change(trail: Trail, step: Node, inner: Node) -> Iterator[str]:
    faster = step.inputs.get("faster", "")
    if faster:
        yield (
            f"Lighter and fast on the faster day: {per_cent(number_of(faster, book=trail.book))} of that is "
            f"{per_cent(step.value)} ({rule_words(trail, faster)})."
        )
    else:
        yield from changes(trail, (step, inner))


def _limit(trail: Trail, node: Node) -> Iterator[str]:
    """Say what the load must not exceed, where that is a number of its own."""
    link = node.inputs.get(CAP, "")
    if not link or link == node.inputs.get("load_kg"):
        return
    cap = trail.book.programme.basis.get(link)
    if cap is not None and node.value != cap.value:
        return
    if cap is None:
        kilograms = mass(float(link.partition(":")[2]), units=trail.book.units)
        yield f"A restriction allows at most {kilograms}."
        return
    before = next(trail.lines_with("load_kg", link), None)
    whose = f", week {before[0].number}'s load on this sled ({before[2].ref})" if before else ""
    yield f"Never above {figure(trail, cap)}{whose}: a sled gets no heavier as the weeks get specific."


def _plates(trail: Trail, node: Node, raw: Node | None) -> str:
    line = trail.standing.line
    below = raw is not None and node.inputs.get(CAP) == node.inputs.get("load_kg")
    never = "; this week never above the aim" if below else ""
    so = ""
    if raw is not None and raw.by == BALANCE and line is not None and line.decrement is not None:
        so = f", so {per_cent(line.decrement)} slower"
    return f"{first_upper(_kit(trail))}: {figure(trail, node)}{so}{never}."


def _kit(trail: Trail) -> str:
    return f"plates {trail.at_place()}" if trail.standing.session else "plates"


def decrement_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say how much slower the load that is really on the sled makes the athlete."""
    load = trail.behind(node, "load_kg")
    raw = trail.behind(load, "load_kg")
    aim = trail.behind(raw, "decrement")
    if aim is not None:
        yield from dose_sentences(trail, aim, slower)
    yield from profile_sentence(trail, trail.behind(node, "f0_npkg"), trail.behind(node, "v0_mps"))
    yield from friction_sentence(trail, trail.behind(node, "friction"))
    wanted = f" (the aim asks for {about(trail, raw)})" if raw else ""
    if load is not None:
        yield f"{first_upper(_kit(trail))}: {figure(trail, load)}{wanted}."
    distance = trail.behind(node, "distance_m")
    at = f" at {figure(trail, distance)}" if distance else ""
    yield f"With that load the speed{at} is {per_cent(node.value)} lower than free ({origin(trail, node)})."


def distance_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say where a distance comes from: a dose, or the athlete's own acceleration."""
    found = chain(trail, node)
    if found[-1].by in {"run.distance", "run.share_point"}:
        yield from _own_length(trail, found[-1])
        yield from changes(trail, found)
    elif not trail.standing.line or trail.standing.line.purpose == "work":
        yield from dose_sentences(trail, node)
    else:
        yield f"{trail.standing.when()}: {figure(trail, found[-1])}, what is set for this warm-up."
        yield from changes(trail, found)


def _own_length(trail: Trail, core: Node) -> Iterator[str]:
    lengths, own = trail.behind(core, "lengths"), trail.behind(core, "length_m")
    if lengths is not None:
        yield f"{trail.standing.when()}: {core_words(trail, lengths)}."
    yield from profile_sentence(trail, own)
    if core.by == "run.distance":
        yield f"That is {figure(trail, core)} for this athlete ({origin(trail, core)})."
        return
    rule = core.inputs.get("share", "")
    top = per_cent(number_of(rule, book=trail.book))
    yield f"{top} of top speed is reached after {figure(trail, core)} ({rule_words(trail, rule)})."


def about(trail: Trail, node: Node) -> str:
    """Write a mass before it is rounded to plates: a tenth of a kilogram is plenty."""
    return mass(round(float(node.value or 0.0), 1), units=trail.book.units)


def is_distance(node: Node) -> bool:
    """Say whether a number is told as a distance: any chain of roundings over a length."""
    rounded = node.by in MAIN and node.by != "total"
    return node.unit == "m" and (rounded or node.by.startswith(("run.", "dose.")))
