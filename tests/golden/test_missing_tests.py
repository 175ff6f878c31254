"""Tests that say little: what is printed, what is assumed, what is refused (issue "Missing data").

"What cannot be individualised is prescribed by effort and says so; what is assumed is printed."
"""

from __future__ import annotations

from pathlib import Path

import pytest

from golden.missing import FLYING, measured, nodes, plain, plan, runs, said, trace, work
from invented_briefs import RULEBOOK, Data, trial
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.tests_file import read_tests
from speedloom.training.measurement import Measurements
from speedloom.wording.profiles import doubts, profiles_text
from speedloom.workflows.profile_athlete import profile_measurements

HEAD = "athlete,date,trial,timing,clock,behind_m,start,surface,place"


def read(folder: Path, *rows: str) -> Measurements:
    """Read a tests file with these lines."""
    path = folder / "tests.csv"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return read_tests(path)


def as_data(measurements: Measurements) -> list[Data]:
    """Give trials as a brief's tests hold them."""
    return [one.model_dump(mode="json") for one in measurements.trials]


# ------------------------------------------------------------------ only a 30 m time


def test_a_single_30_m_time_is_planned_by_effort_over_usual_distances() -> None:
    programme = plan(plain(), [trial(gates=(30,))])
    assert all(line.expect is None and line.effort is not None for line in runs(programme))
    assert all(line.stop_rule and line.stop_rule.kind == "technique" for line in runs(programme))
    (length,) = nodes(programme, "length")
    assert (length.by, length.inputs) == ("profile.typical", {"value": "rule:assumed_body.length_female_m"})
    text = said(programme)
    assert "Runs by effort, no time expected: ada (one gate)." in text
    assert "Their distances are those usual for age and sex." in text


def test_a_single_30_m_time_shows_no_force() -> None:
    (profile,) = profile_measurements(
        measured(trial(gates=(30,))),
        trial_rule="best",
        rulebook=RULEBOOK,
        people={},
    )
    assert profile.f0_npkg is None
    text = profiles_text([profile])
    assert "One gate and a clock started by the athlete: force is not shown." in text
    assert "the fit leans on what is known about sprinters in general" in text


# ------------------------------------------------------------------ hand times


def test_hand_times_carry_the_stopwatch_in_their_band_and_say_so() -> None:
    by_hand = plan(plain(), [trial(clock="unknown") | {"timing": "hand"}])
    by_gates = plan(plain(), [trial()])
    assert "Timed by hand: ada. The bands carry the stopwatch; never compare them with gates." in said(
        by_hand
    )
    assert "by hand" not in said(by_gates)
    clocks = {line.expect.clock.split("/")[0] for line in runs(by_hand) if line.expect}
    assert clocks == {"hand"}
    widest = [
        max(line.expect.high - line.expect.low for line in runs(one) if line.expect)
        for one in (by_hand, by_gates)
    ]
    assert widest[0] > 2 * widest[1]


def test_hand_times_lean_on_what_is_usual_and_say_so() -> None:
    programme = plan(plain(), [trial(clock="unknown") | {"timing": "hand"}])
    assert {node.inputs["prior"] for node in nodes(programme, "f0")} == {"literal:population"}
    assert "Assumed in part: the profile of ada leans on what is usual." in said(programme)
    assert "Assumed in part" not in said(plan(plain(), [trial()]))


# ------------------------------------------------------------------ splits in yards


def test_splits_in_yards_are_planned_as_their_metres(tmp_path: Path) -> None:
    row = "ada,2026-01-08,1,gates,movement,,standing,tartan,track"
    yards = read(tmp_path, f"{HEAD},10 yd,20 yd,30 yd,40 yd", f"{row},1.961,3.130,4.221,5.289")
    metres = read(tmp_path, f"{HEAD},9.14 m,18.29 m,27.43 m,36.58 m", f"{row},1.961,3.130,4.221,5.289")
    assert yards == metres
    programme = plan(plain(), as_data(yards))
    assert all(line.expect for line in runs(programme))
    assert "by effort" not in said(programme)


