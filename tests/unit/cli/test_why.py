"""`speedloom why` on a real programme: short, sourced, and in words only."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from speedloom.exchange.documents import read_programme
from speedloom.training.formula import load_formulas
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.why import every_step, why_sentences
from speedloom.wording.why_inputs import WhyBook
from speedloom.workflows.explain import Explanation, explain_all

Ask = Callable[..., Any]
MOST = 7
"""A coach reads six or seven sentences, not twenty."""
INSIDE = re.compile(
    r"at_most|before_m|prior none|\w+_(?:kg|m|s|npkg|mps|kgpm)\b|literal:|brief:\w+\.|\bb\d+\b"
)
MARKS = ("read", "second-hand", "memory", "common practice", "computed", "as the brief says", "(brief)")


@pytest.fixture(scope="module")
def programme(planned: Path) -> Programme:
    return read_programme(planned)


@pytest.fixture(scope="module")
def book(programme: Programme) -> WhyBook:
    return WhyBook(programme=programme, rulebook=load_rulebook(), formulas=load_formulas())


@pytest.fixture(scope="module")
def explanations(programme: Programme) -> tuple[Explanation, ...]:
    (own,) = programme.programmes
    refs = [f"{own.athlete}-w{week.number}" for week in own.weeks]
    sessions = [session for week in own.weeks for session in week.sessions]
    refs += [session.ref for session in sessions]
    refs += [line.ref for session in sessions for line in session.prescriptions]
    return tuple(explanation for ref in refs for explanation in explain_all(programme, ref))


def test_the_short_answer_is_short(explanations: tuple[Explanation, ...], book: WhyBook) -> None:
    long = {
        explanation.ref: len(told)
        for explanation in explanations
        if len(told := why_sentences(explanation, book=book)) > MOST
    }
    assert long == {}


def test_no_answer_names_what_is_inside(explanations: tuple[Explanation, ...], book: WhyBook) -> None:
    found = {
        (explanation.ref, INSIDE.findall(re.sub(r"rule \w+|tereza-\d+", "", sentence))[0])
        for explanation in explanations
        for sentence in (*why_sentences(explanation, book=book), *every_step(explanation, book=book))
        if INSIDE.search(re.sub(r"rule \w+|tereza-\d+", "", sentence))
    }
    assert found == set()


def test_every_answer_says_how_it_is_known(explanations: tuple[Explanation, ...], book: WhyBook) -> None:
    # Sums are known by what they add; a week's planned volume lists its lines.
    bare = [
        explanation.ref
        for explanation in explanations
        if explanation.node.by != "volume.planned"
        and not any(mark in " ".join(why_sentences(explanation, book=book)) for mark in MARKS)
        and "warm-up" not in " ".join(why_sentences(explanation, book=book))
    ]
    assert bare == []


def test_every_number_ends_on_itself(explanations: tuple[Explanation, ...], book: WhyBook) -> None:
    loads = [explanation for explanation in explanations if explanation.ref.endswith(".load_kg")]
    assert loads
    for explanation in loads:
        kilograms = f"{explanation.value:g} kg"
        assert any(kilograms in told for told in why_sentences(explanation, book=book)[-2:]), explanation.ref


def test_all_tells_more_than_the_short_answer(ask: Ask, planned: Path) -> None:
    short, whole = ask("why", planned, "tereza-5.load_kg"), ask("why", planned, "tereza-5.load_kg", "--all")
    assert len(whole.out.splitlines()) > len(short.out.splitlines())
    assert "Air drag:" in whole.out
    assert "Air drag:" not in short.out


def test_all_changes_no_json(ask: Ask, planned: Path) -> None:
    plain = ask("why", planned, "tereza-5.load_kg", "--json")
    whole = ask("why", planned, "tereza-5.load_kg", "--json", "--all")
    assert json.loads(plain.out) == json.loads(whole.out)
    assert list(json.loads(plain.out)) == ["ref", "value", "unit", "steps"]
