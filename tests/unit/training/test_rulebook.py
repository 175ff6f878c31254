"""The packaged rulebook is whole: every number has a unit, a source and a mark, and only what may is hard."""

import json
import re
import tomllib
from importlib.resources import files
from typing import Any

import pytest
from pydantic import ValidationError

from speedloom.training.rule import Rule, Rulebook, RuleChange, RuleNumber, Source

UNITS = {
    "1", "share", "m", "s", "s per 10 m", "min", "h", "d", "weeks", "months", "y", "kg", "degC",
    "reps", "sets", "runs", "contacts", "sessions",
}  # fmt: skip
# Hard without being about health: physically impossible, a restriction, or data that mean nothing.
HARD_BY_NATURE = {
    "load_possible", "one_rep_max_repetitions", "bars_not_converted", "load_ratio", "timing_methods",
    "slot_minutes", "place_straight", "place_kind", "kit_present", "athlete_away", "no_training_day",
    "document_sound", "derivation",
}  # fmt: skip
KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)*_(?:19|20)\d\d(?:_[a-z]+)?\b")


def table(name: str) -> dict[str, Any]:
    return tomllib.loads(files("speedloom.training").joinpath("data", name).read_text(encoding="utf-8"))


RULES = {
    ref: Rule.model_validate_json(json.dumps({"id": ref, **body}))
    for ref, body in table("rules.toml").items()
}
SOURCES = {
    ref: Source.model_validate_json(json.dumps({"ref": ref, **body}))
    for ref, body in table("sources.toml").items()
}
NUMBERS = [(rule, name, number) for rule in RULES.values() for name, number in rule.numbers.items()]
BOOK = Rulebook(rules=tuple(RULES.values()), sources=tuple(SOURCES.values()))


def weight(rule: Rule, number: RuleNumber) -> str:
    return number.weight or rule.weight


def test_every_row_of_the_reference_table_has_its_rule() -> None:
    rows = {rule.row for rule in RULES.values()}
    asked = {f"S{n}" for n in range(1, 12)} | {"S1b", "S8b", "S11b"} | {f"R{n}" for n in range(1, 6)}
    asked |= {f"P{n}" for n in range(1, 8)} | {"W1", "W2", "W3", "G1", "G2", "N1", "I1", "T1", "T2"}
    asked |= {f"{letter}{n}" for letter, last in zip("MDLYH", (4, 4, 3, 3, 5), strict=True)
              for n in range(1, last + 1)}  # fmt: skip
    assert asked - rows == set()


def test_nothing_from_memory_is_hard() -> None:
    whole = [rule.id for rule in RULES.values() if rule.weight == "hard" and rule.mark == "memory"]
    single = [
        f"{rule.id}.{name}"
        for rule, name, number in NUMBERS
        if weight(rule, number) == "hard" and (number.mark or rule.mark) == "memory"
    ]
    assert whole + single == []


def test_hard_is_for_health_restrictions_and_the_impossible() -> None:
    hard = {rule.id for rule in RULES.values() if rule.weight == "hard"}
    hard |= {rule.id for rule, _, number in NUMBERS if weight(rule, number) == "hard"}
    assert {ref for ref in hard if not RULES[ref].health} == HARD_BY_NATURE


@pytest.mark.parametrize(
    "ref",
    ["shock_under_16", "assisted_sprint", "screening", "heat_cancel", "heat_unacclimated", "lightning",
     "return_stages", "restriction_kept"],
)  # fmt: skip
def test_health_rules_are_hard(ref: str) -> None:
    assert (RULES[ref].weight, RULES[ref].health) == ("hard", True)


def test_every_source_is_known() -> None:
    named = {rule.source for rule in RULES.values()} | {number.source or "" for _, _, number in NUMBERS} - {
        ""
    }
    assert named - set(SOURCES) == set()


def test_every_source_named_in_a_sentence_is_known() -> None:
    text = " ".join(f"{rule.conflict} {rule.statement} {rule.population}" for rule in RULES.values())
    found = set(KEY.findall(text))
    assert len(found) > 10
    assert found - set(SOURCES) == set()