def test_yards_written_as_metres_are_asked_about(tmp_path: Path) -> None:
    row = "ada,2026-01-08,1,gates,movement,,standing,tartan,track"
    wrong = read(tmp_path, f"{HEAD},10 m,20 m,30 m,40 m", f"{row},1.50,2.42,3.26,4.05")
    profiles = profile_measurements(wrong, trial_rule="best", rulebook=RULEBOOK, people={})
    assert any("were the splits in yards" in one for one in doubts(profiles))


# ------------------------------------------------------------------ a flying time


def test_a_flying_time_alone_is_shown_and_no_time_or_load_is_planned_from_it() -> None:
    flying = trial() | {"start": "flying", "splits": FLYING}
    programme = plan(plain(), [flying])
    assert all(line.expect is None for line in runs(programme))
    assert work(programme, method="resisted_sprint") == []
    text = said(programme)
    assert "ada (flying runs alone, which say nothing about the start)" in text
    assert "Sessions of resisted sprint" in text
    assert "add the kit to the brief, or timed runs to the tests" in text
    profiles = profile_measurements(
        measured(flying),
        trial_rule="best",
        rulebook=RULEBOOK,
        people={},
    )
    assert any("Flying run of 20 m: 9.52 m/s." in one for one in doubts(profiles))
    assert profiles[0].trials.used == ()


def test_a_flying_time_beside_standing_runs_changes_no_number() -> None:
    alone = plan(plain(), [trial()])
    beside = plan(plain(), [trial(), trial() | {"trial": 2, "start": "flying", "splits": FLYING}])
    assert [line.expect for line in runs(beside)] == [line.expect for line in runs(alone)]
    assert [line.load_kg for line in work(beside)] == [line.load_kg for line in work(alone)]


# ------------------------------------------------------------------ a speed trace


def test_a_speed_trace_is_planned_from_with_its_own_formula_and_clock() -> None:
    programme = plan(plain(), [trace()])
    fits = {node.quantity: node for node in programme.basis.values() if node.by == "profile.fit_trace"}
    assert set(fits) == {"f0", "v0", "correlation", "length"}
    assert fits["length"].value == pytest.approx(9.0 * 1.15, rel=0.02)
    assert fits["length"].low < 9.0 * 1.15 < fits["length"].high
    assert {line.expect.clock for line in runs(programme) if line.expect} == {
        "radar/movement",
        "radar/flying",
    }
    assert work(programme, exercise="sled_sprint")
    assert "by effort" not in said(programme)


def test_a_trace_and_gates_of_one_run_plan_the_same_programme() -> None:
    # The same runner by the equations of both: f0 8.0 N/kg, v0 9.4 m/s at the drag of the other tests.
    gates = plan(plain(), [trial()])
    top, length = 9.09, float(nodes(gates, "length")[0].value)
    radar = plan(plain(), [trace(top, length / top, steps_mps=0.0)])
    assert [line.distance_m for line in runs(radar)] == [line.distance_m for line in runs(gates)]
    for one, other in zip(runs(radar), runs(gates), strict=True):
        if one.expect and other.expect:
            assert one.expect.time_s == pytest.approx(other.expect.time_s, rel=0.01)


def test_a_rougher_trace_widens_the_band() -> None:
    widths = []
    for steps in (0.05, 0.4):
        expects = [line.expect for line in runs(plan(plain(), [trace(steps_mps=steps)])) if line.expect]
        widths.append(max((one.high - one.low) / one.time_s for one in expects))
    assert widths[1] > widths[0]


def test_on_one_day_gates_count_before_a_trace_and_a_trace_before_one_gate() -> None:
    both = plan(plain(), [trial(), trace()])
    assert both.programmes[0].profile == "ada/2026-01-08/gates"
    assert "planned from 8 January 2026 (gates), not from 8 January 2026 (radar)" in said(both)
    one_gate = plan(plain(), [trial(gates=(30,)), trace()])
    assert one_gate.programmes[0].profile == "ada/2026-01-08/radar"


