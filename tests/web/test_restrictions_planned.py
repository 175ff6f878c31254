"""A restriction set on the page reaches what is planned next: in one step or read from the squad's brief."""

from __future__ import annotations

import pytest
from django.test import Client
from django.utils.timezone import localdate

from house import ROOT
from invented_squads import Squads
from speedloom.exchange.brief_file import read_brief
from speedloom.store import athletes, briefs, measurements, models, people, programmes
from speedloom.store.squads import make_squad
from speedloom.training.athlete import Restriction
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.pages.restrictions.forms import STARTS
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

GONE = {
    "stop": {"unloaded_sprint", "resisted_sprint", "plyometric", "power", "maximal_strength"},
    "easy_runs": set[str](),
    "no_runs": {"unloaded_sprint", "resisted_sprint"},
    "no_jumps": {"plyometric"},
    "no_heavy": set[str](),
}
"""What a programme holds no more with each of the limits that are set in one step."""


def methods(programme: Programme) -> set[str]:
    return {
        line.method
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work"
    }


@pytest.mark.parametrize("start", STARTS)
def test_what_is_set_in_one_step_is_planned_around_and_checked(start: str) -> None:
    brief, tests = read_brief(ROOT / "examples" / "short_block.toml")
    content = {"ref": "one_step", "from": brief.start, "set_by": "the coach", "set_as": "coach"}
    held = Restriction.model_validate({**content, "limits": STARTS[start][1]})
    everybody = tuple(one.model_copy(update={"restrictions": (held,)}) for one in brief.athletes)
    limited = brief.model_copy(update={"athletes": everybody})
    rulebook, catalogue = load_rulebook().with_changes(brief.rules), load_catalogue()
    resolved = resolve_brief(limited, tests, rulebook=rulebook, catalogue=catalogue)
    planned = plan_programme(resolved, rulebook=rulebook, catalogue=catalogue)
    assert isinstance(planned, Programme)
    assert methods(planned) & GONE[start] == set()
    found = check_programme(planned, brief=None, rulebook=rulebook, catalogue=catalogue)
    assert found.of_rule("restriction_kept") == ()
    free = resolve_brief(brief, tests, rulebook=rulebook, catalogue=catalogue)
    before = plan_programme(free, rulebook=rulebook, catalogue=catalogue)
    assert isinstance(before, Programme)
    beside = check_programme(before, brief=resolved, rulebook=rulebook, catalogue=catalogue)
    assert beside.of_rule("restriction_kept"), "the limit binds nothing in this example"


def test_one_set_on_the_page_is_news_for_planning_again(squads: Squads) -> None:
    brief, tests = read_brief(ROOT / "examples" / "short_block.toml")
    rulebook, catalogue = load_rulebook().with_changes(brief.rules), load_catalogue()
    resolved = resolve_brief(brief, tests, rulebook=rulebook, catalogue=catalogue)
    planned = plan_programme(resolved, rulebook=rulebook, catalogue=catalogue)
    assert isinstance(planned, Programme)
    key = make_squad(squads.keeper, name="Block", brief=brief)
    keeper = people.again(squads.keeper)
    athletes.add_athlete(keeper, key, brief.athletes[0])
    measurements.add_measurements(keeper, key, tests)
    programmes.save_programme(keeper, key, planned)
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=keeper.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    ref = brief.athletes[0].ref
    replan = f"/squads/{key}/programmes/{planned.id}/replan/"
    nothing = "Planning again would change nothing"
    assert nothing in client.get(replan).content.decode()
    client.post(
        f"/squads/{key}/athletes/{ref}/restrictions/", {"start": "no_runs", "first": f"{localdate()}"}
    )
    told = client.get(replan).content.decode()
    assert nothing not in told
    assert "by The keeper" in told
    whole, _tests = briefs.brief_to_plan(keeper, key)
    assert [len(one.restrictions) for one in whole.athletes] == [1]
