"""What experienced coaches do anyway, sentence by sentence (common practice, no source)."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from math import log

import pytest

from briefs import GOLDEN, lines_of, of_athlete, planned, planned_at
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Prescription, Session, Week
from speedloom.training.rule import load_rulebook
from speedloom.training.words import LEVELS, Level
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.profile_athlete import fitted_profiles

BRIEF = GOLDEN / "fifteen_weeks.toml"
ATHLETE = "kweku"
STRAIGHT_M = 100  # 120 m less 20 m of run-out
# The standing run's distance at either end, in the athlete's acceleration lengths (common practice).
ENDS = {"novice": (1.2, 3.0), "intermediate": (1.2, 4.0), "advanced": (1.2, 5.6)}
CONTACT_CLASSES = ("general", "middle", "specific")


def weeks_of(level: Level) -> tuple[Week, ...]:
    return of_athlete(planned_at(BRIEF, level), ATHLETE).weeks


@pytest.fixture(params=LEVELS)
def level(request: pytest.FixtureRequest) -> Level:
    return request.param


@pytest.fixture
def weeks(level: Level) -> tuple[Week, ...]:
    return weeks_of(level)


def length_m() -> float:
    """Acceleration length of the invented athlete's own splits [m]."""
    content = planned(BRIEF).brief.content
    assert content is not None
    people = {athlete.ref: athlete for athlete in content.athletes}
    (fitted,) = fitted_profiles(
        content.measurements, trial_rule="best", rulebook=load_rulebook(), people=people
    )
    return fitted.length_m.value


def standing(week: Week) -> tuple[Session, Prescription]:
    """Give the heavier field day's standing runs."""
    return next(
        (session, line) for session, line in lines_of(week, run="acceleration") if session.role == "heavier"
    )


def sleds(weeks: tuple[Week, ...]) -> list[Prescription]:
    return [line for week in weeks for _, line in lines_of(week, method="resisted_sprint")]


def on_grid(distance_m: float) -> bool:
    return distance_m % 5 == 0 if distance_m <= 30 else distance_m % 10 == 0


def test_the_athlete_is_the_one_the_sentences_speak_of() -> None:
    assert 10.5 <= length_m() <= 11.5
    assert [week.kind for week in weeks_of("advanced")].count("deload") == 2


def test_two_field_and_two_gym_sessions_stand_in_every_week(weeks: tuple[Week, ...]) -> None:
    assert len(weeks) == 15
    for week in weeks:
        assert [session.slot for session in week.sessions] == ["mon_track", "tue_gym", "thu_track", "fri_gym"]


def test_standing_runs_grow_in_equal_ratio_steps_to_the_levels_end(
    level: Level, weeks: tuple[Week, ...]
) -> None:
    distances = [standing(week)[1].distance_m for week in weeks]
    assert all(before <= after for before, after in pairwise(distances))
    assert all(on_grid(distance) and distance <= STRAIGHT_M for distance in distances)
    general, specific = (length_m() * lengths for lengths in ENDS[level])
    assert abs(distances[1] - general) <= 2.5
    assert abs(distances[-1] - specific) <= 5.0
    if level == "advanced":
        assert distances[-1] == 60


def test_standing_runs_grow_by_the_same_share_for_the_same_step_of_specificity() -> None:
    # Inside a half of the scale the distance is geometric; the grid hides it by half a step at most.
    middle = {"novice": 1.9, "intermediate": 2.2, "advanced": 2.6}
    for level in LEVELS:
        for week in weeks_of(level):
            low, high = ENDS[level]
            s, centre = week.specificity, middle[level]
            smooth = low * (centre / low) ** (2 * s) if s <= 0.5 else centre * (high / centre) ** (2 * s - 1)
            distance = standing(week)[1].distance_m
            assert distance == pytest.approx(smooth * length_m(), abs=2.6 if distance < 30 else 5.1)


def test_every_loading_week_from_the_second_holds_a_run_in_and_a_flat_out_run(
    weeks: tuple[Week, ...],
) -> None:
    for week in weeks[1:]:
        runs = [line for _, line in lines_of(week, run="top_speed")]
        assert runs
        assert all(line.run_in_m and line.distance_m for line in runs)
        assert all((line.effort or 1.0) >= 0.95 for line in runs)


