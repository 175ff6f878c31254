"""`why` walks from the rule over the measurement to the rounding, and ends on the clock."""

from __future__ import annotations

from small_programme import document, small_programme
from speedloom.training.formula import load_formulas
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.wording.why import why_sentences, why_text, why_texts
from speedloom.wording.why_inputs import WhyBook
from speedloom.workflows.explain import explain, explain_all


def book(**changes: object) -> WhyBook:
    plain = {"programme": small_programme(), "rulebook": load_rulebook(), "formulas": load_formulas()}
    return WhyBook(**{**plain, **changes})  # type: ignore[arg-type]


def test_the_order_rule_measurement_formula_rounding_clock() -> None:
    sentences = why_sentences(explain(small_programme(), "mila-203.load_kg"), book=book())
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
    sentences = why_sentences(explain(small_programme(), "mila-452.sets"), book=book())
    assert sentences == ("Sets: 3, set by the coach instead of 4: Sore after the cup.",)


def test_a_changed_rule_number_says_so() -> None:
    change = RuleChange(
        rule="sled_dose", number="decrement_intermediate_general", value=0.35, reason="Short hall"
    )
    changed = book(rulebook=load_rulebook().with_changes((change,)))
    first = why_sentences(explain(small_programme(), "mila-203.load_kg"), book=changed)[0]
    assert "general 35 % (rule sled_dose: common practice, changed by the coach)" in first


def test_a_number_that_is_only_read_is_said() -> None:
    sentences = why_sentences(explain(small_programme(), "mila-w2.specificity"), book=book())
    assert sentences == ("Specificity: 0.25. Read: 0.25 (common practice).",)


def test_an_unknown_formula_of_a_hand_made_file_is_told_by_its_name() -> None:
    content = document()
    content["basis"]["b6"]["by"] = "own.formula"
    programme = small_programme(content)
    text = why_text(explain(programme, "mila-203.load_kg"), book=book(programme=programme))
    assert "By own.formula, from" in text


def test_what_was_told_is_not_told_again() -> None:
    content = document()
    line = content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][2]
    line["basis"] = {"load_kg": "b6", "decrement": "b4"}
    programme = small_programme(content)
    text = why_texts(explain_all(programme, "mila-203"), book=book(programme=programme))
    assert "Why mila-203.load_kg is 37.5 kg (told above: 1 of its steps)" in text
    assert text.count("Slower at the distance by: 32.5 %. A dose") == 1