def test_a_trace_shows_top_speed_and_force_with_bands() -> None:
    (profile,) = profile_measurements(measured(trace()), trial_rule="best", rulebook=RULEBOOK, people={})
    assert profile.vmax_mps is not None
    assert profile.f0_npkg is not None
    assert profile.vmax_mps.low < 9.0 < profile.vmax_mps.high
    assert profile.clock == "movement"
    assert {warning.id for warning in profile.warnings} == {"mass_assumed", "height_assumed"}


def test_a_trace_too_short_to_be_a_run_is_refused_and_the_runs_go_by_effort() -> None:
    short = trace()
    short["points"] = short["points"][:12]
    programme = plan(plain(), [short])
    assert all(line.expect is None for line in runs(programme))
    assert "ada (no trial that can be used)" in said(programme)


# ------------------------------------------------------------------ no test, a test that cannot be true


def test_nobody_timed_is_planned_by_effort_without_a_sled() -> None:
    programme = plan(plain(), [])
    assert all(line.expect is None and line.effort is not None for line in runs(programme))
    assert work(programme, method="resisted_sprint") == []
    assert "Runs by effort, no time expected: ada (no timed run)." in said(programme)


def test_a_test_that_cannot_be_true_is_refused_and_the_runs_go_by_effort() -> None:
    impossible = trial() | {"splits": [{"distance_m": 10, "time_s": 1.9}, {"distance_m": 20, "time_s": 1.8}]}
    programme = plan(plain(), [impossible])
    assert all(line.expect is None for line in runs(programme))
    assert "ada (no trial that can be used)" in said(programme)


# ------------------------------------------------------------------ two tests that disagree, two methods


def test_of_two_tests_that_disagree_the_newest_is_planned_from_and_named() -> None:
    older = trial(f0=7.2) | {"date": "2025-10-01"}
    both = plan(plain(), [older, trial()])
    assert [line.expect for line in runs(both)] == [line.expect for line in runs(plan(plain(), [trial()]))]
    wanted = (
        "More than one test: ada is planned from 8 January 2026 (gates), not from 1 October 2025 (gates)."
    )
    assert wanted in said(both)


@pytest.mark.parametrize("trials", [1, 2])
def test_tests_by_different_methods_are_never_mixed(trials: int) -> None:
    by_hand = [
        trial(f0=7.0) | {"timing": "hand", "clock": "unknown", "trial": 1 + number}
        for number in range(trials)
    ]
    both = plan(plain(), [*by_hand, trial(gates=(10, 20, 30))])
    alone = plan(plain(), [trial(gates=(10, 20, 30))])
    assert [line.expect for line in runs(both)] == [line.expect for line in runs(alone)]
    assert {node.inputs["trials"] for node in nodes(both, "f0")} == {"test:ada/2026-01-08/gates"}
    assert "planned from 8 January 2026 (gates), not from 8 January 2026 (hand)" in said(both)


# ------------------------------------------------------------------ the clock is never guessed


def test_a_row_without_its_clock_is_refused_by_row_and_column(tmp_path: Path) -> None:
    row = "ada,2026-01-08,1,gates,,,standing,tartan,track,1.9,3.2"
    with pytest.raises(UnusableFileError) as refused:
        read(tmp_path, f"{HEAD},10 m,20 m", row)
    (fault,) = refused.value.faults
    assert (fault.row, fault.column) == (2, "clock")
    assert "never guessed" in fault.expected


def test_an_unknown_clock_is_fitted_and_the_expected_times_hold_its_offset() -> None:
    programme = plan(plain(), [trial(clock="unknown")])
    (offset,) = nodes(programme, "offset")
    assert offset.by == "profile.fit"
    assert offset.low < offset.value < offset.high
    assert {line.expect.clock for line in runs(programme) if line.expect} == {"gates/unknown", "gates/flying"}
