"""Repetitions, sets, contacts, minutes and volumes as a coach says them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Node, Prescription
from speedloom.wording.dates import day_month, listing
from speedloom.wording.names import line_name, word
from speedloom.wording.units import number, quantity, rest
from speedloom.wording.why_doses import (
    CAPS,
    chain,
    core_words,
    dose_sentences,
    figure,
    origin,
    rule_words,
    week_words,
)
from speedloom.wording.why_inputs import number_of
from speedloom.wording.why_measured import per_cent
from speedloom.wording.why_trail import Trail

LINE = re.compile(r"line_(\d+)$")
EACH = {"m": "run", "contacts": "set", "sets": "set"}
MOST_TOLD = 5


def count_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say how many repetitions or sets: wanted volume, what one holds, what fits."""
    proposed = trail.behind(node, "proposed")
    wanted = trail.behind(proposed, "wanted")
    if proposed is None or wanted is None:
        yield f"{trail.standing.when()}: {core_words(trail, proposed or node)}."
    else:
        yield from wanted_sentences(trail, wanted)
        yield _proposed(trail, proposed, wanted)
    yield _fits(trail, node, proposed)


def wanted_sentences(trail: Trail, wanted: Node) -> Iterator[str]:
    """Say the volume that a line should hold: the dose, times the week's part and the day's."""
    *caps, core = chain(trail, wanted)
    dose = trail.behind(core, "dose")
    if dose is None:
        yield f"{trail.standing.when()}: {core_words(trail, core)}."
        return
    yield from dose_sentences(trail, dose, "{} sets".format if wanted.unit == "sets" else str)
    parts = [said for key in ("factor", "share", "emphasis") if (said := _part(trail, core, key))]
    yield f"Times {listing(parts)}: {figure(trail, core)}."
    for cap in caps:
        if cap.value != core.value:
            key = next((key for key in cap.inputs if key in CAPS), "")
            yield f"At most {figure(trail, cap)} {CAPS.get(key, '')}{_ruled(trail, cap.inputs.get(key, ''))}."


def _part(trail: Trail, core: Node, key: str) -> str:
    link = core.inputs.get(key, "")
    value = number_of(link, book=trail.book)
    if not link or (value == 1 and key != "factor"):
        return ""
    behind = trail.behind(core, key)
    said = per_cent(value)
    if key == "factor":
        return f"{said} for the week{_factor_words(trail, behind)}"
    if key == "emphasis":
        return f"{said} for the coach's emphasis (brief)"
    if link.startswith("rule:"):
        return f"{said} for this day{_ruled(trail, link)}"
    return f"{said} for this one of its two exercises"


def _factor_words(trail: Trail, node: Node | None) -> str:
    if node is not None and node.by == "product":
        inner = trail.behind(node, "week")
        links = [inner.inputs.get("value", "") if inner else "", node.inputs.get("peak", "")]
        told = [
            f"{week_words(link.partition('.')[2])} {per_cent(number_of(link, book=trail.book))}"
            for link in links
        ]
        return f" ({listing(told)}; {rule_words(trail, links[-1]).partition('; ')[2]})"
    core = chain(trail, node)[-1] if node else None
    link = core.inputs.get("value", "") if core else ""
    if core is not None and core.by == "taper.factor":
        return f" (taper; rule weeks_ramp, {origin(trail, core)})"
    if core is not None and core.by == "coach":
        return f" ({core_words(trail, core)})"
    return _ruled(trail, link)


def _ruled(trail: Trail, link: str) -> str:
    return f" ({rule_words(trail, link)})" if link.startswith("rule:") else ""


def _proposed(trail: Trail, proposed: Node, wanted: Node) -> str:
    link = proposed.inputs.get("each", "")
    each = number_of(link, book=trail.book)
    fewest, most = (proposed.inputs.get(key, "").partition(":")[2] for key in ("fewest", "most"))
    allowed = f"only {most} allowed" if fewest == most else f"{fewest} to {most} allowed"
    if wanted.unit == "sets" or each is None:
        return f"In whole sets: {figure(trail, proposed)} ({allowed})."
    one = quantity(each, "m" if wanted.unit == "m" else "1", units=trail.book.units)
    contacts = " contacts" if wanted.unit == "contacts" else ""
    return f"{one}{contacts} a {EACH.get(wanted.unit, 'set')}: {figure(trail, proposed)} ({allowed})."


