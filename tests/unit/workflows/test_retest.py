"""Test and retest: what is compared, what is named and left out, and how errors and changes come about."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from retest_tests import FIRST, LAST, NAMES, file_text, run, squad_rows
from speedloom.exchange.tests_file import read_tests
from speedloom.training.measurement import Jump, Lift, Measurements
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.workflows.retest import Panel, Retest, retest
from speedloom.workflows.retest_errors import GivenError
from speedloom.workflows.sprint_runs import TrialRule

BEFORE, AFTER = date.fromisoformat(FIRST), date.fromisoformat(LAST)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path


def compared(folder: Path, rows: list[str], rule: TrialRule = "best", **options: object) -> Retest:
    path = folder / "tests.csv"
    path.write_text(file_text(rows), encoding="utf-8")
    return retest(read_tests(path), trial_rule=rule, rulebook=load_rulebook(), people={}, **options)  # type: ignore[arg-type]


def at_30m(found: Retest) -> Panel:
    return next(one for one in found.panels if one.measure.ref == "split_time/30m")


def test_a_squad_is_compared_measure_by_measure(folder: Path) -> None:
    found = compared(folder, squad_rows())
    assert [panel.measure.ref for panel in found.panels] == [
        *(f"split_time/{far}m" for far in (5, 10, 20, 30, 40)), "vmax", "f0",
    ]  # fmt: skip
    assert found.athletes == NAMES
    assert found.days("anna") == (BEFORE, AFTER)
    panel = at_30m(found)
    assert panel.error is not None
    assert (panel.error.kind, panel.error.freedom) == ("own", 20.0)
    assert panel.smallest is not None
    assert panel.smallest.how == "squad_spread"
    assert panel.squad is not None
    assert panel.squad.mean == pytest.approx(-0.06, abs=0.02)
    assert {change.verdict for change in panel.changes} <= {"better", "unclear"}
    assert {one.athlete for one in found.curves} == set(NAMES)
    assert not found.left_out
    assert not found.refused


def test_rows_in_any_order_say_the_same(folder: Path) -> None:
    assert compared(folder, squad_rows()) == compared(folder, squad_rows()[::-1])


def test_an_athlete_in_one_test_only_is_named_and_the_rest_goes_on(folder: Path) -> None:
    rows = [row for row in squad_rows() if not row.startswith(f"bela,{LAST}")]
    found = compared(folder, rows)
    assert "bela" not in found.athletes
    assert {(one.athlete, one.why, one.days) for one in found.left_out} == {
        ("bela", "one_test_only", (BEFORE,))
    }
    assert len(at_30m(found).changes) == 5


def test_one_date_only_compares_nothing(folder: Path) -> None:
    found = compared(folder, [row for row in squad_rows() if f",{FIRST}," in row])
    assert not found.panels
    assert {one.athlete for one in found.left_out} == set(NAMES)


def test_impossible_splits_are_named_and_the_other_trials_count(folder: Path) -> None:
    rows = [*squad_rows(), run("anna", LAST, 4, 4.2).replace("4.20", "1.20")]
    found = compared(folder, rows)
    assert [(one.athlete, one.date, one.trial, one.why) for one in found.refused] == [
        ("anna", AFTER, 4, "splits_not_increasing")
    ]
    assert len(at_30m(found).changes[0].after.trials) == 3
    assert at_30m(found).changes == at_30m(compared(folder, squad_rows())).changes


MIXED = [
    (",gates,", ",hand,", ("timing", "gates", "hand")),
    (",behind,0.5,", ",behind,0.3,", ("behind_m", "0.5 m", "0.3 m")),
    (",behind,0.5,", ",unknown,,", ("clock", "behind", "unknown")),
    (",standing,", ",three_point,", ("start", "standing", "three_point")),
    (",hall,", ",turf,", ("surface", "hall", "turf")),
]


@pytest.mark.parametrize(("word", "other", "changed"), MIXED)
def test_tests_done_differently_are_never_compared(
    folder: Path, word: str, other: str, changed: tuple[str, str, str]
) -> None:
    rows = [row.replace(word, other) if row.startswith(f"cleo,{LAST}") else row for row in squad_rows()]
    found = compared(folder, rows)
    assert "cleo" not in found.athletes
    left = [one for one in found.left_out if one.measure.ref == "split_time/30m"]
    assert [(one.athlete, one.why) for one in left] == [("cleo", "mixed_methods")]
    first = left[0].changed[0]
    assert (first.field, first.before, first.after) == changed


def test_a_day_tested_in_two_ways_is_compared_by_the_way_both_days_have(folder: Path) -> None:
    rows = [*squad_rows(), *(run("anna", LAST, trial, 4.0, timing="hand") for trial in (1, 2, 3))]
    found = compared(folder, rows)
    anna = at_30m(found).changes[0]
    assert dict(anna.after.setting)["timing"] == "gates"
    assert anna == at_30m(compared(folder, squad_rows())).changes[0]


def test_dates_choose_the_tests(folder: Path) -> None:
    middle = [row.replace(LAST, "2026-02-15") for row in squad_rows(seed=6) if f",{LAST}," in row]
    rows = [*squad_rows(), *middle]
    assert compared(folder, rows).days("anna") == (BEFORE, AFTER)
    assert compared(folder, rows, until=date(2026, 3, 1)).days("anna") == (BEFORE, date(2026, 2, 15))
    assert compared(folder, rows, since=date(2026, 1, 9)).days("anna") == (date(2026, 2, 15), AFTER)


def test_best_and_mean_of_trials_scatter_less_than_one(folder: Path) -> None:
    best, mean = (at_30m(compared(folder, squad_rows(), rule)) for rule in ("best", "mean"))
    assert best.error is not None
    assert mean.error is not None
    assert best.error.value == mean.error.value
    one = best.error.value
    # SD of the best of three .7480, of the mean of three 1/√3, on both days.
    assert best.changes[0].error_sd == pytest.approx(one * 0.7480 * math.sqrt(2), rel=1e-4)
    assert mean.changes[0].error_sd == pytest.approx(one * math.sqrt(2 / 3), rel=1e-9)


def test_more_tries_in_one_test_are_allowed_for(folder: Path) -> None:
    rows = [row for row in squad_rows() if not (f",{FIRST}," in row and row.split(",")[2] != "1")]
    panel = at_30m(compared(folder, rows))
    assert panel.error is not None
    for change in panel.changes:
        # One trial before, the best of three after: .8463 typical errors of the gain are more tries.
        assert change.difference - change.raw == pytest.approx(0.84628 * panel.error.value, rel=1e-4)


def test_too_few_repeats_take_a_published_error_with_its_source(folder: Path) -> None:
    single = [row for row in squad_rows() if row.split(",")[2] == "1"]
    found = compared(folder, single)
    short, long = (
        next(one for one in found.panels if one.measure.ref == f"split_time/{far}m").error for far in (10, 30)
    )
    assert short is not None
    assert long is not None
    assert (short.kind, short.source, short.mark) == ("published", "haugen_2016", "read")
    assert (long.kind, long.source, long.mark) == ("published", "haugen_2012", "read")
    before = [change.before for change in at_30m(found).changes]
    assert [long.at(day) for day in before] == pytest.approx([0.01 * day.value for day in before])
    force = next(one for one in found.panels if one.measure.kind == "f0")
    assert force.error is None
    assert {change.verdict for change in force.changes} == {"not_judged"}


def test_a_stopwatch_scatters_more_than_what_was_published(folder: Path) -> None:
    single = [row.replace("gates", "hand") for row in squad_rows() if row.split(",")[2] == "1"]
    error = at_30m(compared(folder, single)).error
    assert error is not None
    assert error.value > 0.07


def test_a_few_athletes_are_read_each_by_itself(folder: Path) -> None:
    rows = [row for row in squad_rows() if row[:4] in {"anna", "bela", "cleo"}]
    panel = at_30m(compared(folder, rows))
    assert panel.squad is None
    assert panel.smallest is not None
    assert panel.smallest.how == "error_instead"
    assert [change.drawn for change in panel.changes] == [change.difference for change in panel.changes]


def test_a_solo_athlete_and_numbers_that_are_given(folder: Path) -> None:
    solo = at_30m(compared(folder, squad_rows(), sport="solo"))
    assert solo.smallest is not None
    assert solo.smallest.how == "solo"
    assert solo.error is not None
    assert solo.smallest.value == pytest.approx(0.3 * solo.error.value * 0.7480, rel=1e-4)
    own = at_30m(compared(folder, squad_rows(), given={"split_time/30m": GivenError(0.05, 0.04)}))
    assert own.error is not None
    assert own.smallest is not None
    assert (own.error.value, own.smallest.value, own.smallest.how) == (0.05, 0.04, "given")


def test_luck_is_not_celebrated(folder: Path) -> None:
    # Nobody changes but for noise; one athlete's luck is a tenth of a second.
    rows = [row for row in squad_rows(gain=0.0, error=0.05) if not row.startswith(f"anna,{LAST}")]
    rows += [run("anna", LAST, trial, 4.2) for trial in (1, 2, 3)]
    anna = at_30m(compared(folder, rows)).changes[0]
    assert anna.drawn is not None
    assert anna.difference < anna.drawn < 0


def test_the_squads_news_alone_is_nobodys_own(folder: Path) -> None:
    rows = [row for row in squad_rows(gain=0.15) if not row.startswith(f"fine,{LAST}")]
    rows += [row.replace(FIRST, LAST) for row in rows if row.startswith(f"fine,{FIRST}")]
    panel = at_30m(compared(folder, rows))
    fine = panel.changes[-1]
    assert (fine.athlete, fine.raw) == ("fine", 0.0)
    assert fine.verdict not in {"better", "worse"}


def test_jumps_and_lifts() -> None:
    jumps = tuple(
        Jump(
            athlete=name,
            date=on,
            trial=trial,
            flight_s=0.5 + 0.01 * place + more + 0.002 * (trial + place % 2),
        )
        for place, name in enumerate(NAMES)
        for on, more in ((BEFORE, 0.0), (AFTER, 0.03))
        for trial in (1, 2, 3)
    )
    wrong = Jump(athlete="anna", date=AFTER, trial=4, flight_s=1.3)
    lifts = (
        Lift(athlete="anna", date=BEFORE, exercise="back_squat", load_kg=80, reps=5, rir=1),
        Lift(athlete="anna", date=AFTER, exercise="back_squat", load_kg=100, reps=5, rir=1),
        Lift(athlete="bela", date=BEFORE, exercise="back_squat", load_kg=60, reps=12),
    )
    found = retest(
        Measurements(jumps=(*jumps, wrong), lifts=lifts),
        trial_rule="mean",
        rulebook=load_rulebook(),
        people={},
    )
    jump, squat = found.panels
    assert (jump.measure.ref, squat.measure.ref) == ("jump_height", "one_rep_max/back_squat")
    assert {change.verdict for change in jump.changes} == {"better"}
    assert {(one.what, one.why) for one in found.refused} == {
        ("jump", "impossible_jump"), ("lift", "too_many_repetitions"),
    }  # fmt: skip
    assert squat.error is not None
    assert squat.error.source == "grgic_2020"
    (anna,) = squat.changes
    # Both sets of five with one in reserve: the formula's error is common, only the retest error counts.
    assert anna.error_sd == pytest.approx(0.042 * math.hypot(anna.before.value, anna.after.value))
    assert anna.verdict == "better"


def test_height_measured_in_another_way_is_not_compared() -> None:
    jumps = (
        Jump(athlete="anna", date=BEFORE, trial=1, flight_s=0.5),
        Jump(athlete="anna", date=AFTER, trial=1, height_m=0.35),
    )
    found = retest(Measurements(jumps=jumps), trial_rule="best", rulebook=load_rulebook(), people={})
    assert not found.panels
    assert found.left_out[0].why == "mixed_methods"


@pytest.mark.parametrize(
    ("number", "value", "look"),
    [
        ("squad_fewest", 99, lambda panel: panel.squad),
        ("repeats_fewest", 99, lambda panel: panel.error.kind),
        ("spread_fewest", 99, lambda panel: panel.smallest.how),
        ("usual_changes", 1, lambda panel: panel.squad.mean),
    ],
)
def test_from_how_many_on_is_a_number_of_the_book(
    folder: Path, number: str, value: float, look: Callable[[Panel], object]
) -> None:
    change = RuleChange(rule="retest", number=number, value=value, reason="A test of the book")
    usual = at_30m(compared(folder, squad_rows()))
    changed = retest(
        read_tests(folder / "tests.csv"),
        trial_rule="best",
        rulebook=load_rulebook().with_changes((change,)),
        people={},
    )
    assert look(at_30m(changed)) != look(usual)
