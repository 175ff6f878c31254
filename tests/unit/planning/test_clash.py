"""What cannot be planned is said once: who, when, the smallest conflict, and a repair that works."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import Any

import pytest

from invented_briefs import Data, athlete, brief, changed, clash, outcome, planned, slot
from speedloom.planning.clash import Clash


def with_minutes(minutes: int, **more: object) -> Data:
    """Shorten the Thursday of an ordinary brief."""
    days = [slot("mon", "monday", "track"), slot("thu", "thursday", "track", minutes=minutes)]
    return brief(slots=days, **more)


def repaired(data: Data, found: Clash) -> Data:
    """Do what the repair says."""
    facts: dict[str, Any] = dict(found.repair.facts)
    if found.repair.kind == "clear_athlete":
        return changed(
            data, lambda copy: [one["screening"].update(cleared=True, pain=False) for one in copy["athletes"]]
        )
    assert found.repair.kind == "lengthen_slot"

    def lengthen(copy: Data) -> None:
        for one in copy["slots"]:
            if one["ref"] == facts["slot"]:
                one["minutes"] += facts["minutes"]

    return changed(data, lengthen)


@pytest.mark.parametrize("minutes", [15, 25, 30, 34])
def test_a_short_slot_names_its_dates_and_the_repair_works(minutes: int) -> None:
    data = with_minutes(minutes)
    found = clash(data)
    assert (found.athletes, found.slot, found.place) == (("ada",), "thu", "track")
    assert {day.weekday() for day in found.dates} == {3}
    assert found.weeks[0] == (found.dates[0] - date(2026, 1, 12)).days // 7 + 1
    assert dict(found.facts)["minutes_available"] == minutes
    outcome_after = planned(repaired(data, found))
    assert outcome_after.programmes[0].athlete == "ada"


def test_the_repair_asks_for_five_minutes_at_a_time_and_not_for_more_than_it_takes() -> None:
    data = with_minutes(28)
    asked = float(dict(clash(data).repair.facts)["minutes"])
    assert asked % 5 == 0
    less = changed(data, lambda copy: copy["slots"][1].update(minutes=28 + int(asked) - 5))
    assert isinstance(outcome(less), Clash)


def test_the_conflict_is_as_small_as_it_can_be() -> None:
    # Warm-up 22 min (advanced) with build-ups, two top-speed runs and the down 4 min do not fit 25 min;
    # whatever else the session holds has no part in it.
    found = clash(with_minutes(25))
    assert found.tags[0] == "slot_minutes"
    named = set(found.tags[1:])
    assert named <= {"warm_up_outdoor", "build_up_build_up_run", "top_speed"}
    assert "support_hinge" not in named


def test_two_short_slots_are_repaired_one_after_the_other() -> None:
    days = [slot("mon", "monday", "track", minutes=26), slot("thu", "thursday", "track", minutes=31)]
    data = brief(slots=days)
    seen = []
    result = outcome(data)
    while isinstance(result, Clash):
        seen.append(result.slot)
        data = repaired(data, result)
        result = outcome(data)
    assert sorted(filter(None, seen)) == ["mon", "thu"]
    assert all(first != second for first, second in pairwise(seen))


def test_an_athlete_who_is_not_cleared_stops_everybody_and_is_named() -> None:
    ill = {"on": "2026-01-09", "pain": True, "cleared": False}
    data = brief(athlete(), athlete("ben", screening=ill), athlete("cas", screening=ill))
    found = clash(data)
    assert (found.athletes, found.tags, found.repair.kind) == (
        ("ben", "cas"),
        ("screening",),
        "clear_athlete",
    )


def test_once_cleared_they_are_planned() -> None:
    ill = {"on": "2026-01-09", "pain": True, "cleared": False}
    data = brief(athlete("ben", screening=ill))
    assert [one.athlete for one in planned(repaired(data, clash(data))).programmes] == ["ben"]


def test_one_athlete_who_cannot_be_planned_is_named_and_nobody_is_planned() -> None:
    # An advanced athlete's warm-up is two minutes longer: 34 minutes are enough for the novice only.
    short = [slot("thu", "thursday", "track", minutes=34)]
    novice = athlete("ada", level="novice")
    assert planned(brief(novice, slots=short)).programmes[0].athlete == "ada"
    found = clash(brief(novice, athlete("ben"), slots=short))
    assert found.athletes == ("ben",)


def test_a_brief_whose_slots_never_meet_its_dates_says_so() -> None:
    never = [slot("mon", "monday", "track") | {"from": "2027-01-01"}]
    found = clash(brief(slots=never))
    assert (found.tags, found.dates) == (("no_slot",), (date(2026, 1, 12), date(2026, 4, 5)))


def test_own_lines_that_fill_the_slot_are_part_of_the_clash() -> None:
    own = {"ref": "drills", "slot": "thu", "exercise": "a_skip", "minutes": 60.0}
    data = with_minutes(75, own_lines=[own])
    found = clash(data)
    assert "own_drills" in found.tags
    assert planned(repaired(data, found))
