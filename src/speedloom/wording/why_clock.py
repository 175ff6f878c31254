"""Expected times, shares of top speed, rests and weeks as a coach says them."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.training.programme import Node
from speedloom.wording.dates import full_date
from speedloom.wording.names import athletes_of, word
from speedloom.wording.units import length, number, rest, seconds
from speedloom.wording.why_counts import wanted_sentences
from speedloom.wording.why_doses import figure, known_by, origin, rule_words
from speedloom.wording.why_inputs import ARGUMENTS, QUANTITIES, argument, number_of, owner_in_brief
from speedloom.wording.why_measured import (
    expected_sentence,
    friction_sentence,
    per_cent,
    profile_sentence,
)
from speedloom.wording.why_sayings import said_as
from speedloom.wording.why_steps import by_the_coach
from speedloom.wording.why_trail import Trail

EASY_PLACE = 3
"""The place of the easy week in a row of four in season (formula weeks.in_season)."""
SPREADS = {
    "profile_s": "the profile",
    "friction_s": "the friction",
    "timing_s": "the timing",
}


def time_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say an expected time: profile, sled, run, effort, and its band."""
    run = node
    if node.by == "effort.time":
        run = trail.behind(node, "time_s") or node
    yield from _motion(trail, run)
    yield from _start(trail, run)
    yield _run(trail, run)
    if node.by == "effort.time":
        effort = number_of(node.inputs.get("effort", ""), book=trail.book)
        yield f"At {per_cent(effort)} of that speed: {seconds(round(float(node.value or 0), 3))}."
    line = trail.standing.line
    if trail.field == "expect.time_s" and line is not None and line.expect:
        yield expected_sentence(line.expect)


def _motion(trail: Trail, run: Node) -> Iterator[str]:
    yield from profile_sentence(trail, trail.behind(run, "f0_npkg"), trail.behind(run, "v0_mps"))
    load = trail.behind(run, "load_kg")
    if load is not None:
        yield f"Load: {figure(trail, load)}, sled included."
        yield from friction_sentence(trail, trail.behind(run, "friction"))


def _run(trail: Trail, run: Node) -> str:
    distance = trail.behind(run, "distance_m")
    metres = figure(trail, distance) if distance else "the run"
    before = trail.behind(run, "run_in_m")
    after = f"after a run-in of {figure(trail, before)}" if before else "from standing"
    time = seconds(round(float(run.value or 0), 3))
    return f"By the model, {metres} {after} take {time} ({origin(trail, run)})."


def _start(trail: Trail, run: Node) -> Iterator[str]:
    """Say how far the clock starts from the first movement, where the test had to find that out."""
    offset = trail.behind(run, "offset_s")
    if offset is None or not isinstance(offset.value, float):
        return
    ends = sorted(abs(end) for end in (offset.low, offset.high) if end is not None)
    band = f" ({ends[0]:.2f} to {ends[1]:.2f})" if ends and ends[0] != ends[1] else ""
    when = "after" if offset.value < 0 else "before"
    yield f"The clock starts {abs(offset.value):.2f} s{band} {when} the first movement, as in the test."


def end_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say an end of the band of an expected time: the time, then what makes it unsure."""
    time, spread = trail.behind(node, "time_s"), trail.behind(node, "spread_s")
    if time is not None:
        yield from time_sentences(trail, time)
    if spread is not None:
        yield _spread(trail, spread)
    end = "lower" if node.by == "expect.low" else "upper"
    time_s = seconds(round(float(node.value or 0), 3))
    yield f"The {end} end of what 9 runs in 10 take, 1.64 such spreads from the middle: {time_s}."


def _spread(trail: Trail, spread: Node) -> str:
    parts = []
    for key, name in SPREADS.items():
        value = number_of(spread.inputs.get(key, ""), book=trail.book)
        if value:
            parts.append(f"{name} {seconds(value, decimals=3)}")
    share = number_of(spread.inputs.get("repetition", ""), book=trail.book)
    rule = spread.inputs.get("repetition", "")
    named = f" ({rule_words(trail, rule)})" if rule.startswith("rule:") else ""
    parts.insert(0, f"from run to run {per_cent(share)}{named}")
    whole = seconds(float(spread.value or 0), decimals=3)
    return f"Spread, one standard deviation: {', '.join(parts)}; together {whole}."


def top_share_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say what share of top speed a run reaches."""
    yield from _motion(trail, node)
    distance, before = trail.behind(node, "distance_m"), trail.behind(node, "run_in_m")
    metres = sum(float(one.value or 0) for one in (before, distance) if one is not None)
    effort = number_of(node.inputs.get("effort", ""), book=trail.book)
    with_effort = f" at {per_cent(effort)} effort" if effort is not None and effort < 1 else ""
    yield (
        f"After {length(metres, units=trail.book.units)}{with_effort} the speed is {per_cent(node.value)} "
        f"of free top speed ({origin(trail, node)})."
    )


