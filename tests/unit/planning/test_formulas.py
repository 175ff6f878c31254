"""The planner's formulas against numbers worked by hand (doses and formulas: common practice)."""

from __future__ import annotations

import pytest

from invented_briefs import RULEBOOK, athlete, brief, lines, planned
from speedloom.planning.formulas import FORMULAS, round_distance, step_half_down
from speedloom.training.formula import load_formulas

GRID = {"fine_m": 5, "coarse_m": 10, "border_m": 30}


def dose(rule: str, number: str, at: float, *, by: str = "dose.linear") -> float:
    """Read a dose at a specificity."""
    points = {
        point: RULEBOOK.number(rule, f"{number}_{point}") for point in ("general", "middle", "specific")
    }
    return float(FORMULAS[by](**points, specificity=at))


def test_no_formula_is_unlisted() -> None:
    assert set(FORMULAS) <= set(load_formulas())


@pytest.mark.parametrize(
    ("level", "length", "metres"),
    # Common practice: "same, m, L 7.8 / 10.7: 10/15/25 | 10/15/30 and 15/25/40 | 15/30/60".
    [
        ("novice", 7.8, (10, 15, 25)),
        ("intermediate", 7.8, (10, 15, 30)),
        ("intermediate", 10.7, (15, 25, 40)),
        ("advanced", 10.7, (15, 30, 60)),
    ],
)
def test_acceleration_distances(level: str, length: float, metres: tuple[int, ...]) -> None:
    found = [
        round_distance(
            dose("acceleration_dose", f"lengths_{level}", at, by="dose.geometric") * length, 90, **GRID
        )
        for at in (0, 0.5, 1)
    ]
    assert found == list(metres)


def test_the_95_percent_point_is_2_05_lengths() -> None:
    # -ln(0.05) - 0.95 = 2.9957 - 0.95 (mechanics, M1).
    assert FORMULAS["run.share_point"](length_m=10, share=0.95) == pytest.approx(20.457, abs=1e-3)


@pytest.mark.parametrize(("at", "share"), [(0, 0.50), (0.25, 0.40), (0.5, 0.30), (0.75, 0.20), (1, 0.10)])
def test_decrements_of_an_advanced_athlete(at: float, share: float) -> None:
    assert dose("sled_dose", "decrement_advanced", at) == pytest.approx(share)


def test_equal_ratios_lie_in_the_geometric_middle() -> None:
    # 10 to 15 m in two equal ratios: 10 x sqrt(1.5).
    assert dose("sled_dose", "distance_novice", 0.25, by="dose.geometric") == pytest.approx(12.247, abs=1e-3)


@pytest.mark.parametrize(
    ("raw", "longest", "grid"),
    [
        (7.4, 90, 5),
        (7.5, 90, 5),
        (7.6, 90, 10),
        (35, 90, 30),
        (35.1, 90, 40),
        (45, 90, 40),
        (60, 40, 40),
        (33, 33, 30),
    ],
)
def test_distances_on_the_grid(raw: float, longest: float, grid: float) -> None:
    assert round_distance(raw, longest, **GRID) == grid


@pytest.mark.parametrize(
    ("metres", "run_in", "floor", "seconds"),
    # 1 min per 10 m; floors 90 s below 15 m, 120 s from 15 m on, 240 s for top speed; up to 15 s.
    [
        (10, 0, 90, 90),
        (15, 0, 120, 120),
        (25, 0, 120, 150),
        (40, 0, 120, 240),
        (20, 20, 240, 240),
        (30, 20, 240, 300),
    ],
)
def test_rests_after_runs(metres: float, run_in: float, floor: float, seconds: float) -> None:
    rest = FORMULAS["rest.run"](distance_m=metres, run_in_m=run_in, floor_s=floor, per_10_m_s=60)
    assert rest == seconds


def minutes(**more: float) -> float:
    """Compute a line's minutes."""
    plain = {
        "sets": 1,
        "reps": 1,
        "rest_reps_s": 0,
        "rest_s": 0,
        "change_over_s": 120,
        "ramp_up_s": 0,
        "turns": 1,
    }
    return float(FORMULAS["minutes.line"](**plain | more))


