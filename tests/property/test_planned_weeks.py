"""Whatever a coach asks for: a programme that breaks no hard rule, or a clash whose repair works."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from hypothesis import HealthCheck, given, settings

from drawn_briefs import briefs
from invented_briefs import Data, findings, outcome
from speedloom.planning.clash import Clash
from speedloom.training.programme import Programme

LONGEST_SLOT_MIN = 300


@given(briefs())
@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_a_programme_without_hard_findings_or_a_clash_whose_repair_works(
    drawn: tuple[Data, list[Data]],
) -> None:
    data, timed = drawn
    result = repaired_until_planned(data, timed)
    assert findings(result).hard() == ()
    assert {one.athlete for one in result.programmes} == {one["ref"] for one in data["athletes"]}


def repaired_until_planned(data: Data, timed: list[Data]) -> Programme:
    """Do what each clash says; a slot needs it once, so there are at most as many as slots."""
    data = deepcopy(data)
    for _ in range(len(data["slots"]) + 1):
        result = outcome(data, timed)
        if isinstance(result, Programme):
            return result
        repair(data, result)
    raise AssertionError(result)


def repair(data: Data, clash: Clash) -> None:
    """Do what a clash says to a brief."""
    assert clash.athletes
    facts: dict[str, Any] = dict(clash.repair.facts)
    if clash.repair.kind == "add_slot":
        # No slot meets the dates: train on until each weekday has come.
        data["end"] = "2026-04-30"
        data["events"] = []
        return
    assert clash.repair.kind == "lengthen_slot"
    assert dict(clash.facts)["minutes_needed"] > dict(clash.facts)["minutes_available"]  # type: ignore[operator]
    slot = next(one for one in data["slots"] if one["ref"] == facts["slot"])
    slot["minutes"] += facts["minutes"]
    assert slot["minutes"] <= LONGEST_SLOT_MIN
