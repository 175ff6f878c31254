"""Formulas worked by hand, as training/data/formulas.toml writes them."""

from __future__ import annotations

import pytest

from speedloom.checking.recompute.arguments import NotComputableError
from speedloom.checking.recompute.nodes import BANDED, BANDS, BOUNDED, COACH, FORMULAS, SINGLES
from speedloom.training.rule import load_rulebook

CASES = [
    ("total", {"a": 1.5, "b": 2.0, "c": -0.5}, 3.0),
    ("product", {"a": 1.5, "b": 2.0, "c": 3.0}, 9.0),
    ("least", {"a": 1.5, "b": 0.5}, 0.5),
    ("clamp", {"value": 12.0, "low": 15.0, "high": 30.0}, 15.0),
    ("round.step", {"value": 0.375, "step": 0.05}, 0.35),
    ("round.step", {"value": 0.3751, "step": 0.05}, 0.4),
    ("round.step", {"value": 2.5, "step": 1.0}, 2.0),
    ("round.up", {"value": 23.6, "step": 0.5}, 24.0),
    ("round.up", {"value": 23.5, "step": 0.5}, 23.5),
    (
        "round.distance",
        {"distance_m": 22.5, "longest_m": 60.0, "fine_m": 5.0, "coarse_m": 10.0, "border_m": 30.0},
        20.0,
    ),
    (
        "round.distance",
        {"distance_m": 36.0, "longest_m": 60.0, "fine_m": 5.0, "coarse_m": 10.0, "border_m": 30.0},
        40.0,
    ),
    (
        "round.distance",
        {"distance_m": 58.0, "longest_m": 52.0, "fine_m": 5.0, "coarse_m": 10.0, "border_m": 30.0},
        50.0,
    ),
    (
        "round.distance",
        {"distance_m": 2.0, "longest_m": 3.0, "fine_m": 5.0, "coarse_m": 10.0, "border_m": 30.0},
        5.0,
    ),
    ("volume.count", {"wanted": 100.0, "each": 40.0, "fewest": 2.0, "most": 8.0}, 2.0),
    ("volume.count", {"wanted": 101.0, "each": 40.0, "fewest": 2.0, "most": 8.0}, 3.0),
    ("volume.count", {"wanted": 900.0, "each": 40.0, "fewest": 2.0, "most": 8.0}, 8.0),
    (
        "taper.factor",
        {"days_to_peak": 9.0, "taper_days": 14.0, "far": 0.7, "near": 0.45, "short": 0.5},
        0.7,
    ),
    (
        "taper.factor",
        {"days_to_peak": 7.0, "taper_days": 14.0, "far": 0.7, "near": 0.45, "short": 0.5},
        0.45,
    ),
    (
        "taper.factor",
        {"days_to_peak": 9.0, "taper_days": 10.0, "far": 0.7, "near": 0.45, "short": 0.5},
        0.5,
    ),
    ("volume.planned", {"sets_1": 3.0, "reps_1": 2.0, "each_1": 15.0, "sets_2": 2.0, "each_2": 5.0}, 100.0),
    ("contacts.line", {"sets": 3.0, "reps": 8.0, "contacts_per_rep": 1.0, "sides": "each"}, 48.0),
    (
        "weeks.specificity",
        {"first": 0.0, "last": 1.0, "mesocycle": 2.0, "mesocycles": 3.0, "before": 3.0, "loading": 8.0},
        4.0 / 9.0,
    ),
    (
        "weeks.specificity",
        {"first": 0.2, "last": 0.8, "mesocycle": 1.0, "mesocycles": 1.0, "before": 0.0, "loading": 1.0},
        0.8,
    ),
    ("weeks.mesocycle_point", {"first": 0.0, "last": 1.0, "mesocycle": 2.0, "mesocycles": 3.0}, 0.5),
    ("weeks.mesocycle_point", {"first": 0.2, "last": 0.6, "mesocycle": 1.0, "mesocycles": 1.0}, 0.4),
    ("role.shift", {"specificity": 0.05, "shift": 0.1, "direction": -1.0}, 0.0),
    ("role.shift", {"specificity": 0.5, "shift": 0.1, "direction": 1.0}, 0.6),
    ("dose.linear", {"general": 100.0, "middle": 160.0, "specific": 200.0, "specificity": 0.25}, 130.0),
    ("dose.linear", {"general": 100.0, "middle": 160.0, "specific": 200.0, "specificity": 0.75}, 180.0),
    ("dose.geometric", {"general": 1.0, "middle": 4.0, "specific": 9.0, "specificity": 0.25}, 2.0),
    ("dose.geometric", {"general": 1.0, "middle": 4.0, "specific": 9.0, "specificity": 0.75}, 6.0),
    ("rest.run", {"distance_m": 20.0, "run_in_m": 20.0, "floor_s": 180.0, "per_10_m_s": 60.0}, 240.0),
    ("rest.run", {"distance_m": 12.0, "floor_s": 91.0, "per_10_m_s": 60.0}, 105.0),
    (
        "minutes.line",
        {
            "sets": 1.0,
            "reps": 4.0,
            "work_s": 30.0,
            "rest_reps_s": 120.0,
            "change_over_s": 120.0,
            "turns": 1.0,
        },
        10.0,
    ),
    (
        "minutes.line",
        {"sets": 1.0, "reps": 4.0, "work_s": 30.0, "rest_reps_s": 60.0, "change_over_s": 0.0, "turns": 4.0},
        (4 * 30 + 3 * 90) / 60,
    ),
    (
        "minutes.line",
        {"sets": 3.0, "reps": 1.0, "work_s": 36.0, "rest_reps_s": 0.0, "rest_s": 180.0, "ramp_up_s": 300.0},
        (300 + 3 * 36 + 2 * 180) / 60,
    ),
    ("queue.turns", {"present": 14.0, "stations": 2.0, "lanes": 1.0}, 7.0),
    ("queue.turns", {"present": 14.0, "stations": 1.0, "lanes": 5.0}, 3.0),
    ("run.longest", {"straight_m": 50.0, "run_out_m": 10.0, "before_m": 0.5}, 39.5),
    ("run.share_point", {"length_m": 10.0, "share": 0.95}, 20.457),
    ("friction.middle", {"low": 0.3, "high": 0.45}, 0.375),
    ("repetitions.share", {"reps": 5.0, "rir": 2.0}, 0.83),
    ("repetitions.share", {"reps": 12.0, "rir": 3.0}, 0.67),
    ("one_rep_max.estimate", {"load_kg": 140.0, "reps": 5.0, "rir": 0.0}, 163.216),
    ("one_rep_max.estimate", {"load_kg": 100.0, "reps": 1.0, "rir": 0.0}, 100.0),
    ("effort.time", {"time_s": 2.7, "effort": 0.9}, 3.0),
    (
        "expect.spread",
        {"time_s": 3.0, "profile_s": 0.04, "friction_s": 0.0, "repetition": 0.01, "timing_s": 0.0},
        0.05,
    ),
    ("expect.low", {"time_s": 3.0, "spread_s": 0.05}, 2.91776),
    ("expect.high", {"time_s": 3.0, "spread_s": 0.05}, 3.08224),
]


