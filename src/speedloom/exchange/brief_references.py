"""What a brief names has to exist: places, slots, athletes, exercises, tags, rules, the zone of its times."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from speedloom.exchange.brief_content import Content
from speedloom.exchange.fault import did_you_mean, listed, shown
from speedloom.exchange.toml_text import KeyPath
from speedloom.training.exercise import Catalogue
from speedloom.training.rule import Rule, Rulebook, RuleNumber


def check_references(brief: Content, *, catalogue: Catalogue, rulebook: Rulebook) -> None:
    """Look up every name in the brief."""
    _timezone(brief)
    _places(brief)
    _own_lines(brief)
    _repeated(brief)
    _exercises(brief, catalogue)
    _limits(brief, catalogue)
    for path, change in brief.tables("rules"):
        _change(brief, path, change, rulebook)
    _repeated_changes(brief)


def _timezone(brief: Content) -> None:
    name = brief.text("timezone")
    if name is None:
        return
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        zones = {zone.lower(): zone for zone in available_timezones()}
        near = did_you_mean(name, zones, otherwise='for instance "Europe/Amsterdam"')
        todo = next((near.replace(low, zone) for low, zone in zones.items() if f'"{low}"' in near), near)
        brief.fault(("timezone",), "a time zone of the IANA list", todo)


def _places(brief: Content) -> None:
    places = brief.refs("places")
    for key in ("places", "slots"):
        if key in brief.content and not brief.get(key):
            brief.fault((key,), f"at least one of {key}", f"add [[{key}]]", came="none")
    for path, _ in (*brief.tables("slots"), *brief.tables("kit")):
        brief.one_of((*path, "place"), places, "the ref of a place")


def _own_lines(brief: Content) -> None:
    slots, athletes = brief.refs("slots"), brief.refs("athletes")
    for path, _ in brief.tables("own_lines"):
        brief.one_of((*path, "slot"), slots, "the ref of a slot")
        for inner, _ in brief.values(*path, "athletes") if athletes else ():
            brief.one_of(inner, athletes, "the ref of an athlete")


def _repeated(brief: Content) -> None:
    lists = [list(brief.tables(kind)) for kind in ("places", "kit", "slots", "athletes", "own_lines")]
    athletes = [path for path, _ in brief.tables("athletes")]
    lists.append([one for path in athletes for one in brief.tables(*path, "restrictions")])
    for those in lists:
        seen: set[object] = set()
        for path, item in those:
            ref = item.get("ref")
            if isinstance(ref, str) and ref in seen:
                brief.fault((*path, "ref"), "each ref once", "give one of them another ref")
            seen.add(ref if isinstance(ref, str) else None)


def _exercises(brief: Content, catalogue: Catalogue) -> None:
    known = tuple(exercise.ref for exercise in catalogue.exercises)
    paths: list[KeyPath] = [
        path for choice in ("leave_out", "prefer") for path, _ in brief.values("exercises", choice)
    ]
    # A line with a title of its own may be an exercise of the coach's own.
    paths += [(*path, "exercise") for path, line in brief.tables("own_lines") if not line.get("title")]
    for athlete, _ in brief.tables("athletes"):
        paths += [(*path, "exercise") for path, _ in brief.tables(*athlete, "lifts")]
    for path in paths:
        brief.one_of(path, known, "an exercise of the catalogue")
    left = {item for _, item in brief.values("exercises", "leave_out") if isinstance(item, str)}
    for path, item in brief.values("exercises", "prefer"):
        if isinstance(item, str) and item in left:
            brief.fault(path, "an exercise that is not left out", "take it out of leave_out or of prefer")


def _limits(brief: Content, catalogue: Catalogue) -> None:
    exercises = tuple(exercise.ref for exercise in catalogue.exercises)
    tags = tuple(sorted(catalogue.tags))
    for path in _restrictions(brief):
        for limit, _ in brief.tables(*path, "limits"):
            brief.one_of((*limit, "exercise"), exercises, "an exercise of the catalogue")
            brief.one_of((*limit, "tag"), tags, "a tag of the catalogue")


def _restrictions(brief: Content) -> Iterator[KeyPath]:
    for athlete, _ in brief.tables("athletes"):
        yield from (path for path, _ in brief.tables(*athlete, "restrictions"))


def _change(brief: Content, path: KeyPath, change: dict[str, object], rulebook: Rulebook) -> None:
    rules = {rule.id: rule for rule in rulebook.rules}
    name, number = change.get("rule"), change.get("number")
    if not isinstance(name, str) or not isinstance(number, str):
        return
    if name not in rules:
        brief.one_of((*path, "rule"), tuple(rules), "a rule of the rulebook")
        return
    rule = rules[name]
    if number not in rule.numbers:
        _unknown_number(brief, path, number, rule)
        return
    value = change.get("value")
    if isinstance(value, int | float) and not isinstance(value, bool):
        _changed_value(brief, path, float(value), rule, rule.numbers[number])


_ENDS = (("maximum", "high"), ("minimum", "low"), ("max", "high"), ("min", "low"))


def _unknown_number(brief: Content, path: KeyPath, number: str, rule: Rule) -> None:
    """Offer the nearest number; the ends of a range are called low and high here."""
    parts = [dict(_ENDS).get(part, part) for part in number.split("_")]
    known = tuple(rule.numbers)
    todo = did_you_mean("_".join(parts), known, otherwise=f"known here: {listed(sorted(known))}")
    brief.fault((*path, "number"), f"a number of the rule {rule.id}", todo)


def _changed_value(brief: Content, path: KeyPath, value: float, rule: Rule, number: RuleNumber) -> None:
    if number.unit == "share" and not 0 <= value <= max(1.0, number.value):
        todo = f"shares are fractions: {value:g} % is {value / 100:g}"
        brief.fault((*path, "value"), "a share from 0 to 1", todo)
    elif value < 0 <= number.value:
        brief.fault((*path, "value"), f"a number of {number.unit} that is not negative", "check the sign")
    hard = rule.health and (number.weight or rule.weight) == "hard"
    approver = brief.get(*path, "approved_by")
    if hard and loosens(value, number) and not (isinstance(approver, str) and approver.strip()):
        came = f"{value:g} {number.unit} in place of {number.value:g} and no name"
        todo = "a health rule may be made stricter by the coach; to loosen it write approved_by = a name"
        brief.fault((*path, "approved_by"), "the name of who approves", todo, came=came)


def loosens(value: float, number: RuleNumber) -> bool:
    """Say whether a changed number makes its rule looser, or may do so.

    >>> loosens(12.0, RuleNumber(value=24.0, unit="h", tighter="higher"))
    True
    """
    if number.tighter == "higher":
        return value < number.value
    if number.tighter == "lower":
        return value > number.value
    return value != number.value


def _repeated_changes(brief: Content) -> None:
    names = [(item.get("rule"), item.get("number")) for _, item in brief.tables("rules")]
    texts = [f"{rule}.{number}" for rule, number in names]
    twice = {text for text, times in Counter(texts).items() if times > 1}
    seen: set[str] = set()
    for (path, _), text in zip(brief.tables("rules"), texts, strict=True):
        if text in twice and text in seen:
            todo = "leave one of the two changes out"
            brief.fault((*path, "number"), "each number changed once", todo, came=f"{shown(text)} again")
        seen.add(text)
