"""Whatever a coach asks for: a programme that breaks no hard rule, or a clash whose repair, tried, works."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings

from drawn_briefs import briefs
from invented_briefs import CATALOGUE, RULEBOOK, Data, findings, resolved
from speedloom.planning.clash import Clash
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import Programme
from speedloom.wording.clashes import clash_text
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.repair import apply, repairs


@given(briefs())
@settings(max_examples=200, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_a_programme_without_hard_findings_or_a_clash_whose_repair_works(
    drawn: tuple[Data, list[Data]],
) -> None:
    data, timed = drawn
    result = planned_or_repaired(resolved(data, timed))
    assert findings(result).hard() == ()
    assert {one.athlete for one in result.programmes} == {one["ref"] for one in data["athletes"]}


def planned_or_repaired(brief: ResolvedBrief) -> Programme:
    """Plan a brief, or plan it with its clash's cheapest repair: one repair must be enough."""
    result = plan_programme(brief, rulebook=RULEBOOK, catalogue=CATALOGUE)
    if isinstance(result, Programme):
        return result
    said_well(result, brief)
    again = plan_programme(apply(brief, repairs(result)[0]), rulebook=RULEBOOK, catalogue=CATALOGUE)
    assert isinstance(again, Programme), (result.repair, again)
    return again


def said_well(clash: Clash, brief: ResolvedBrief) -> None:
    """Hold the words to two sentences that name every slot that does not fit."""
    text = clash_text(clash, brief=brief)
    assert text.count(". ") == 1
    assert text.endswith(".")
    places = {session.slot: session.place for one in (clash, *clash.also) for session in one.sessions}
    assert text.count("needs at least") == len(places)