def test_no_session_holds_more_than_150_m_at_95_percent(weeks: tuple[Week, ...]) -> None:
    point = length_m() * (-log(0.05) - 0.95)
    for week in weeks:
        for session in week.sessions:
            metres = 0.0
            for line in session.prescriptions:
                if line.purpose != "work" or line.run not in {"acceleration", "top_speed"}:
                    continue
                if (line.effort or 1.0) < 0.95:
                    continue
                run = (line.distance_m or 0) + (line.run_in_m or 0)
                metres += line.sets * line.reps * max(0.0, run - max(point, line.run_in_m or 0))
            assert metres <= 150


def test_the_heavier_field_day_alone_carries_the_sled(weeks: tuple[Week, ...]) -> None:
    for week in weeks:
        days = [session for session, _ in lines_of(week, method="resisted_sprint")]
        assert [day.role for day in days] == ["heavier"]
        assert [day.slot for day in days] == ["mon_track"]
        fast = {session.role for session, _ in lines_of(week, run="top_speed")}
        assert fast <= {"faster"}


@pytest.mark.parametrize("level", ["intermediate", "advanced"])
def test_the_heavier_gym_day_has_more_kilograms_on_the_bar(level: Level) -> None:
    for week in weeks_of(level):
        loads = {
            session.role: line.load_kg or 0.0 for session, line in lines_of(week, method="maximal_strength")
        }
        assert loads["heavier"] > loads["faster"] > 0


def test_a_novice_leaves_more_in_reserve_on_the_faster_gym_day() -> None:
    for week in weeks_of("novice"):
        lifts = {session.role: line for session, line in lines_of(week, method="maximal_strength")}
        heavier, faster = lifts["heavier"], lifts["faster"]
        assert (heavier.load_kg or 0) >= (faster.load_kg or 0)
        assert heavier.sets >= faster.sets


def test_sled_loads_fall_while_distances_grow(weeks: tuple[Week, ...]) -> None:
    lines = sleds(weeks)
    assert len(lines) == 15
    after = lines[1:]  # the introduction's sled is lighter than the first week's
    loads, distances = [line.load_kg for line in after], [line.distance_m for line in after]
    assert all(earlier >= later for earlier, later in pairwise(loads))
    assert all(earlier <= later for earlier, later in pairwise(distances))
    assert loads[-1] < loads[0] / 2 or loads[0] - loads[-1] > 20
    assert distances[-1] >= 2 * distances[0]
    decrements = [line.decrement for line in after]
    assert decrements[-1] == pytest.approx(0.10, abs=0.03)


def test_contacts_get_shorter(level: Level, weeks: tuple[Week, ...]) -> None:
    catalogue = load_catalogue()
    for direction in ("plyo_horizontal", "plyo_vertical"):
        stages = defaultdict(list)
        for week in weeks:
            for session, line in lines_of(week, method="plyometric"):
                exercise = catalogue.get(line.exercise)
                assert exercise is not None
                if exercise.slot == direction:
                    stages[session.role].append(CONTACT_CLASSES.index(exercise.stage))
        for stage in stages.values():
            assert stage == sorted(stage)
        assert stages["heavier"][0] == 0
        assert stages["faster"][-1] == 2, level


def test_the_coachs_added_mass_falls_to_nothing(weeks: tuple[Week, ...]) -> None:
    added = [max(line.added_kg or 0.0 for _, line in lines_of(week, method="plyometric")) for week in weeks]
    assert added[0] == 0.0
    assert added[1] == 10.0
    assert all(earlier >= later for earlier, later in pairwise(added[1:]))
    assert added[-1] == 0.0


def test_the_added_mass_is_accepted_and_commented() -> None:
    programme = planned(BRIEF)
    found = check_programme(
        programme, brief=programme.brief.content, rulebook=load_rulebook(), catalogue=load_catalogue()
    )
    assert found.hard() == ()
    assert {finding.rule for finding in found.warnings()} == {"weighted_plyometrics"}


@pytest.mark.parametrize("level", ["intermediate", "advanced"])
def test_jump_squat_loads_fall_to_body_weight(level: Level) -> None:
    loads = defaultdict(list)
    for week in weeks_of(level)[1:]:
        for session, line in lines_of(week, method="power"):
            loads[session.role].append(line.load_kg or 0.0)
    for falling in loads.values():
        assert falling[0] > 0
        assert all(earlier >= later for earlier, later in pairwise(falling))
        assert falling[-1] == 0


