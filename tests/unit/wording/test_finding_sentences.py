"""Findings as a coach would say them, for rules where "this, the rule says that" says too little."""

from __future__ import annotations

import pytest

from speedloom.checking.finding import Finding, Findings
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.wording.finding_amounts import amount
from speedloom.wording.findings import FindingsBook, finding_words, findings_text

BOOK = load_rulebook()


def said(rule: str, number: str = "", **fields: object) -> str:
    finding = Finding(**{"rule": rule, "weight": "warning", "number": number, **fields})  # type: ignore[arg-type]
    return amount(finding, rule=BOOK.rule(rule))


@pytest.mark.parametrize(
    ("rule", "number", "fields", "sentence"),
    [
        ("slot_minutes", "", {"value": 110.0, "limit": 80.0, "unit": "min"}, "110 min in a slot of 80 min"),
        (
            "load_possible",
            "",
            {"value": 90.3, "unit": "kg", "detail": (("kit", "bar"), ("below", "90"), ("above", "91"))},
            "90.3 kg cannot be made from the pieces there; nearest 90 or 91 kg; kit bar",
        ),
        (
            "load_possible",
            "",
            {"value": 400.0, "unit": "kg", "detail": (("kit", "bar"), ("below", "180"))},
            "400 kg cannot be made from the pieces there; nearest 180 kg; kit bar",
        ),
        ("line_complete", "", {"value": "rest_reps_s"}, "no rest between repetitions"),
        (
            "adult_named",
            "age_years",
            {"value": 1.0, "unit": "athletes"},
            "1 athlete under 16 and no responsible",
        ),
        (
            "copenhagen",
            "pre_season",
            {"value": 0.75, "limit": 3.0, "unit": "sessions"},
            "0.75 sessions a week before the season, the published number is 3 sessions",
        ),
        (
            "deload_cut",
            "cut_low",
            {"value": -0.797, "limit": 0.3, "unit": "share", "detail": (("of", "m"),)},
            "more by 79.7 %, the rule says at least 30 %; of metres",
        ),
        (
            "derivation",
            "decrement",
            {
                "value": 0.7,
                "limit": 0.193,
                "unit": "share",
                "detail": (("node", "b9"), ("why", "the number is not its node's value")),
            },
            "slower by 70 %, its derivation gives 19.3 %",
        ),
        (
            "derivation",
            "volumes.acceleration",
            {"value": 130.0, "limit": 15.0, "unit": "m", "detail": (("why", "count"),)},
            "standing runs of the week 130 m written, 15 m counted",
        ),
        (
            "restriction_kept",
            "",
            {
                "value": 64.0,
                "limit": 20.0,
                "unit": "contacts",
                "detail": (("restriction", "gus_ham"), ("what", "contacts"), ("set_by", "Physio Maier")),
            },
            "64 contacts, the limit is 20 contacts; set by Physio Maier",
        ),
        (
            "sled_heavy_caution",
            "decrement",
            {"value": 0.45, "limit": 0.3, "unit": "share"},
            "slower by 45 %, the rule says at most 30 %",
        ),
    ],
)
def test_a_finding_in_a_coachs_words(
    rule: str, number: str, fields: dict[str, object], sentence: str
) -> None:
    assert said(rule, number, **fields).startswith(sentence)


def test_a_rules_heading_is_printed_once() -> None:
    rows = [("distance_high_m", 40.0), ("session_high_m", 300.0)]
    found = Findings(
        tuple(Finding(rule="sled_session", weight="warning", number=n, value=v, limit=30.0) for n, v in rows)
    )
    text = findings_text(found, book=FindingsBook(rulebook=BOOK, catalogue=load_catalogue()))
    assert text.count("Resisted sprints are 10–30 m long") == 1
    assert text.count("To do:") == 1


@pytest.mark.parametrize(
    ("rule", "number", "value", "limit", "what_to_do"),
    [
        ("youth_lifting", "sessions_low", 1.0, 2.0, "Add a lifting day."),
        ("youth_lifting", "sessions_high", 4.0, 3.0, "Move or drop a lifting day."),
        ("sled_session", "rest_low_s", 60.0, 180.0, "Lengthen the rest."),
        ("sled_session", "distance_high_m", 40.0, 30.0, "Shorten the runs or take one away."),
        ("contacts_session", "novice_low", 20.0, 80.0, "Add a set of jumps."),
    ],
)
def test_what_to_do_fits_the_end_that_is_passed(
    rule: str, number: str, value: float, limit: float, what_to_do: str
) -> None:
    finding = Finding(rule=rule, weight="warning", number=number, value=value, limit=limit)
    book = FindingsBook(rulebook=BOOK, catalogue=load_catalogue())
    assert finding_words(finding, book=book).todo == what_to_do