def _value(formula: str, arguments: dict[str, object]) -> object:
    return BANDS[formula](arguments)[0] if formula in BANDS else SINGLES[formula](arguments)


def test_friction_from_a_timed_run_carries_its_band() -> None:
    band = BANDS["friction.timed"]({"value": 0.38, "se": 0.02})
    assert band == pytest.approx((0.38, 0.3471029, 0.4128971), abs=1e-7)


@pytest.mark.parametrize(("formula", "arguments", "expected"), CASES)
def test_worked_by_hand(formula: str, arguments: dict[str, object], expected: float) -> None:
    assert _value(formula, arguments) == pytest.approx(expected, rel=2e-5)


def test_a_seven_formula_median_is_that_of_the_published_values() -> None:
    # 140 kg x 5: 163.333, 157.5, 159.192, 157.5, 163.216, 166.615, Lombardi 164.4 (table 5.2, read).
    assert SINGLES["one_rep_max.estimate"]({"load_kg": 140.0, "reps": 5.0}) == pytest.approx(
        163.216, abs=1e-3
    )


@pytest.mark.parametrize("arguments", [{}, {"value": "ten", "step": 1.0}, {"value": None, "step": 1.0}])
def test_what_is_no_number_is_refused(arguments: dict[str, object]) -> None:
    with pytest.raises(NotComputableError):
        SINGLES["round.step"](arguments)


def test_every_published_formula_can_be_computed_again() -> None:
    import tomllib
    from importlib.resources import files

    text = files("speedloom.training").joinpath("data", "formulas.toml").read_text(encoding="utf-8")
    assert set(tomllib.loads(text)) == FORMULAS
    assert {BOUNDED, COACH, *BANDED} <= FORMULAS


def test_the_rulebook_still_has_the_numbers_read_by_name() -> None:
    book = load_rulebook()
    for rule, number in (
        ("acceleration_runs", "effort_low"),
        ("top_speed_dose", "run_in_share"),
        ("main_lift_dose", "rir_novice_week_4"),
        ("population_prior", "spare_gates"),
    ):
        assert book.has(rule, number), f"{rule}.{number}"
