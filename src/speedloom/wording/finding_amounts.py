"""How much a finding is about: what is counted, by how much, and of what."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import floor, log10

from speedloom.checking.finding import Finding
from speedloom.training.rule import RuleNumber
from speedloom.wording.names import word
from speedloom.wording.rules import amount_text

CALLED: Mapping[str, str] = {
    "assisted_sprint.speed_share": "speed",
    "band_width.width": "band",
    "contacts_rise.rise": "the week",
    "copenhagen.pre_season": "before the season",
    "depth_jump_strength.share_body_mass": "squat",
    "fast_metres_rise.rise": "the week's fast metres",
    "hamstring_week.share": "fastest run",
    "introduction_week.share": "speed",
    "jump_squat_load.share": "load",
    "match_gap.hard_h": "before the match",
    "match_gap.warn_h": "before the match",
    "nordic_ramp": "the week's Nordics",
    "short_rest.share": "rest",
    "sled_pull_bands": "sled",
    "sled_push_bands": "sled",
    "sprint_gap.hard_gap_h": "gap",
    "strength_zone.low_share": "load",
    "strength_zone.share": "load",
    "top_speed_exposure.days": "without a fast run",
    "two_hard_days.days_high": "in a row",
    "warm_up_present.share": "warm-up",
    "youth_load.share": "load",
}
"""What a coach calls it, by rule and number, where the number's own name says something else."""
PARTS: Mapping[str, str] = {"m": "metres"}
_ENDING = re.compile(r"( (low|high|\d+|m|s|h|kg|years|s per 10 m))+$")
"""What ends a number's name beside what it is: which end of a range, hours before, the unit."""
_DIGITS = 3


def amount(finding: Finding, *, known: RuleNumber | None) -> str:
    """Say what there is, what the rule asks for, and the further facts."""
    value, limit = _values(finding)
    what = _what(finding, shown=value)
    asked = f"{_bound(finding, known=known)}{limit}{_of(known)}"
    said = f"{what}{value}, the rule says {asked}" if value and limit else f"{what}{value or limit}".strip()
    return "; ".join(filter(None, (said, *(_fact(name, text) for name, text in finding.detail))))


def _what(finding: Finding, *, shown: str) -> str:
    called = CALLED.get(f"{finding.rule}.{finding.number}") or CALLED.get(finding.rule)
    name = called or _ENDING.sub("", word(finding.number))
    # "sessions 2 sessions" says it twice.
    return "" if not name or shown.endswith((f" {name}", f" {name.removesuffix('s')}")) else f"{name} "


def _bound(finding: Finding, *, known: RuleNumber | None) -> str:
    value, limit = finding.value, finding.limit
    if known is None or known.tighter is None:
        return ""
    if isinstance(value, str) or isinstance(limit, str) or value is None or limit is None or value == limit:
        return {"lower": "at most ", "higher": "at least "}[known.tighter]
    # A zone has two ends, and one number may be either: 85 % of 1RM is the least late and the most early.
    return "at most " if value > limit else "at least "


def _of(known: RuleNumber | None) -> str:
    note = re.split(r"[;,]", known.note)[0] if known and known.unit == "share" else ""
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
    return said.removesuffix("s") if rounded == 1 and len(unit) > 1 else said


def _fact(name: str, text: str) -> str:
    if name in {"lines", "weeks"}:
        return f"{text} {name if text != '1' else name.removesuffix('s')}"
    return f"{word(name)} {PARTS.get(text, word(text))}"
