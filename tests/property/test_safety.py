"""No generated programme does what its people must never have, by a judge that knows nothing else."""

from __future__ import annotations

import json
from copy import deepcopy

import pytest
from hypothesis import HealthCheck, given, settings

from drawn_briefs import briefs
from invented_briefs import Data, athlete, brief, outcome, planned
from safety_judge import judge
from speedloom.training.programme import Programme


@given(briefs())
@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_nobody_gets_what_their_rules_forbid(drawn: tuple[Data, list[Data]]) -> None:
    result = outcome(*drawn)
    if isinstance(result, Programme):
        assert judge(json.loads(result.model_dump_json(by_alias=True))) == []


def restricted() -> Data:
    """Plan an athlete with a limit on speed that ends, and give the document."""
    limit = {
        "ref": "thigh",
        "limits": [{"what": "share_vmax", "at_most": 0.8}],
        "from": "2026-01-12",
        "until": "2026-02-15",
        "set_by": "physio",
        "set_as": "clinician",
    }
    programme = planned(brief(athlete(restrictions=[limit])))
    return json.loads(programme.model_dump_json(by_alias=True))  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("field", "value", "week"),
    [("effort", None, 2), ("effort", 1.0, 2), ("effort", None, 6), ("distance_m", 200.0, 3)],
)
def test_the_judge_sees_a_programme_that_was_tampered_with(field: str, value: object, week: int) -> None:
    document = restricted()
    assert judge(deepcopy(document)) == []
    sessions = document["programmes"][0]["weeks"][week - 1]["sessions"]
    runs = [
        line
        for session in sessions
        for line in session["prescriptions"]
        if line["purpose"] == "work" and line["run"] == "acceleration"
    ]
    runs[0][field] = value
    assert judge(document) != []
