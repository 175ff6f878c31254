"""A season's reviews, added up again from programme and log alone.

Every sum: DATA.md's shapes (contacts of the whole line, `side: each` per side, `load_kg` all that is moved,
warm-up and build-up in no sum). Metres at 90 and 95 % of top speed: vmax tau (-ln(1 - p) - p), mechanics
reference section 1 (read), vmax and tau fitted here to the best trial. Load: Foster 2001 (read),
sample SD (common practice); averages: Williams 2017 (read), 2 / (N + 1) over 7 and 28 days, seeded by the
first day. Each revision is reviewed with the log as it was then.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from statistics import mean, stdev
from typing import Any

import pytest

from outside_log import (
    Amounts,
    acceleration_length,
    done,
    done_runs,
    fast_metres,
    planned,
    planned_runs,
    session_loads,
)
from outside_run import read, run

Data = dict[str, Any]
# A revision, and the log of which every line stands in it.
REVIEWED = {1: 5, 2: 7, 3: 8, 5: 12}


@pytest.fixture(scope="module")
def reviews(season: Path) -> dict[int, tuple[Data, list[Data], Data]]:
    found = {}
    for number, week in REVIEWED.items():
        programme, log = season / f"season_{number}.json", season / f"log_week_{week}.json"
        said = run("review", programme, "--log", log, "--json").value
        found[number] = (read(programme), read(log)["entries"], said)
    return found


def athletes(review: Data, *, first: int, last: int) -> list[tuple[int, Data]]:
    weeks = [week for week in review["weeks"] if first <= week["number"] <= last]
    return [(week["number"], own) for week in weeks for own in week["athletes"]]


def plain(mine: Amounts) -> Data:
    return {
        "sprint_m": mine.sprint_m,
        "resisted_m": mine.resisted_m,
        "minutes": mine.minutes,
        "hard_sets": mine.hard_sets,
        "tonnage_kg": mine.tonnage_kg,
        "contacts": {name: count for name, count in mine.contacts.items() if count},
        "sets": {name: count for name, count in mine.sets.items() if count},
        "volumes": {name: count for name, count in mine.volumes.items() if count},
    }


def theirs(amounts: Data) -> Data:
    return {
        **{name: amounts[name] for name in ("sprint_m", "resisted_m", "minutes", "hard_sets")},
        "tonnage_kg": amounts["tonnage_kg"] or 0.0,
        "contacts": {name: count for name, count in amounts["contacts"].items() if count},
        "sets": {name: lift["sets"] for name, lift in amounts["lifts"].items() if lift["sets"]},
        "volumes": {name: count for name, count in amounts["volumes"].items() if count},
    }


# The last revision knows what lines were that are gone since.
@pytest.mark.parametrize(("number", "first", "last"), [(1, 1, 5), (2, 6, 7), (3, 8, 8), (5, 1, 12)])
def test_planned_and_done_are_the_sums_of_the_documents(
    reviews: dict[int, tuple[Data, list[Data], Data]], number: int, first: int, last: int
) -> None:
    programme, entries, review = reviews[number]
    for week, own in athletes(review, first=first, last=last):
        name = own["athlete"]
        mine = plain(planned(programme, name, week, review["until"]))
        assert (week, name, mine) == (week, name, theirs(own["amounts"]["planned"]))
        mine = plain(done(programme, entries, name, week))
        assert (week, name, mine) == (week, name, theirs(own["amounts"]["done"]))


@pytest.mark.parametrize(("number", "first", "last"), [(1, 1, 5), (2, 6, 6), (3, 8, 8), (5, 9, 12)])
def test_fast_metres_follow_the_athletes_own_test(
    reviews: dict[int, tuple[Data, list[Data], Data]], number: int, first: int, last: int
) -> None:
    programme, entries, review = reviews[number]
    for week, own in athletes(review, first=first, last=last):
        length = acceleration_length(programme, own["athlete"])
        for field, share in (("from_90_m", 0.90), ("from_95_m", 0.95)):
            mine = fast_metres(planned_runs(programme, own["athlete"], week), length, share)
            assert own["amounts"]["planned"][field] == pytest.approx(mine, abs=2e-3)
            mine = fast_metres(done_runs(programme, entries, own["athlete"], week), length, share)
            assert own["amounts"]["done"][field] == pytest.approx(mine, abs=2e-3)


def test_the_squad_is_the_sum_of_its_athletes(reviews: dict[int, tuple[Data, list[Data], Data]]) -> None:
    for week in reviews[5][2]["weeks"]:
        for kind in ("planned", "done"):
            for field in ("sprint_m", "from_90_m", "resisted_m", "minutes", "hard_sets"):
                sums = sum(own["amounts"][kind][field] for own in week["athletes"])
                assert week["squad"][kind][field] == pytest.approx(sums, abs=1e-3)


def test_session_load_monotony_and_strain(reviews: dict[int, tuple[Data, list[Data], Data]]) -> None:
    _, entries, review = reviews[5]
    judged = 0
    for week in review["weeks"]:
        monday = date.fromisoformat(week["monday"])
        for own in week["athletes"]:
            loads = session_loads(entries, own["athlete"])
            days = [loads.get((monday + timedelta(at)).isoformat(), 0.0) for at in range(7)]
            said = own["load"]
            assert said["days"] == pytest.approx(days)
            assert said["total"] == pytest.approx(sum(days))
            assert said["is_least"] == (said["count"]["without_effort"] > 0)
            if said["state"] == "known":
                judged += 1
                monotony = mean(days) / stdev(days)
                assert said["monotony"] == pytest.approx(monotony, abs=1e-4)
                assert said["strain"] == pytest.approx(sum(days) * monotony, abs=1e-3)
            else:
                assert said["monotony"] is None
    assert judged > 50


def test_load_lines_are_weighted_averages(reviews: dict[int, tuple[Data, list[Data], Data]]) -> None:
    _, entries, review = reviews[5]
    for line in review["load_lines"]:
        first, loads = date.fromisoformat(line["first"]), session_loads(entries, line["athlete"])
        days = [loads.get((first + timedelta(at)).isoformat(), 0.0) for at in range(len(line["loads"]))]
        assert line["loads"] == pytest.approx(days)
        for field, span in (("short", 7), ("long", 28)):
            share, average, mine = 2.0 / (span + 1.0), days[0], []
            for load in days:
                average = share * load + (1.0 - share) * average
                mine.append(average)
            assert line[field] == pytest.approx(mine, abs=1e-3)


def test_who_was_away_is_said_and_nobody_else(reviews: dict[int, tuple[Data, list[Data], Data]]) -> None:
    _, entries, review = reviews[2]
    for week in (6, 7):
        for number, own in athletes(review, first=week, last=week):
            missed = {
                one["date"]: one["reason"]
                for one in entries
                if one["athlete"] == own["athlete"]
                and one["status"] in {"absent", "skipped"}
                and not one["line"]
            }
            said = {one["date"]: one["reason"] for one in own["differences"] if one["kind"] == "not_done"}
            monday = date.fromisoformat(review["weeks"][number - 1]["monday"])
            inside = {(monday + timedelta(at)).isoformat() for at in range(7)}
            assert said == {day: why for day, why in missed.items() if day in inside}
            assert own["sessions"]["not_done"] == len(said)