def test_minutes_by_hand() -> None:
    # Eight 10-m runs: 2 min change-over, 8 x 9 s, 7 x 90 s.
    assert minutes(reps=8, work_s=9, rest_reps_s=90) == pytest.approx((120 + 72 + 630) / 60)
    # Four sets of a main lift: 5 min ramp-up, 4 x 36 s, 3 x 3 min.
    assert minutes(sets=4, work_s=36, rest_s=180, ramp_up_s=300) == pytest.approx(
        (120 + 300 + 144 + 540) / 60
    )


def test_a_queue_lengthens_the_rest_only_when_it_is_longer() -> None:
    # Seven athletes on one sled: six wait 30 s each, 180 s; eight make it 210 s.
    seven, eight = (minutes(reps=4, work_s=30, rest_reps_s=180, turns=turns) for turns in (7, 8))
    assert seven == pytest.approx((120 + 120 + 3 * 180) / 60)
    assert eight == pytest.approx((120 + 120 + 3 * 210) / 60)


@pytest.mark.parametrize(
    ("present", "stations", "lanes", "turns"), [(1, 1, 4, 1), (4, 1, 4, 1), (5, 1, 4, 2), (7, 2, 1, 4)]
)
def test_turns(present: int, stations: int, lanes: int, turns: int) -> None:
    assert FORMULAS["queue.turns"](present=present, stations=stations, lanes=lanes) == turns


@pytest.mark.parametrize(
    ("wanted", "each", "count"), [(100, 20, 5), (90, 20, 4), (91, 20, 5), (10, 20, 2), (400, 20, 8)]
)
def test_counts_are_nearest_half_down_and_bounded(wanted: float, each: float, count: int) -> None:
    assert FORMULAS["volume.count"](wanted=wanted, each=each, fewest=2, most=8) == count


@pytest.mark.parametrize(
    ("value", "step", "rounded"), [(0.325, 0.05, 0.30), (0.326, 0.05, 0.35), (0.35, 0.05, 0.35)]
)
def test_steps_go_half_down(value: float, step: float, rounded: float) -> None:
    assert step_half_down(value, step) == pytest.approx(rounded)


@pytest.mark.parametrize(
    ("reps", "reserve", "share"),
    # The chart's rows 11, 9, 7, 4, 3 and 12; second-hand, rows 11 and 12 from memory.
    [(8, 3, 0.70), (8, 1, 0.77), (5, 2, 0.83), (3, 1, 0.90), (2, 1, 0.93), (8, 5, 0.67)],
)
def test_shares_of_the_maximum(reps: int, reserve: int, share: float) -> None:
    assert FORMULAS["repetitions.share"](reps=reps, rir=reserve) == pytest.approx(share)


def test_day_roles_shift_within_the_scale() -> None:
    shift = FORMULAS["role.shift"]
    assert shift(specificity=0.5, shift=0.1, direction=-1) == pytest.approx(0.4)
    assert shift(specificity=0.95, shift=0.1, direction=1) == 1.0
    assert shift(specificity=0.05, shift=0.1, direction=-1) == 0.0


def test_contacts_count_both_sides() -> None:
    contacts = FORMULAS["contacts.line"]
    assert contacts(sets=3, reps=5, contacts_per_rep=1, sides="each") == 30
    assert contacts(sets=3, reps=5, contacts_per_rep=1, sides="both") == 15


def test_a_spread_is_the_root_of_the_squares() -> None:
    spread = FORMULAS["expect.spread"](
        time_s=4.0, profile_s=0.03, friction_s=0.12, repetition=0.01, timing_s=0.0
    )
    assert spread == pytest.approx(0.13)  # 3, 4 and 12 hundredths


def test_a_set_too_long_for_every_formula_gives_no_maximum_whatever_the_coach_allows() -> None:
    longer = {"rule": "one_rep_max_repetitions", "number": "reps", "value": 20, "reason": "Only long sets"}
    lifted = {"date": "2026-01-08", "exercise": "back_squat", "load_kg": 60.0, "reps": 18, "rir": 1}
    data = brief(athlete(lifts=[lifted]), rules=[longer], end="2026-01-18")
    assert {line.share_1rm for line in lines(planned(data), method="maximal_strength")} == {None}
