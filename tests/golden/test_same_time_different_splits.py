"""Two athletes with the same 30 m time and different splits get different programmes."""

from __future__ import annotations

import json
from collections.abc import Iterator

from briefs import GOLDEN, lines_of, of_athlete, outcome, planned, resolved
from speedloom.planning.clash import Clash
from speedloom.training.brief import Brief
from speedloom.training.measurement import Measurements
from speedloom.training.programme import AthleteProgramme, Programme

BRIEF = GOLDEN / "twins.toml"
STRONG, FAST = "ando", "bruno"
PLATE_STEP_KG = 1.25
OTHER = {STRONG: FAST, FAST: STRONG}


def swapped(brief: Brief, measurements: Measurements) -> tuple[Brief, Measurements]:
    trials = tuple(
        trial.model_copy(update={"athlete": OTHER[trial.athlete]}) for trial in measurements.trials
    )
    return brief, measurements.model_copy(update={"trials": trials})


def planned_swapped() -> Programme:
    programme = outcome(resolved(BRIEF, change=swapped))
    assert not isinstance(programme, Clash)
    return programme


def own(programme: Programme, athlete: str) -> AthleteProgramme:
    return of_athlete(programme, athlete)


def sleds(athlete: AthleteProgramme) -> Iterator[tuple[int, float, float]]:
    for week in athlete.weeks:
        for _, line in lines_of(week, method="resisted_sprint"):
            yield week.number, line.load_kg or 0.0, line.decrement or 0.0


def content(athlete: AthleteProgramme) -> object:
    """Give all that is prescribed, without refs, the profile's name and the ids of nodes."""
    document = json.loads(athlete.model_dump_json(by_alias=True))
    nameless = {"ref", "basis", "profile", "athlete", "next_ref", "retired"}

    def bare(value: object) -> object:
        if isinstance(value, dict):
            return {key: bare(item) for key, item in value.items() if key not in nameless}
        return [bare(item) for item in value] if isinstance(value, list) else value

    return bare(document)


def test_the_30_m_times_are_equal_and_the_splits_are_not() -> None:
    brief = resolved(BRIEF)
    times = {
        trial.athlete: {split.distance_m: split.time_s for split in trial.splits}
        for trial in brief.measurements.trials
    }
    assert times[STRONG][30.0] == times[FAST][30.0]
    assert times[STRONG][10.0] < times[FAST][10.0]
    first, second = (athlete.model_dump(exclude={"ref", "name"}) for athlete in brief.athletes)
    assert first == second


def test_sled_loads_differ_by_more_than_a_plate_step() -> None:
    programme = planned(BRIEF)
    strong, fast = (list(sleds(own(programme, athlete))) for athlete in (STRONG, FAST))
    assert [week for week, _, _ in strong] == [week for week, _, _ in fast]
    for (_, heavy, _), (_, light, _) in zip(strong, fast, strict=True):
        assert heavy - light > PLATE_STEP_KG
    # The wish is the same: both are slowed by the same share, each by their own kilograms.
    for (_, _, one), (_, _, other) in zip(strong, fast, strict=True):
        assert abs(one - other) < 0.03


def test_standing_distances_differ_by_at_least_5_m() -> None:
    programme = planned(BRIEF)
    strong, fast = (
        {
            (week.number, session.role): line.distance_m or 0.0
            for week in own(programme, athlete).weeks
            for session, line in lines_of(week, run="acceleration")
        }
        for athlete in (STRONG, FAST)
    )
    # A lighter week's faster day may leave the few starts out for one of them and not for the other.
    heavier = {key for key in strong | fast if key[1] == "heavier"}
    assert heavier <= strong.keys() & fast.keys()
    for key in strong.keys() & fast.keys():
        assert fast[key] - strong[key] >= 5.0


def test_run_ins_differ_by_at_least_5_m() -> None:
    programme = planned(BRIEF)
    strong, fast = (
        {
            line.run_in_m or 0.0
            for week in own(programme, athlete).weeks
            for _, line in lines_of(week, run="top_speed")
        }
        for athlete in (STRONG, FAST)
    )
    assert min(fast) - max(strong) >= 5.0


def test_swapping_their_tests_swaps_their_programmes() -> None:
    before, after = planned(BRIEF), planned_swapped()
    assert content(own(before, STRONG)) != content(own(before, FAST))
    for athlete, other in OTHER.items():
        assert content(own(after, athlete)) == content(own(before, other))
