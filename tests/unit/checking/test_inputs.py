from __future__ import annotations

import json

import pytest

from speedloom.checking.inputs import Inputs, UnresolvedError
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from unit.checking.good_programme import good_programme


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    programme = Programme.model_validate_json(json.dumps(good_programme()))
    return Inputs(programme.basis, programme.brief.content, load_rulebook())


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("literal:6", 6.0),
        ("literal:-0.5", -0.5),
        ("literal:each", "each"),
        ("rule:sprint_gap.gap_h", 48.0),
        ("rule:sled_dose.decrement_novice_middle", 0.2),
        ("brief:phases.specificity.1", 0.5),
        ("brief:athletes.bo.mass_kg", 104.0),
        ("brief:athletes.bo.lifts.0.load_kg", 170.0),
        ("brief:places.hall.straight_m", 50.0),
        ("brief:kit.bar.empty_kg", 20.0),
    ],
)
def test_a_path_leads_to_its_value(inputs: Inputs, path: str, value: object) -> None:
    assert inputs.value(path) == value


def test_tests_are_found_by_athlete_date_and_timing(inputs: Inputs) -> None:
    assert [trial.athlete for trial in inputs.value("test:bo/2026-01-02/gates")] == ["bo"]


@pytest.mark.parametrize(
    "path",
    [
        "b999999",
        "rule:sprint_gap.gap",
        "rule:no_rule.gap_h",
        "brief:kit.bench",
        "brief:athletes.bo.lifts.4.load_kg",
        "brief:phases.nothing",
        "test:bo/2025-01-02/gates",
        "else:where",
    ],
)
def test_a_path_that_leads_nowhere_is_refused(inputs: Inputs, path: str) -> None:
    with pytest.raises(UnresolvedError):
        inputs.value(path)
