"""How much a finding is about: what is counted, by how much, and of what."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from math import floor, log10

from speedloom.checking.finding import Finding
from speedloom.training.rule import Rule, RuleNumber
from speedloom.wording.finding_sentences import facts, sentence
from speedloom.wording.names import word
from speedloom.wording.rules import amount_text
from speedloom.wording.units import KG_PER_LB, M_PER_YD, METRIC, Units

CALLED: Mapping[str, str] = {
    "acceleration_rest.rest_s_per_10_m": "rest",
    "acceleration_rest.s_per_10_m": "rest",
    "assisted_sprint.speed_share": "speed",
    "band_width.width": "band",
    "contacts_session": "session",
    "depth_jump_strength.share_body_mass": "squat",
    "hamstring_week.share": "fastest run",
    "introduction_week.decrement": "slower by",
    "introduction_week.share": "speed",
    "jump_squat_load.share": "load",
    "match_gap.hard_h": "before the match",
    "match_gap.warn_h": "before the match",
    "nordic_ramp": "the week's Nordics",
    "short_rest.share": "rest",
    "sled_heavy_caution.decrement": "slower by",
    "sled_pull_bands": "sled",
    "sled_push_bands": "sled",
    "sprint_gap.hard_gap_h": "gap",
    "strength_zone.low_share": "load",
    "strength_zone.share": "load",
    "top_speed_exposure.days": "without a fast run",
    "warm_up_present.share": "warm-up",
    "youth_load.share": "load",
}
"""What a coach calls it, by rule and number, where the number's own name says something else."""
PARTS: Mapping[str, str] = {"m": "metres"}
DEFAULTS = {"short_rest", "warm_up_present"}
"""Rules whose limit is the default dose itself."""
BANDS = {"sled_pull_bands", "sled_push_bands"}
"""Rules whose limit is one end of a published range."""
_ENDING = re.compile(r"( (low|high|\d+|m|s|h|kg|years|s per 10 m))+$")
"""What ends a number's name beside what it is: which end of a range, hours before, the unit."""
_DIGITS = 3


def amount(finding: Finding, *, rule: Rule, units: Units = METRIC) -> str:
    """Say what there is, what the rule asks for, and the further facts, in the reader's units."""
    value, limit = _values(_in(finding, units))
    said = sentence(finding, value=value, limit=limit) or _usual(finding, rule, value=value, limit=limit)
    return "; ".join(filter(None, (said, *(_fact(name, text) for name, text in facts(finding)))))


def _in(finding: Finding, units: Units) -> Finding:
    """Give a finding with its numbers in the units of whoever reads it."""
    known = {"kg": (units.mass, KG_PER_LB), "m": (units.length, M_PER_YD)}
    unit, size = known.get(finding.unit, (finding.unit, 1.0))
    if unit == finding.unit:
        return finding
    value, limit = (
        one if one is None or isinstance(one, str) else one / size for one in (finding.value, finding.limit)
    )
    return replace(finding, value=value, limit=limit, unit=unit)


def _usual(finding: Finding, rule: Rule, *, value: str, limit: str) -> str:
    known = rule.numbers.get(finding.number)
    if finding.rule in BANDS and value:
        return f"sled {value} of body mass, the published range is {_range(finding.number, rule)}"
    what = _what(finding, shown=value)
    if what == "cut " and value.startswith(("-", "−")):
        what, value = "more by ", value[1:]
    if not (value and limit):
        return f"{what}{value or limit}".strip()
    if finding.rule in DEFAULTS:
        return f"{what}{value}, the default is {limit}"
    return f"{what}{value}, the rule says {_bound(finding, known=known)}{limit}{_of(known, finding.unit)}"


def _range(number: str, rule: Rule) -> str:
    name = number.removesuffix("_low").removesuffix("_high")
    ends = [rule.numbers.get(f"{name}_{end}") for end in ("low", "high")]
    low, high = (amount_text(end.value, end.unit) if end else "" for end in ends)
    return f"{low.removesuffix(' %')}–{high}"


def _what(finding: Finding, *, shown: str) -> str:
    called = CALLED.get(f"{finding.rule}.{finding.number}") or CALLED.get(finding.rule)
    name = called or _ENDING.sub("", word(finding.number))
    # "top-speed runs 2 runs" says it twice.
    last = name.rpartition(" ")[2]
    return "" if not name or shown.endswith((f" {last}", f" {last.removesuffix('s')}")) else f"{name} "


def _bound(finding: Finding, *, known: RuleNumber | None) -> str:
    value, limit = finding.value, finding.limit
    if known is None or known.tighter is None:
        return ""
    if isinstance(value, str) or isinstance(limit, str) or value is None or limit is None or value == limit:
        return {"lower": "at most ", "higher": "at least "}[known.tighter]
    # A zone has two ends, and one number may be either: 85 % of 1RM is the least late and the most early.
    return "at most " if value > limit else "at least "


def _of(known: RuleNumber | None, unit: str) -> str:
    note = re.split(r"[;,]", known.note)[0] if known and known.unit == unit == "share" else ""
    return f" {note}" if note.startswith("of ") else ""


def _values(finding: Finding) -> tuple[str, str]:
    pair = finding.value, finding.limit
    short = tuple(_value(one, finding.unit, digits=_DIGITS) for one in pair)
    if short[0] == short[1] and finding.value != finding.limit:
        short = tuple(_value(one, finding.unit, digits=2 * _DIGITS) for one in pair)
    return short[0], short[1]


def _value(value: float | str | None, unit: str, *, digits: int) -> str:
    if value is None or isinstance(value, str):
        return word(value or "")
    per_cent = value * 100 if unit == "share" else value
    places = max(0, digits - 1 - floor(log10(abs(per_cent)))) if per_cent else 0
    rounded = round(per_cent, places)
    said = amount_text(rounded / 100 if unit == "share" else rounded, unit)
    counted = len(unit) > 1 or said.endswith(" days")
    return said.removesuffix("s") if rounded == 1 and counted else said


def _fact(name: str, text: str) -> str:
    if name in {"lines", "weeks"}:
        return f"{text} {name if text != '1' else name.removesuffix('s')}"
    if name in {"match", "why"}:
        return f"{name}: {word(text)}".removeprefix("why: ")
    return f"{word(name)} {PARTS.get(text, word(text))}"
