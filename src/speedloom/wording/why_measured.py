"""What was measured, as a coach says it: the sprint profile, the sled's friction, the lifts, the clock."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from speedloom.science.constants import BAND_90_SD
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Lift
from speedloom.training.programme import Expect, Node
from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import athletes_of, word
from speedloom.wording.units import mass, number, seconds, share
from speedloom.wording.why_doses import banded, core_words, figure, origin, rule_words
from speedloom.wording.why_inputs import QUANTITIES, TIMING_NAMES
from speedloom.wording.why_steps import by_the_coach
from speedloom.wording.why_trail import Trail
from speedloom.workflows.explain import one_rep_max_range

ON_THE_CLOCK = frozenset({"load_kg", "distance_m", "run_in_m", "decrement", "effort"})
"""Numbers after which a coach asks what the clock will show."""


FITS = frozenset({"profile.fit", "profile.fit_trace"})
"""Formulas of a sprint profile: from split times, or from a speed trace."""


def profile_sentence(trail: Trail, *nodes: Node | None) -> Iterator[str]:
    """Say the day's profile with the bands of the numbers that are used."""
    fitted = [node for node in nodes if node is not None and node.by in FITS]
    if fitted:
        values = listing(
            f"{QUANTITIES.get(node.quantity, node.quantity)} {banded(trail, node)}" for node in fitted
        )
        usual = (
            "; too few gates, so partly from what is usual"
            if fitted[0].inputs.get("prior") == "literal:population"
            else ""
        )
        yield f"{_profile_of(fitted[0])}: {values}{usual} ({origin(trail, fitted[0])})."
    for node in nodes:
        if node is not None and node.by not in FITS:
            yield from _assumed(trail, node)


def _profile_of(node: Node) -> str:
    ref = node.inputs.get("trials", "").removeprefix("test:")
    _, day, timing = (*ref.split("/"), "", "")[:3]
    try:
        said = full_date(date.fromisoformat(day))
    except ValueError:
        return "Profile"
    return f"Profile of {said} ({TIMING_NAMES.get(timing, timing)})"


def _assumed(trail: Trail, node: Node) -> Iterator[str]:
    name = QUANTITIES.get(node.quantity, word(node.quantity))
    if node.by == "profile.typical":
        rule = rule_words(trail, node.inputs.get("value", ""))
        yield f"No test with enough gates: {name} {figure(trail, node)}, as is usual ({rule})."
    else:
        yield f"{name[:1].upper()}{name[1:]}: {core_words(trail, node)}."


def friction_sentence(trail: Trail, node: Node | None) -> Iterator[str]:
    """Say the friction of this sled on this floor, its band, and how it is known."""
    if node is None:
        return
    source = next(iter(node.inputs.values()), "")
    value = banded(trail, node, decimals=2)
    if node.by == "coach":
        known = by_the_coach(node, book=trail.book)
    elif source.startswith("rule:"):
        known = f"assumed, nobody has timed it ({rule_words(trail, source)})"
    elif node.by == "friction.middle":
        known = f"the middle of the brief's range, not timed on this floor ({origin(trail, node)})"
    else:
        known = "from timed runs, as the brief says"
    yield f"Friction of this sled on this floor: {value}, {known}."


def one_rep_max_sentence(trail: Trail, node: Node | None) -> Iterator[str]:
    """Say the set a one-repetition maximum comes from, and the range of the formulas."""
    if node is None:
        return
    lift = _lift_of(trail, node)
    if lift is None:
        yield f"One-repetition maximum: {core_words(trail, node)}."
        return
    if lift.se_kg is not None:
        yield _put_together(trail, lift)
        return
    low, high = one_rep_max_range(lift)
    ends = f"{number(low, decimals=1)} to {mass(round(high, 1), units=trail.book.units)}"
    if trail.book.units.mass != "kg":
        ends = f"{mass(low, units=trail.book.units)} to {mass(high, units=trail.book.units)}"
    reserve = f" with {lift.rir} in reserve" if lift.rir else ", none in reserve"
    about = mass(round(float(node.value or 0.0), 1), units=trail.book.units)
    done = f"{mass(lift.load_kg, units=trail.book.units)} × {lift.reps}{reserve}"
    cited = origin(trail, node).replace("; ", ", ")
    yield (
        f"{word(lift.exercise).capitalize()} of {full_date(lift.date)}: {done}; "
        f"that is a 1RM of about {about}, {ends} by the formulas of {cited}."
    )


def _put_together(trail: Trail, lift: Lift) -> str:
    """Say that a maximum was put together from logged sets: nobody lifted it."""
    units = trail.book.units
    spread = BAND_90_SD * (lift.se_kg or 0.0)
    low, high = (mass(round(lift.load_kg + way * spread, 1), units=units) for way in (-1, 1))
    about = mass(round(lift.load_kg, 1), units=units)
    return (
        f"{word(lift.exercise).capitalize()}: a 1RM of about {about} (90 % band {low} to {high}), "
        f"put together from the test and the sets logged up to {full_date(lift.date)}, "
        "and accepted by the coach."
    )


def _lift_of(trail: Trail, node: Node) -> Lift | None:
    parts = node.inputs.get("load_kg", "").removeprefix("brief:").split(".")
    people: dict[str, Athlete] = dict(athletes_of(trail.book.programme))
    if node.by != "one_rep_max.estimate" or len(parts) < 4 or parts[1] not in people:  # noqa: PLR2004 - athletes.REF.lifts.N
        return None
    lifts, place = people[parts[1]].lifts, parts[3]
    return lifts[int(place)] if place.isdigit() and int(place) < len(lifts) else None


def clock_sentence(trail: Trail) -> Iterator[str]:
    """Say what the clock will show, where the line has an expected time."""
    line = trail.standing.line
    if trail.field in ON_THE_CLOCK and line is not None and line.expect:
        yield expected_sentence(line.expect)


def expected_sentence(expect: Expect) -> str:
    """Say what the athlete's own clock would show for one repetition, as a band and no promise.

    >>> print(expected_sentence(Expect(time_s=3.119, low=2.975, high=3.263, clock="gates/behind/0.5")))
    On the clock (gates, 0.5 m behind the beam): about 3.12 s, 9 runs in 10 from 2.98 to 3.26 s.
    """
    low, high = f"{expect.low:.2f}", seconds(expect.high)
    return (
        f"On the clock ({clock_words(expect.clock)}): about {seconds(expect.time_s)}, "
        f"{round(10 * expect.level)} runs in 10 from {low} to {high}."
    )


def clock_words(clock: str) -> str:
    """Say how a clock is started, such as `gates, 0.5 m behind the beam`."""
    timing, _, rest = clock.partition("/")
    start, _, behind = rest.partition("/")
    said = {
        "behind": f"{behind} m behind the beam",
        "movement": "started by the first movement",
        "unknown": "started as in the test",
        "gun": "started by the gun, as in the test",
        "flying": "from beam to beam",
    }
    return ", ".join(filter(None, (TIMING_NAMES.get(timing, timing), said.get(start, word(start)))))


def slower(text: str) -> str:
    """Say a decrement.

    >>> slower("40 %")
    'about 40 % slower than free'
    """
    return f"about {text} slower than free"


def per_cent(value: float | str | None) -> str:
    """Write a share for running text, or the word that stands there."""
    return share(round(value, 3)) if isinstance(value, (int, float)) else str(value)