def _fits(trail: Trail, node: Node, proposed: Node | None) -> str:
    session = trail.standing.session
    if node.by == "coach" or session is None:
        return f"So {figure(trail, node)}."
    minutes = f"the session takes {number(session.minutes)} of its {number(session.minutes_available)} min"
    if proposed is None or proposed.value == node.value:
        return f"{figure(trail, node)} fit: {minutes}."
    return (
        f"{figure(trail, node)} instead of {figure(trail, proposed)}: the week's sum or the minutes come out "
        f"better so ({minutes})."
    )


def warm_up_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say a warm-up's minutes: all of them, less those of the build-up runs."""
    whole = trail.behind(node, "all")
    less = number_of(node.inputs.get("less", ""), book=trail.book) or 0.0
    if whole is not None:
        yield f"{trail.standing.when()}: {core_words(trail, whole)} of warm-up in all."
    left = number(float(node.value or 0))
    yield f"Of these {number(-less)} min are the build-up runs: {left} min are left."


def contact_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say the foot contacts of a line, and how its sets came about."""
    sets, reps = trail.behind(node, "sets"), trail.behind(node, "reps")
    if sets is not None and sets.by == "solver.count":
        yield from count_sentences(trail, sets)
    if sets is not None and reps is not None:
        each = node.inputs.get("contacts_per_rep", "").partition(":")[2]
        sides = ", on each leg" if node.inputs.get("sides", "").endswith("each") else ""
        contact = "contact" if each == "1" else "contacts"
        yield (
            f"{figure(trail, sets)} sets × {figure(trail, reps)} repetitions × {each} {contact}{sides}: "
            f"{number(float(node.value or 0))}."
        )


def line_minutes_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say where a line's minutes go: change-over, ramp-up sets, work, rest or the queue."""
    raw = trail.behind(node, "value")
    if raw is None:
        yield f"{trail.standing.when()}: {core_words(trail, node)}."
        return
    seconds = {key: number_of(raw.inputs.get(key, ""), book=trail.book) or 0.0 for key in raw.inputs}
    yield from _before(trail, raw, seconds)
    yield _work(trail, raw, seconds)
    turns = trail.behind(raw, "turns")
    if turns is not None and seconds.get("turns", 1) > 1:
        yield _queue(turns, seconds)
    yield f"Together {figure(trail, raw)}, up to the half minute {figure(trail, node)}."


def _before(trail: Trail, raw: Node, seconds: dict[str, float]) -> Iterator[str]:
    told = [
        f"{rest(seconds[key])} {name}{_ruled(trail, trail.source(raw, key))}"
        for key, name in (("change_over_s", "to change over"), ("ramp_up_s", "of ramp-up sets"))
        if seconds.get(key)
    ]
    if told:
        yield f"{' and '.join(told)}."


def _work(trail: Trail, raw: Node, seconds: dict[str, float]) -> str:
    times = number(seconds.get("sets", 1) * seconds.get("reps", 1))
    work = f"{rest(seconds.get('work_s', 0))}{_ruled(trail, trail.source(raw, 'work_s'))}"
    if seconds.get("rest_reps_s"):
        return f"{times} runs of {work}, {rest(seconds['rest_reps_s'])} rest after each but the last."
    between = f", {rest(seconds['rest_s'])} rest between them" if seconds.get("rest_s") else ""
    return f"{times} set{'s' * (times != '1')} of {work}{between}."


def _queue(turns: Node, seconds: dict[str, float]) -> str:
    present, stations, lanes = (
        turns.inputs.get(key, "").partition(":")[2] for key in ("present", "stations", "lanes")
    )
    # After a run the others run once each; after a set each of them does a whole set.
    each = seconds.get("work_s", 0) * (1 if seconds.get("rest_reps_s") else seconds.get("reps", 1))
    wait = (seconds["turns"] - 1) * each
    at = f"{lanes} lanes" if stations == "1" else f"{stations} stations"
    return (
        f"{present} athletes on {at} are {number(seconds['turns'])} turns, so a turn comes round after "
        f"{rest(wait)}: the longer of rest and queue counts."
    )