def rest_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say a rest after a run: by distance, never under a floor."""
    metres = sum(
        number_of(node.inputs.get(key, ""), book=trail.book) or 0 for key in ("distance_m", "run_in_m")
    )
    each, floor = (
        number_of(node.inputs.get(key, ""), book=trail.book) or 0 for key in ("per_10_m_s", "floor_s")
    )
    per, least = node.inputs.get("per_10_m_s", ""), node.inputs.get("floor_s", "")
    by = each * metres / 10
    yield (
        f"{length(metres, units=trail.book.units)} at {rest(each)} of rest for each 10 m: {rest(round(by))} "
        f"({rule_words(trail, per)})."
    )
    value = rest(float(node.value or 0))
    yield f"Never under {rest(floor)} ({rule_words(trail, least)}), in steps of 15 s: {value}."


def specificity_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say where a week stands between general and specific."""
    known = {key: number_of(node.inputs.get(key, ""), book=trail.book) for key in node.inputs}
    first, last = (per_cent(known.get(key)) for key in ("first", "last"))
    yield f"The programme goes from {first} to {last} of the way from general to specific (brief)."
    before, loading = (number(known.get(key) or 0) for key in ("before", "loading"))
    mesocycle, mesocycles = (number(known.get(key) or 0) for key in ("mesocycle", "mesocycles"))
    yield (
        f"{trail.standing.when()}: {before} of {loading} loading weeks lie before it, "
        f"in mesocycle {mesocycle} of {mesocycles}."
    )
    yield (
        "An even rise from loading week to loading week, a double step into each new mesocycle: "
        f"{per_cent(node.value)} of the way ({origin(trail, node)})."
    )


def in_season_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say where a week in season stands: three weeks up, one easy."""
    low, high, place = (
        number_of(node.inputs.get(key, ""), book=trail.book) for key in ("low", "high", "place")
    )
    yield f"In season a week stands between {per_cent(low)} and {per_cent(high)} of the way to specific."
    turn = "the easy week" if place == EASY_PLACE else f"week {number((place or 0) + 1)} of three that rise"
    yield f"{trail.standing.when()} is {turn}: {per_cent(node.value)} of the way ({origin(trail, node)})."


def given_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say a number that is read: from a rule, from the brief, or from the line itself."""
    link = node.inputs.get("value", "")
    name = QUANTITIES.get(node.quantity, ARGUMENTS.get(f"{node.quantity}_s", word(node.quantity)))
    kind, _, path = link.partition(":")
    if kind == "rule":
        yield f"{trail.standing.when()}: {known_by(trail, node, said_as(trail)(figure(trail, node)))}."
        yield from _statement(trail, path)
    elif kind == "brief":
        value = figure(trail, node)
        yield f"{name[:1].upper()}{name[1:]}: {value}, as the brief says ({_brief_words(path)})."
    else:
        said = f"{name[:1].upper()}{name[1:]}: {figure(trail, node)}"
        yield f"{said}{_fixed(trail, node)} ({origin(trail, node)})."


def _statement(trail: Trail, link: str) -> Iterator[str]:
    ref, _, name = link.partition(".")
    if not trail.book.rulebook.has(ref, name):
        return
    rule = trail.book.rulebook.rule(ref)
    if rule.kind == "rule":
        yield f"The rule: {rule.statement.rstrip('.')}."
    if rule.numbers[name].note:
        yield f"Note: {rule.numbers[name].note.rstrip('.')}."


def _brief_words(path: str) -> str:
    field = argument(path.rpartition(".")[2]).rstrip()
    return f"{owner_in_brief(path)}, {field}"


def _fixed(trail: Trail, node: Node) -> str:
    """Say why a plain fact stands there: a restriction, a run that is one set, the warm-up's own numbers."""
    line = trail.standing.line
    if trail.field == "effort":
        return _restricted(trail, node) or (
            ", flat out by feel: no profile is sharp enough here to name a time"
            if node.value == 1
            else ", what is set for this warm-up"
        )
    if line is not None and line.purpose in {"warm_up", "build_up"}:
        return ", what is set for this warm-up"
    if trail.field == "sets" and line is not None and line.distance_m:
        return ", runs are counted singly"
    return ""


def _restricted(trail: Trail, node: Node) -> str:
    session, own = trail.standing.session, trail.standing.own
    athlete = athletes_of(trail.book.programme).get(own.athlete) if own else None
    for one in athlete.restrictions if athlete and session else ():
        holds = session is not None and one.holds(session.date)
        if holds and any(limit.what == "share_vmax" and limit.at_most == node.value for limit in one.limits):
            until = f" until {full_date(one.until)}" if one.until else ""
            return f", the restriction set by the {one.set_by} ({one.set_as}){until}"
    return ""


def coach_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say that the coach set a number, and how it would have come about."""
    name = word(node.quantity)
    yield f"{name[:1].upper()}{name[1:]}: {figure(trail, node)}, {by_the_coach(node, book=trail.book)}."
    before = trail.behind(node, "proposed")
    if before is not None and before.by == "solver.count" and (made := trail.behind(before, "proposed")):
        wanted = trail.behind(made, "wanted")
        if wanted is not None:
            yield from wanted_sentences(trail, wanted)
