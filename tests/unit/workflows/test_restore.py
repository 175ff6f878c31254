"""An earlier revision brought back never touches what is over, and lifts no restriction."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from briefs import EXAMPLES, planned
from edited import change, unsound
from replanned import CATALOGUE, RULEBOOK, again, refs_broken, whole, with_news
from speedloom.training.programme import Programme, Session
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.restore import restore

ATHLETE = "tereza"


def block() -> Programme:
    return planned(EXAMPLES / "short_block.toml")


def sessions(programme: Programme) -> list[Session]:
    return [session for own in programme.programmes for week in own.weeks for session in week.sessions]


def over(programme: Programme) -> list[Session]:
    frozen = programme.revision.frozen_until
    assert frozen is not None
    return [one.model_copy(update={"basis": {}}) for one in sessions(programme) if one.date <= frozen]


def back(latest: Programme) -> Programme:
    return restore(latest, block(), reason="Back", rulebook=RULEBOOK)


def test_a_session_moved_to_a_day_that_is_over_by_now_does_not_come_back_a_second_time() -> None:
    week = block().programmes[0].weeks[1]
    ref, day = week.sessions[-1].ref, week.monday + timedelta(days=1)
    moved = change(block(), (f"{ref}.date", day.isoformat()))
    lost = {ATHLETE: (sessions(block())[0].date,)}
    latest = again(moved, since=day + timedelta(days=1), lost=lost)
    found = back(latest)
    assert [one.date for one in sessions(found) if one.ref == ref] == [day]
    assert list(refs_broken(whole(latest), whole(found))) == []
    assert unsound(found) == []


def test_days_over_in_a_week_that_the_earlier_revision_did_not_have_stay() -> None:
    end = block().programmes[0].weeks[-1].monday + timedelta(days=6)

    def longer(data: dict[str, Any]) -> None:
        data["end"] = (end + timedelta(days=21)).isoformat()
        data["goal"]["peaks"] = []
        data["phases"]["mesocycle_weeks"].append(3)

    long = again(block(), since=end - timedelta(days=10), brief=with_news(block(), longer))
    added = [one.date for one in sessions(long) if one.date > end]
    latest = again(long, since=added[1], lost={ATHLETE: (added[0],)})
    found = back(latest)
    assert [one.ref for one in over(found)] == [one.ref for one in over(latest)]
    assert [one.date for one in sessions(found) if one.date > end] == [added[0]]
    assert list(refs_broken(whole(latest), whole(found))) == []
    assert unsound(found) == []


def test_a_restriction_set_since_is_not_lifted_and_days_beyond_it_are_hard() -> None:
    since = date(2026, 9, 14)

    def restricted(data: dict[str, Any]) -> None:
        data["athletes"][0]["restrictions"] = [
            {
                "ref": "knee",
                "limits": [{"what": "share_vmax", "at_most": 0.8}],
                "from": since.isoformat(),
                "set_by": "team physiotherapist",
                "set_as": "clinician",
                "set_on": since.isoformat(),
            }
        ]

    latest = again(block(), since=since, brief=with_news(block(), restricted))
    found = back(latest)
    assert latest.brief.content is not None
    assert found.brief.content is not None
    assert found.brief.content.athletes[0].restrictions == latest.brief.content.athletes[0].restrictions
    hard = check_programme(found, brief=None, rulebook=RULEBOOK, catalogue=CATALOGUE).hard()
    assert {one.rule for one in hard} == {"restriction_kept"}