def session_minutes_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say what a session's minutes are the sum of, and what the slot offers."""
    session = trail.standing.session
    lines = session.prescriptions if session else ()
    keys = sorted(
        (key for key in node.inputs if LINE.search(key)), key=lambda key: int(key.partition("_")[2])
    )
    parts = [_line_minutes(trail, node, key, lines) for key in keys]
    yield f"{trail.standing.day()}: {listing(parts)} min."
    down = node.inputs.get("down", "")
    if down:
        yield f"Cool-down {number(number_of(down, book=trail.book) or 0)} min{_ruled(trail, down)}."
    if session is not None:
        yield (
            f"Together {number(float(node.value or 0))} of the {number(session.minutes_available)} min "
            f"there are {trail.at_place()}."
        )


def _line_minutes(trail: Trail, node: Node, key: str, lines: tuple[Prescription, ...]) -> str:
    place = int(key.partition("_")[2]) - 1
    name = line_name(lines[place], catalogue=load_catalogue()) if place < len(lines) else word(key)
    return f"{name} {number(number_of(node.inputs[key], book=trail.book) or 0)}"


def planned_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say what a week holds of a method, line by line, beside what was wanted."""
    terms = sorted({int(key.rpartition("_")[2]) for key in node.inputs if key.rpartition("_")[2].isdigit()})
    used: set[str] = set()
    for term in terms[: MOST_TOLD if len(terms) > MOST_TOLD + 1 else len(terms)]:
        yield _term(trail, node, term, used)
    if len(terms) > MOST_TOLD + 1:
        yield f"And {len(terms) - MOST_TOLD} lines more in the same way (--all tells each)."
    week, method = trail.standing.week, trail.field.removeprefix("volumes.").partition(".")[0]
    volume = week.volumes.get(method) if week else None
    wanted = (
        f"; wanted were {quantity(round(volume.wanted, 1), volume.unit, units=trail.book.units)}"
        if volume
        else ""
    )
    yield f"Together {figure(trail, node)}{wanted}."


def _term(trail: Trail, node: Node, term: int, used: set[str]) -> str:
    said = []
    where = ""
    for name, noun in (("sets", "set"), ("reps", "run"), ("each", "")):
        link = node.inputs.get(f"{name}_{term}", "")
        value = number_of(link, book=trail.book)
        if value is None or (name == "each" and value == 1):
            continue
        many = "s" if value != 1 else ""
        amount = (
            f"{number(value)} {noun}{many}" if noun else quantity(value, node.unit, units=trail.book.units)
        )
        said.append(amount)
        where = where or _line_of(trail, name, link, used)
    return f"{where}{' × '.join(said)}."


def _line_of(trail: Trail, field: str, link: str, used: set[str]) -> str:
    """Name the week's next line whose number this is; equal numbers of several lines are one step."""
    week = trail.standing.week
    for there, session, line in trail.lines_with(field, link):
        if week is not None and there.number == week.number and line.ref not in used:
            used.add(line.ref)
            return f"{day_month(session.date)}, {line_name(line, catalogue=load_catalogue())}: "
    return ""


def wanted_volume_sentences(trail: Trail, node: Node) -> Iterator[str]:
    """Say what a week should hold of a method: the sum of what its lines should hold."""
    keys = sorted(
        (key for key in node.inputs if LINE.search(key)), key=lambda key: int(key.partition("_")[2])
    )
    nodes = [found for key in keys if (found := trail.behind(node, key)) is not None]
    for first in nodes[:1]:
        yield from wanted_sentences(trail, first)
    if len(nodes) > 1:
        parts = " + ".join(number(float(one.value or 0)) for one in nodes)
        yield f"The week's other lines in the same way: {parts}."
    yield f"Together {figure(trail, node)} wanted."
