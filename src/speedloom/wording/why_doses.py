"""A dose as a coach says it: the level's scale, where the week stands on it, what caps and rounds it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from speedloom.training.programme import Node
from speedloom.wording.dates import listing
from speedloom.wording.names import word
from speedloom.wording.units import length, number, quantity, share
from speedloom.wording.why_inputs import citation, node_amount
from speedloom.wording.why_steps import by_the_coach, first_upper
from speedloom.wording.why_trail import Trail

Saying = Callable[[str], str]

MAIN: Mapping[str, tuple[str, ...]] = {
    "round.step": ("value",),
    "round.up": ("value",),
    "round.distance": ("distance_m",),
    "clamp": ("value",),
    "least": ("value", "share", "dose", "week"),
    "total": ("base",),
    "run.longest": (),
}
"""The input that a step only rounds, caps or adds to."""
CAPS: Mapping[str, str] = {
    "introduction": "in an introduction week",
    "peak": "this close to the peak",
    "heavy": "with a sled this heavy",
    "light": "this close to a match",
    "primer": "on the day before",
    "limit": "by a restriction",
    "point": "so that a start stays inside the acceleration (the 95 % point)",
    "after_break": "after weeks off",
}
"""What a cap is for, by the input that holds it."""
LEVEL = re.compile(r"(?:^|_)(novice|intermediate|advanced)(?:_|$)")
WEEK_OF = re.compile(r"of_(\d)_week_(\d)")
LAST_WEEK = re.compile(r"last_week_(\d)")
RIR_WEEK = re.compile(r"_week_(\d)$")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")
ADDED = {
    "introduction": "the introduction",
    "deload": "a lighter week",
    "minor_peak": "close to a small peak",
}
ADDED |= {"after_peak": "after the peak"}


def chain(trail: Trail, node: Node) -> tuple[Node, ...]:
    """List a step and those it only rounds, caps or adds to, outermost first."""
    found = [node]
    while True:
        inner = next(
            (got for key in MAIN.get(found[-1].by, ()) if (got := trail.behind(found[-1], key)) is not None),
            None,
        )
        if inner is None or inner in found:
            return tuple(found)
        found.append(inner)


def dose_sentences(trail: Trail, node: Node, saying: Saying = str) -> Iterator[str]:
    """Say the dose a number starts from, then each cap and rounding that changed it."""
    found = chain(trail, node)
    rounded = _rounded(found)
    value = saying(figure(trail, rounded or found[-1]))
    if rounded is not None:
        value += f" (rounded from {figure(trail, found[-1])})"
    yield f"{trail.standing.when()}: {known_by(trail, found[-1], value)}."
    yield from changes(trail, found[: -1 if rounded is not None else None], saying)


def _rounded(found: tuple[Node, ...]) -> Node | None:
    """Give the step that only rounds the dose itself, where it changed it: both are told in one breath."""
    first = found[-2] if len(found) > 1 else None
    if first is None or first.by not in {"round.step", "round.up"} or first.value == found[-1].value:
        return None
    return first


def changes(trail: Trail, found: tuple[Node, ...], saying: Saying = str) -> Iterator[str]:
    """Say what each rounding, cap or addition of a chain did, from the inside out."""
    for inner, step in pairwise(reversed(found)):
        yield from _change(trail, step, inner, saying)


def core_words(trail: Trail, core: Node, saying: Saying = str) -> str:
    """Say a number that is not rounded or capped any more: a dose, a rule's number, the coach's own."""
    return known_by(trail, core, saying(figure(trail, core)))


def known_by(trail: Trail, core: Node, value: str) -> str:
    """Say what a number rests on, behind the number."""
    if core.by == "coach":
        return f"{value}, {by_the_coach(core, book=trail.book)}"
    if core.by.startswith("dose."):
        return f"{value}, {scale(trail, core)}"
    rule = core.inputs.get("value", "")
    if rule.startswith("rule:"):
        return f"{value} ({rule_words(trail, rule)})"
    return f"{value} ({origin(trail, core)})"


def scale(trail: Trail, dose: Node) -> str:
    """Say where on the level's scale a dose is taken, such as `at the general end of the novice scale …`."""
    at = trail.behind(dose, "specificity")
    links = [trail.source(dose, key) for key in ("general", "middle", "specific")]
    ends = [_rule_value(trail, link) for link in links]
    level = level_of(links[0])
    named = f"the {level} scale" if level else "the scale"
    where = along(at.value if at else None)
    rule = links[0].removeprefix("rule:").partition(".")[0]
    mark = citation(dose.source, dose.mark, rulebook=trail.book.rulebook)
    changed = _changed(trail, *links)
    return f"{where} {named} {_arrow(ends)} (rule {rule}, {mark}{changed})"


