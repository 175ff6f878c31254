"""`why` says rule, measurement, sum, rounding and clock in a few sentences; `--all` tells every step."""

from __future__ import annotations

import pytest

from small_programme import document, small_programme
from speedloom.training.formula import load_formulas
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.wording.why import every_step, every_step_texts, why_sentences, why_text
from speedloom.wording.why_inputs import WhyBook
from speedloom.wording.why_measured import clock_words
from speedloom.workflows.explain import explain, explain_all


def book(**changes: object) -> WhyBook:
    plain = {"programme": small_programme(), "rulebook": load_rulebook(), "formulas": load_formulas()}
    return WhyBook(**{**plain, **changes})  # type: ignore[arg-type]


def test_a_load_is_told_from_the_aim_to_the_clock() -> None:
    aim, measured, computed, plates, clock = why_sentences(
        explain(small_programme(), "mila-203.load_kg"), book=book()
    )
    assert aim == (
        "Week 2, heavier day: about 32.5 % slower than free, 25 % of the way along the intermediate scale "
        "40 → 25 → 10 % (rule sled_dose, common practice)."
    )
    assert measured == (
        "Profile of 8 January 2026 (gates): start force (F0) 7.90 N/kg (7.60 to 8.20) "
        "(Samozino and others 2016, read)."
    )
    assert computed == "Balance of forces: 38.1 kg, sled included (Cross and others 2017, read)."
    assert plates == "Plates in the hall: 37.5 kg, so 30 % slower."
    assert clock == (
        "On the clock (gates, 0.5 m behind the beam): about 3.48 s, 9 runs in 10 from 3.36 to 3.61 s."
    )


def test_every_step_keeps_the_order_rule_measurement_formula_rounding_clock() -> None:
    sentences = every_step(explain(small_programme(), "mila-203.load_kg"), book=book())
    dose, measured, computed, rounded, clock = sentences
    assert "general 40 %, middle 25 %, specific 10 % (rule sled_dose: common practice)" in dose
    assert "specificity 0.25" in dose
    assert "Start force (F0): 7.9 N/kg (90 % band 7.6 to 8.2 N/kg)" in measured
    assert "trials of mila on 8 January 2026 by gates" in measured
    assert "Cross and others 2017, read" in computed
    assert rounded.startswith("Load: 37.5 kg.")
    assert "about 3.48 s, 9 runs in 10 from 3.36 to 3.61 s" in clock


def test_the_text_is_numbered_and_begins_with_the_number() -> None:
    text = why_text(explain(small_programme(), "mila-203.load_kg"), book=book())
    lines = text.splitlines()
    assert lines[0] == "Why mila-203.load_kg is 37.5 kg"
    assert [line.partition(".")[0] for line in lines[1:]] == ["1", "2", "3", "4", "5"]


def test_the_coach_is_named_with_the_reason() -> None:
    told = explain(small_programme(), "mila-452.sets")
    assert why_sentences(told, book=book()) == (
        "Sets: 3, set by the coach instead of 4: Sore after the cup.",
    )
    assert every_step(told, book=book()) == ("Sets: 3, set by the coach instead of 4: Sore after the cup.",)


def test_a_number_of_the_coach_inside_a_derivation_is_said() -> None:
    content = document()
    content["basis"]["b4"] = {
        "quantity": "decrement", "value": 0.3, "unit": "share", "by": "coach",
        "inputs": {"proposed": "literal:0.4"}, "mark": "common practice", "reason": "New to the sled",
    }  # fmt: skip
    programme = small_programme(content)
    first = why_sentences(explain(programme, "mila-203.load_kg"), book=book(programme=programme))[0]
    assert "about 30 % slower than free, set by the coach" in first
    assert first.endswith("New to the sled.")


def test_a_changed_rule_number_says_so() -> None:
    change = RuleChange(
        rule="sled_dose", number="decrement_intermediate_general", value=0.35, reason="Short hall"
    )
    changed = book(rulebook=load_rulebook().with_changes((change,)))
    told = explain(small_programme(), "mila-203.load_kg")
    assert (
        "35 → 25 → 10 % (rule sled_dose, common practice, changed by the coach)"
        in (why_sentences(told, book=changed)[0])
    )
    assert (
        "general 35 % (rule sled_dose: common practice, changed by the coach)"
        in (every_step(told, book=changed)[0])
    )


def test_a_number_that_is_only_read_is_said() -> None:
    told = explain(small_programme(), "mila-w2.specificity")
    assert every_step(told, book=book()) == ("Specificity: 0.25. Read: 0.25 (common practice).",)
    assert why_sentences(told, book=book()) == ("Specificity: 25 % (common practice).",)


@pytest.mark.parametrize(("place", "turn"), [("1", "week 2 of three that rise"), ("3", "the easy week")])
def test_a_week_in_season_is_told(place: str, turn: str) -> None:
    content = document()
    content["basis"]["b3"] |= {
        "by": "weeks.in_season",
        "inputs": {"low": "literal:0.2", "high": "literal:0.3", "place": f"literal:{place}"},
    }
    programme = small_programme(content)
    told = why_sentences(explain(programme, "mila-w2.specificity"), book=book(programme=programme))
    assert told == (
        "In season a week stands between 20 % and 30 % of the way to specific.",
        f"Week 2 is {turn}: 25 % of the way (common practice).",
    )


def test_a_weeks_volume_is_told_line_by_line() -> None:
    first, last = why_sentences(explain(small_programme(), "mila-w2.volumes.resisted_sprint"), book=book())
    assert first == "4 runs × 10 m."
    assert last == "Together 40 m; wanted were 42 m."


def test_an_unknown_formula_of_a_hand_made_file_is_told_by_its_name() -> None:
    content = document()
    content["basis"]["b6"]["by"] = "own.formula"
    programme = small_programme(content)
    for text in (
        why_text(explain(programme, "mila-203.load_kg"), book=book(programme=programme)),
        every_step_texts([explain(programme, "mila-203.load_kg")], book=book(programme=programme)),
    ):
        assert "By own.formula, from" in text


def test_what_was_told_is_not_told_again() -> None:
    content = document()
    line = content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]
    line["basis"] = {"load_kg": "b6", "decrement": "b4"}
    programme = small_programme(content)
    text = every_step_texts(explain_all(programme, "mila-203"), book=book(programme=programme))
    assert "Why mila-203.load_kg is 37.5 kg (told above: 1 of its steps)" in text
    assert text.count("Slower at the distance by: 32.5 %. A dose") == 1


@pytest.mark.parametrize(
    ("clock", "said"),
    [
        ("gates/behind/0.5", "gates, 0.5 m behind the beam"),
        ("hand/movement", "hand timing, started by the first movement"),
        ("gates/flying", "gates, from beam to beam"),
        ("gates", "gates"),
    ],
)
def test_a_clock_is_said_as_it_is_started(clock: str, said: str) -> None:
    assert clock_words(clock) == said