@pytest.mark.parametrize("name", ["doses.toml", "formulas.toml", "norms.toml"])
def test_other_data_name_known_sources(name: str) -> None:
    def named(value: object) -> set[str]:
        if not isinstance(value, dict):
            return set()
        own = {value["source"]} if isinstance(value.get("source"), str) else set()
        return own.union(*(named(part) for part in value.values()))

    assert named(table(name)) - set(SOURCES) == set()


def test_every_number_has_a_known_unit() -> None:
    assert [f"{rule.id}.{name}" for rule, name, number in NUMBERS if number.unit not in UNITS] == []


def test_shares_are_fractions() -> None:
    # Loads as shares of body mass may be above 1, speeds of an assisted run 5 % above.
    wide = [
        f"{rule.id}.{name}" for rule, name, number in NUMBERS if number.unit == "share" and number.value > 2
    ]
    assert wide == []


def test_unit_in_the_name_is_the_unit() -> None:
    endings = {"_m": "m", "_s": "s", "_h": "h", "_kg": "kg", "_days": "d", "_weeks": "weeks"}
    odd = [
        f"{rule.id}.{name}"
        for rule, name, number in NUMBERS
        for ending, unit in endings.items()
        if name.endswith(ending)
        and not name.startswith("s_per")
        and "per_10_m" not in name
        and number.unit != unit
    ]
    assert odd == []


def test_what_can_bite_says_which_way_is_stricter() -> None:
    odd = [
        f"{rule.id}.{name}"
        for rule, name, number in NUMBERS
        if weight(rule, number) != "advice" and number.tighter not in {"higher", "lower"}
    ]
    assert odd == []


def test_numbers_from_practice_say_so() -> None:
    odd = [
        f"{rule.id}.{name}"
        for rule, name, number in NUMBERS
        if (number.source or rule.source) == "common_practice"
        and (number.mark or rule.mark) not in {"common practice", "second-hand"}
    ]
    assert odd == []


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_sentences_are_single(rule: Rule) -> None:
    for text in (rule.statement, rule.todo):
        assert text.endswith(".")
        assert not re.search(r"\.\s+[A-Z]", text)
    assert rule.kind in {"rule", "conduct"}
    assert rule.source


def test_low_ends_do_not_cross_high_ends() -> None:
    for rule in RULES.values():
        for name in rule.numbers:
            if "low" in name.split("_") and (high := name.replace("low", "high")) in rule.numbers:
                assert rule.numbers[name].value < rule.numbers[high].value, f"{rule.id}.{name}"


def test_sources_can_be_found() -> None:
    assert all(source.where or source.doi for ref, source in SOURCES.items() if source.year)
    dois = [source.doi for source in SOURCES.values() if source.doi]
    assert [doi for doi in dois if not doi.startswith("10.")] == []
    assert len(dois) == len(set(dois))


def test_reference_bands_are_complete() -> None:
    for ref, group in table("norms.toml").items():
        assert group["n"] > 0
        assert group["timing"], ref
        assert group["source"] in SOURCES
        assert group["mark"] in {"read", "computed"}
        for band in group["bands"]:
            assert band["unit"]
            assert band.keys() >= {"mean", "sd"} or band["low"] < band["high"]


def test_change_of_a_number_is_read_and_named() -> None:
    change = RuleChange(rule="sprint_gap", number="gap_h", value=72.0, reason="Young squad on hard floor")
    changed = BOOK.with_changes((change,))
    assert (BOOK.number("sprint_gap", "gap_h"), changed.number("sprint_gap", "gap_h")) == (48.0, 72.0)
    assert changed.changed == ("sprint_gap.gap_h",)
    assert changed.digest != BOOK.digest


def test_number_without_unit_is_refused() -> None:
    with pytest.raises(ValidationError, match="unit"):
        RuleNumber.model_validate_json('{"value": 48}')


def test_mark_of_a_number_falls_back_to_its_rule() -> None:
    assert BOOK.mark_of("sprint_gap", "gap_h") == ("haugen_2019", "read")
    assert BOOK.mark_of("sprint_gap", "hard_gap_h") == ("common_practice", "common practice")