def _arrow(ends: list[str]) -> str:
    """Join the ends of a scale, the unit said once.

    >>> _arrow(["40 %", "25 %", "10 %"])
    '40 → 25 → 10 %'
    """
    bare = [end.partition(" ") for end in ends]
    units = {unit.removesuffix("s") for _, _, unit in bare}
    if len(units) > 1:
        return " → ".join(ends)
    return f"{' → '.join(value for value, _, _ in bare)} {bare[0][2]}".rstrip()


def along(value: float | str | None) -> str:
    """Say a place between general and specific.

    >>> along(0.0), along(0.25), along(1.0)
    ('at the general end of', '25 % of the way along', 'at the specific end of')
    """
    if not isinstance(value, (int, float)):
        return "somewhere on"
    ends = {0.0: "at the general end of", 0.5: "at the middle of", 1.0: "at the specific end of"}
    return ends.get(value) or f"{share(round(value, 3))} of the way along"


def level_of(link: str) -> str:
    """Read the level out of a rule number's name.

    >>> level_of("rule:sled_dose.decrement_novice_general"), level_of("rule:distance_grid.fine_m")
    ('novice', '')
    """
    found = LEVEL.search(link.partition(".")[2])
    return found[1] if found else ""


def rule_words(trail: Trail, link: str) -> str:
    """Name a rule's number: level, week of the row where it has one, rule, source and mark."""
    rule, _, name = link.removeprefix("rule:").partition(".")
    if not trail.book.rulebook.has(rule, name):
        return f"rule {rule}"
    mark = citation(*trail.book.rulebook.mark_of(rule, name), rulebook=trail.book.rulebook)
    row = ", ".join(filter(None, (level_of(link), week_words(name))))
    return "; ".join(filter(None, (row, f"rule {rule}, {mark}{_changed(trail, link)}")))


def week_words(name: str) -> str:
    """Say which week's number of a row it is.

    >>> week_words("of_3_week_2"), week_words("last_week_4"), week_words("rir_novice_week_1")
    ('second of 3 loading weeks', 'last of the last loading weeks', 'first step of the mesocycle')
    """
    found = WEEK_OF.fullmatch(name)
    if found:
        return f"{ORDINALS[int(found[2]) - 1]} of {found[1]} loading weeks"
    found = LAST_WEEK.fullmatch(name)
    if found:
        place = "last" if found[1] == "4" else ORDINALS[int(found[1]) - 1]
        return f"{place} of the last loading weeks"
    found = RIR_WEEK.search(name)
    if found:
        return f"{ORDINALS[int(found[1]) - 1]} step of the mesocycle"
    return ADDED.get(name, "")


def _change(trail: Trail, step: Node, inner: Node, saying: Saying) -> Iterator[str]:
    same = step.value == inner.value
    if step.by == "round.distance":
        yield _on_the_grid(trail, step)
    elif step.by == "total":
        yield f"And {_additions(trail, step)}: {saying(figure(trail, step))}."
    elif not same and step.by == "least":
        yield _capped(trail, step, saying)
    elif not same and step.by == "clamp":
        low, high = (_input(trail, step, key) for key in ("low", "high"))
        yield f"Kept between {low} and {high}: {saying(figure(trail, step))}."
    elif not same and step.by in {"round.step", "round.up"}:
        yield f"Written as {saying(figure(trail, step))}."


def _on_the_grid(trail: Trail, step: Node) -> str:
    fine, coarse, border, room = (
        _input(trail, step, key) for key in ("fine_m", "coarse_m", "border_m", "longest_m")
    )
    rule = rule_words(trail, step.inputs.get("fine_m", ""))
    where = trail.standing.place()
    return (
        f"Written as {figure(trail, step)}: steps of {fine}, from {border} on of {coarse} ({rule}); "
        f"{where} leaves {room} after the run-out."
    )


