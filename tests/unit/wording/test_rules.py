"""The rulebook can be read, and its template can be filled in."""

import re
import tomllib

import pytest

from speedloom.training.rule import Rule, Rulebook, RuleChange, RuleNumber, Source, load_rulebook
from speedloom.wording.rules import amount_text, citation, rules_text, rules_toml, topic_of

BOOK = load_rulebook()
ASKED = 'Physio said "wait": two days\nare too few'
CHANGE = RuleChange(rule="sprint_gap", number="hard_gap_h", value=36.0, reason=ASKED, approved_by="Dr N. N.")
CHANGED = BOOK.with_changes((CHANGE,))


def uncommented(text: str) -> str:
    return re.sub(r"(?m)^# ", "", text)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.14, "share", "14 %"),
        (1.05, "share", "105 %"),
        (0.0, "kg", "0 kg"),
        (60.0, "s per 10 m", "60 s per 10 m"),
        (10.0, "d", "10 days"),
        (16.0, "y", "16 years"),
        (32.2, "degC", "32.2 °C"),
        (1.78, "1", "1.78"),
    ],
)
def test_amounts_read_as_coaches_say_them(value: float, unit: str, text: str) -> None:
    assert amount_text(value, unit) == text


@pytest.mark.parametrize(
    ("authors", "year", "text"),
    [
        ("Foster C", 1998, "Foster 1998"),
        ("Cahill MJ and others", 2019, "Cahill and others 2019"),
        ("Sáez de Villarreal E, Requena B, Cronin JB", 2012, "Sáez de Villarreal and others 2012"),
        ("Morin J-B, Samozino P", 2016, "Morin and others 2016"),
        ("Haff GG, Triplett NT (eds)", 2016, "Haff and others 2016"),
        ("American College of Sports Medicine", 2007, "American College of Sports Medicine 2007"),
        ("", None, "Some title"),
    ],
)
def test_citations_are_short(authors: str, year: int | None, text: str) -> None:
    assert citation(Source(ref="x", title="Some title", authors=authors, year=year)) == text


def test_every_rule_is_printed_once_under_its_topic() -> None:
    lines = rules_text(BOOK).splitlines()
    heads = [line.split(" (")[0] for line in lines if re.match(r"^[a-z0-9_]+ \(", line)]
    assert sorted(heads) == sorted(rule.id for rule in BOOK.rules)
    topics = [line for line in lines if line.isupper() and not line.startswith(" ")]
    assert topics[0] == "UNLOADED SPRINT"
    assert topics[-2:] == ["DEFAULT DOSES", "SOURCES"]
    assert "acceleration_dose (advice)" in lines


def test_every_number_is_printed() -> None:
    text = rules_text(BOOK)
    printed = [line.split()[0] for line in text.splitlines() if re.match(r"^    \S", line)]
    assert printed.count("gap_h") == 3
    assert len(printed) == sum(len(rule.numbers) for rule in BOOK.rules)


def test_number_tells_its_own_weight_source_and_mark() -> None:
    assert "hard_gap_h       24 h; hard; common practice" in rules_text(BOOK)
    assert "top_speed_gap_h  72 h; advice; Thomas and others 2018 (read)" in rules_text(BOOK)


def test_changed_value_is_marked_with_both_values_and_the_reason() -> None:
    assert "CHANGED" not in rules_text(BOOK)
    (line,) = [line for line in rules_text(CHANGED).splitlines() if "CHANGED" in line]
    reason = ASKED.replace("\n", " ")
    said = f"36 h CHANGED from 24 h: {reason}, approved by Dr N. N.; hard; common practice"
    assert line.split(maxsplit=1) == ["hard_gap_h", said]


def test_no_source_key_is_left_in_a_sentence() -> None:
    body = rules_text(BOOK).split("\nSOURCES\n", maxsplit=1)[0]
    keys = {source.ref for source in BOOK.sources if source.year}
    assert sorted(key for key in keys if re.search(rf"\b{key}\b", body)) == []


def test_paragraphs_fit_the_screen() -> None:
    wide = [line for line in rules_text(BOOK).splitlines() if line.startswith("  ") and line[2] != " "]
    assert wide
    assert max(len(line) for line in wide) <= 100


def test_doses_have_their_own_topic() -> None:
    assert topic_of(BOOK.rule("sprint_gap")) == "Unloaded sprint"
    assert {topic_of(rule) for rule in BOOK.rules if rule.kind == "dose"} == {"Default doses"}


def test_template_changes_nothing_as_it_stands() -> None:
    assert tomllib.loads(rules_toml(BOOK)) == {}


def test_template_uncommented_is_the_whole_rulebook() -> None:
    blocks = tomllib.loads(uncommented(rules_toml(BOOK)))["rules"]
    assert {(block["rule"], block["number"]): block["value"] for block in blocks} == {
        (rule.id, name): pytest.approx(number.value)
        for rule in BOOK.rules
        for name, number in rule.numbers.items()
    }
    assert {block["reason"] for block in blocks} == {""}


def test_template_keeps_changes_that_were_made() -> None:
    (block,) = tomllib.loads(rules_toml(CHANGED))["rules"]
    assert RuleChange.model_validate(block) == CHANGE


def test_unfilled_reason_is_refused() -> None:
    block = tomllib.loads(uncommented(rules_toml(BOOK)))["rules"][0]
    with pytest.raises(ValueError, match="at least 3 characters"):
        RuleChange.model_validate(block)


def test_unknown_source_is_shown_by_its_key() -> None:
    rule = Rule(
        id="x",
        row="S1",
        statement="One.",
        weight="advice",
        mark="read",
        source="nobody_1999",
        numbers={"a": RuleNumber(value=1.0, unit="m", note="see nobody_1999")},
    )
    text = rules_text(Rulebook(rules=(rule,), sources=()))
    assert "Source: nobody_1999 (read)." in text
    assert "a  1 m; see nobody_1999" in text
