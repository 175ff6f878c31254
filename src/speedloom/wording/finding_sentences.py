"""Findings that a coach would say in other words than "this, the rule says that"."""

from __future__ import annotations

from collections.abc import Mapping

from speedloom.checking.finding import Finding
from speedloom.wording.names import METHOD_NAMES, word
from speedloom.wording.units import METRIC, Units, mass_number

FIELDS: Mapping[str, str] = {
    "added_kg": "added load",
    "decrement": "slower by",
    "distance_m": "distance",
    "effort": "effort",
    "expect.high": "latest time expected",
    "expect.low": "earliest time expected",
    "expect.share_vmax": "share of top speed",
    "expect.time_s": "expected time",
    "height_m": "height",
    "hold_s": "hold",
    "load_kg": "load",
    "minutes": "minutes",
    "minutes_available": "minutes of the slot",
    "reps": "repetitions",
    "reps_to": "most repetitions",
    "rest_reps_s": "rest between repetitions",
    "rest_s": "rest between sets",
    "rir": "repetitions in reserve",
    "run_in_m": "run-in",
    "share_1rm": "share of 1RM",
    "stop_rule": "rule when to stop",
    "stop_rule.value": "rule when to stop",
}
"""What a coach calls the fields of a line."""
SENTENCES: Mapping[str, str] = {
    "adult_named": "{value} under 16 and no responsible adult named",
    "contacts_rise": "{value} in the week, at most {limit} after the four weeks before",
    "copenhagen.in_season": "{value} a week in season, the published number is {limit}",
    "copenhagen.pre_season": "{value} a week before the season, the published number is {limit}",
    "fast_metres_rise": "{value} at 90 % and faster in the week, at most {limit} after the four weeks before",
    "introduction_week.rir": "{value} in reserve, in the first week at least {limit}",
    "kit_present": "{value} has no {limit}",
    "line_complete": "no {value}",
    "load_possible": "{value}, the empty kit alone is {limit}",
    "place_kind": "not for this kind of place ({value}), only for {limit}",
    "place_straight": "{value} with the run-out, on a straight of {limit}",
    "restriction_kept": "{value}, the limit is {limit}",
    "slot_minutes": "{value} in a slot of {limit}",
    "two_hard_days": "{value} in a row, at most {limit}",
}
WHAT: Mapping[str, str] = {
    "age": "the exercise is for athletes of {limit} and more",
    "date_outside_week": "the date {value} lies outside its week",
    "exercise_unknown": '"{value}" is no exercise of the catalogue or of the brief',
    "level": "for {limit} athletes, this one is {value}",
    "locked_unknown": "locks {value}, which the line does not have",
    "pair_unknown": "paired with {value}, which is not in the session",
    "place_unknown": '"{value}" is no place of the brief',
    "ref_form": "{value} is not a reference of this athlete",
    "ref_retired": "{value} was given up before",
    "ref_twice": "{value} stands twice",
    "slot_differs": "not at the day, time and place of the slot {value}, {limit}",
    "slot_unknown": '"{value}" is no slot of the brief',
    "week": "the week of {value} is out of order",
}
"""What is wrong with the document, by what the check names."""
DERIVATIONS: Mapping[str, str] = {
    "the number is not its node's value": "{name} {value}, its derivation gives {limit}",
    "no such node": "{name} {value} rests on a derivation that is not there",
    "about something else": "{name}: derived for {argument} {value}, the line has {limit}",
    "count": "{name} {value} written, {limit} counted",
    "value": "{name} {value}, computed again {limit}",
    "band": "{name}: the band computed again is {limit}",
}
NAMED = {"document_sound", "prerequisites_met"}
"""Rules whose findings say in `what` which of several things is wrong."""
TOO_LITTLE: Mapping[str, str] = {
    "contacts_session": "Add a set of jumps.",
    "deload_cut.cut_high": "Cut less.",
    "effort": "Raise the effort.",
    "rest": "Lengthen the rest.",
    "run_in": "Lengthen the run-in.",
    "session": "Add a run.",
    "distance": "Lengthen the runs.",
    "set_rest": "Lengthen the rest.",
    "taper.cut_high": "Cut less.",
    "youth_lifting.sessions_low": "Add a lifting day.",
    "zone": "Lengthen the zone.",
}
"""What to do at the other end of a rule whose advice is to take away: by rule, rule and number, or number."""
INSIDE = {"argument", "restriction", "what", "below", "above"}
"""Facts that are already in the sentence."""
IN_DERIVATIONS = INSIDE | {"node", "why", "quantity", "by"}
"""Facts of a derivation that are for the file's reader."""


def field_name(field: str) -> str:
    """Name a field of a line or week.

    >>> field_name("volumes.acceleration"), field_name("rest_reps_s")
    ('standing runs of the week', 'rest between repetitions')
    """
    if field.startswith("volumes."):
        method = field.removeprefix("volumes.").removesuffix(".wanted")
        return f"{METHOD_NAMES.get(method, word(method)).lower()} of the week"
    return FIELDS.get(field, word(field))


def sentence(finding: Finding, *, value: str, limit: str) -> str:
    """Say a finding in its own sentence; empty where the usual one will do."""
    detail = dict(finding.detail)
    parts = {"value": value, "limit": limit, "name": field_name(finding.number)}
    if finding.rule == "derivation":
        told = DERIVATIONS.get(detail.get("why", ""), "")
        return told.format(**parts, argument=field_name(detail.get("argument", "").replace(" ", "_")))
    if finding.rule == "line_complete":
        parts["value"] = field_name(str(finding.value or ""))
    if finding.rule == "load_possible" and not limit:
        return f"{value} cannot be made from the pieces there{_nearest(finding)}"
    if finding.rule in NAMED:
        return WHAT.get(detail.get("what", ""), "").format(**parts)
    usual = SENTENCES.get(finding.rule, "")
    return SENTENCES.get(f"{finding.rule}.{finding.number}", usual).format(**parts)


def _nearest(finding: Finding) -> str:
    """Say which loads beside one that cannot be made can, in the unit the finding is told in."""
    units = Units(mass="lb") if finding.unit == "lb" else METRIC
    masses = [text for name, text in finding.detail if name in {"below", "above"}]
    shown = " or ".join(mass_number(float(text), units=units) for text in masses)
    return f"; nearest {shown} {finding.unit}" if shown else ""


def todo(finding: Finding, usual: str) -> str:
    """Say what to do: the rule's own advice, or the reverse where there is too little."""
    name = f"{finding.rule}.{finding.number}"
    part, low, _ = finding.number.partition("_low")
    value, limit = finding.value, finding.limit
    if name in TOO_LITTLE:
        return TOO_LITTLE[name]
    if isinstance(value, str) or isinstance(limit, str) or value is None or limit is None:
        return usual
    reverse = low and value < limit
    return TOO_LITTLE.get(finding.rule, TOO_LITTLE.get(part, usual)) if reverse else usual


def facts(finding: Finding) -> tuple[tuple[str, str], ...]:
    """Give the facts that the sentence does not hold already."""
    inside = IN_DERIVATIONS if finding.rule == "derivation" else INSIDE
    return tuple((name, text) for name, text in finding.detail if name not in inside)