def _additions(trail: Trail, step: Node) -> str:
    extra = step.inputs.get("extra", "")
    more = _input(trail, step, "extra")
    if extra.startswith("rule:"):
        return f"{more} more in a lighter week ({rule_words(trail, extra)})"
    return f"{more} more, so that the share of the 1RM stays under its cap"


def _capped(trail: Trail, step: Node, saying: Saying) -> str:
    main = {key for key in MAIN["least"] if trail.behind(step, key) is not None}
    caps = [key for key in sorted(step.inputs) if key not in main]
    tight = [key for key in caps if key == "longest"]
    if tight and len(caps) == 1:
        return f"{first_upper(trail.standing.place())} leaves {saying(figure(trail, step))}."
    why = listing(CAPS.get(key, f"by the {word(key)}") for key in caps)
    rules = [rule_words(trail, step.inputs[key]) for key in caps if step.inputs[key].startswith("rule:")]
    return f"At most {saying(figure(trail, step))} {why}{f' ({rules[0]})' if rules else ''}."


def _input(trail: Trail, node: Node, key: str) -> str:
    """Write one input of a step as a number with its unit."""
    link = node.inputs.get(key, "")
    behind = trail.behind(node, key)
    if behind is not None:
        return figure(trail, behind)
    if link.startswith("rule:"):
        return _rule_value(trail, link)
    kind, _, text = link.partition(":")
    if kind == "literal":
        return length(float(text), units=trail.book.units) if key.endswith("_m") else text
    return word(text.rpartition(".")[2])


def _rule_value(trail: Trail, link: str) -> str:
    rule, _, name = link.removeprefix("rule:").partition(".")
    if not trail.book.rulebook.has(rule, name):
        return word(name or link)
    unit = trail.book.rulebook.rule(rule).numbers[name].unit
    return _written(trail.book.rulebook.number(rule, name), unit, trail)


def _changed(trail: Trail, *links: str) -> str:
    changed = any(link.removeprefix("rule:") in trail.book.rulebook.changed for link in links)
    return ", changed by the coach" if changed else ""


def origin(trail: Trail, node: Node) -> str:
    """Cite what a step rests on: its own source and mark, else its formula's."""
    known = trail.book.formulas.get(node.by)
    source = (known.source, known.mark) if node.source is None and known else (node.source, node.mark)
    return citation(*source, rulebook=trail.book.rulebook)


def figure(trail: Trail, node: Node) -> str:
    """Write a step's value with as many digits as a coach can use."""
    if not isinstance(node.value, (int, float)):
        return node_amount(node, node.value, book=trail.book)
    return _written(node.value, node.unit, trail)


def _written(value: float, unit: str, trail: Trail) -> str:
    if unit == "L":
        return f"{number(value)} acceleration length{'s' * (value != 1)}"
    if unit in {"N/kg", "m/s"}:
        return f"{value:.2f} {unit}"
    if unit in {"m", "kg"}:
        return quantity(round(value, 2 if unit == "kg" else 1), unit, units=trail.book.units)
    if unit in {"1", "contacts", "sets"}:
        return f"{number(value)} {unit}".removesuffix(" 1") if unit == "1" else _counted(value, unit)
    return quantity(value, unit, units=trail.book.units)


def _counted(value: float, unit: str) -> str:
    return f"{number(value)} {unit.removesuffix('s') if value == 1 else unit}"


def banded(trail: Trail, node: Node, *, decimals: int | None = None) -> str:
    """Write a measured value with its 90 % band, such as `7.60 N/kg (7.39 to 7.81)`."""
    value = figure(trail, node)
    plain = isinstance(node.value, (int, float)) and decimals is not None
    if plain:
        value = f"{node.value:.{decimals}f}"
    if node.low is None or node.high is None:
        return value
    ends = (f"{end:.{decimals or 2}f}".replace("-", "−") for end in (node.low, node.high))
    return f"{value} ({' to '.join(ends)})"