def test_a_novice_jumps_with_body_weight_throughout() -> None:
    for week in weeks_of("novice"):
        assert all(not line.load_kg for _, line in lines_of(week, method="power"))


def test_lifts_keep_their_repetitions_inside_a_mesocycle(weeks: tuple[Week, ...]) -> None:
    repetitions = defaultdict(set)
    for week in weeks:
        repetitions[week.mesocycle] |= {line.reps for _, line in lines_of(week, method="maximal_strength")}
    assert all(len(counts) == 1 for counts in repetitions.values())
    by_mesocycle = [max(repetitions[number]) for number in sorted(repetitions)]
    assert by_mesocycle == sorted(by_mesocycle, reverse=True)
    assert by_mesocycle[-1] < by_mesocycle[0]


@pytest.mark.parametrize("level", ["intermediate", "advanced"])
def test_lifts_gain_load_inside_a_mesocycle(level: Level) -> None:
    loads = defaultdict(list)
    for week in weeks_of(level):
        if week.kind != "loading":
            continue
        for session, line in lines_of(week, method="maximal_strength"):
            loads[(week.mesocycle, session.role)].append(line.load_kg or 0.0)
    for rising in loads.values():
        assert rising == sorted(rising)
        assert rising[-1] > rising[0]


@pytest.mark.parametrize("level", ["intermediate", "advanced"])
def test_lifts_end_few_and_heavy(level: Level) -> None:
    heavier = [
        line
        for session, line in lines_of(weeks_of(level)[-1], method="maximal_strength")
        if session.role == "heavier"
    ]
    assert [line.reps for line in heavier] == [{"intermediate": 3, "advanced": 2}[level]]
    assert all((line.share_1rm or 0) >= 0.85 for line in heavier)


def test_general_strength_keeps_its_range(weeks: tuple[Week, ...]) -> None:
    for week in weeks:
        counted = [line for _, line in lines_of(week, method="general_strength") if line.hold_s is None]
        assert counted
        assert {(line.reps, line.reps_to) for line in counted} == {(8, 12)}


def test_the_first_week_is_an_introduction(weeks: tuple[Week, ...]) -> None:
    first = weeks[0]
    assert first.kind == "introduction"
    runs = [line for _, line in lines_of(first, method="unloaded_sprint")]
    assert runs
    assert all((line.effort or 1.0) <= 0.90 and line.run != "top_speed" for line in runs)
    assert all((line.decrement or 0) <= 0.26 for _, line in lines_of(first, method="resisted_sprint"))
    assert all(not line.load_kg for _, line in lines_of(first, method="power"))
    rirs = [line.rir for _, line in lines_of(first, method="maximal_strength") if line.rir is not None]
    assert rirs
    assert min(rirs) >= 5
    nordic = [line for _, line in lines_of(first, exercise="nordic_lower")]
    assert [(line.sets, line.reps) for line in nordic] == [(1, 5)]


def test_lighter_weeks_stand_first_in_the_later_mesocycles(weeks: tuple[Week, ...]) -> None:
    assert [week.number for week in weeks if week.kind == "deload"] == [6, 11]
    assert {week.kind for week in weeks[1:]} == {"loading", "deload"}


def test_lighter_weeks_keep_sprint_speed(weeks: tuple[Week, ...]) -> None:
    for week in weeks:
        if week.kind == "deload":
            runs = [line for _, line in lines_of(week, method="unloaded_sprint")]
            assert any(line.run == "top_speed" for line in runs)
            assert all((line.effort or 1.0) >= 0.95 for line in runs)


def volume(week: Week, unit: str) -> float:
    """Count a week's sets of lifts, or metres of runs with run-ins and sleds."""
    total = 0.0
    for _, line in lines_of(week):
        metres = (line.distance_m or 0.0) + (line.run_in_m or 0.0)
        if unit == "m":
            total += line.sets * line.reps * metres
        elif not metres:
            total += line.sets
    return total


@pytest.mark.parametrize("unit", ["m", "sets"])
def test_lighter_weeks_cut_sets_and_metres_by_30_to_50_percent(unit: str, weeks: tuple[Week, ...]) -> None:
    for before, week in pairwise(weeks):
        if week.kind == "deload":
            cut = 1 - volume(week, unit) / volume(before, unit)
            assert 0.30 <= cut <= 0.50, (week.number, unit, cut)
