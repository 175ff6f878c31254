"""Profiles of invented athletes whose truth is known: start models, trial rules, priors, warnings."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import numpy as np
import pytest

from speedloom.science.mechanics import exponential, sprint
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import load_rulebook
from speedloom.workflows.profile_athlete import (
    fitted_profiles,
    newest_by_athlete,
    profile_measurements,
    refused_runs,
)
from speedloom.workflows.sprint_runs import TrialRule

BOOK = load_rulebook()
BODY = {"mass_kg": 75.0, "height_m": 1.80}
RUNNER = sprint.Runner(8.0, 9.2, 75.0, 0.28)
GATES = (5.0, 10.0, 20.0, 30.0, 40.0)


def times(gates: tuple[float, ...] = GATES, *, behind: float = 0.0, offset: float = 0.0) -> list[float]:
    late = float(sprint.time_to_distance(RUNNER, behind)) if behind else 0.0
    return [float(sprint.time_to_distance(RUNNER, gate + behind)) - late + offset for gate in gates]


def trial(number: int = 1, split_times: list[float] | None = None, **more: Any) -> dict[str, Any]:  # noqa: ANN401
    gates = more.pop("gates", GATES)
    splits = zip(gates, split_times if split_times is not None else times(gates), strict=True)
    return {
        "athlete": "mila",
        "date": "2026-01-08",
        "trial": number,
        "timing": "gates",
        "clock": "movement",
        "splits": [{"distance_m": gate, "time_s": round(time, 3)} for gate, time in splits],
        **BODY,
        **more,
    }


def measured(*trials: dict[str, Any], **more: Any) -> Measurements:  # noqa: ANN401
    return Measurements.model_validate_json(json.dumps({"trials": trials, **more}))


def profiles(measurements: Measurements, *, rule: TrialRule = "best") -> tuple[Profile, ...]:
    return profile_measurements(measurements, trial_rule=rule, rulebook=BOOK, people={})


def warnings(profile: Profile) -> set[str]:
    return {warning.id for warning in profile.warnings}


@pytest.mark.parametrize(
    ("clock", "more", "run"),
    [
        ("movement", {}, times()),
        ("behind", {"behind_m": 0.5}, times(behind=0.5)),
        ("unknown", {}, times(offset=0.3)),
        ("gun", {"reaction_s": 0.15}, times(offset=0.15)),
        ("gun", {}, times(offset=0.2)),
    ],
)
def test_each_start_model_finds_the_runner(clock: str, more: dict[str, float], run: list[float]) -> None:
    (profile,) = profiles(measured(trial(1, run, clock=clock, **more)))
    assert profile.ref == "mila/2026-01-08/gates"
    assert profile.f0_npkg is not None
    assert profile.v0_mps is not None
    assert profile.f0_npkg.value == pytest.approx(8.0, abs=0.05)
    assert profile.v0_mps.value == pytest.approx(9.2, abs=0.03)
    assert all(split.fitted_s == pytest.approx(split.time_s, abs=0.003) for split in profile.splits)
    assert (profile.offset_s is None) == (clock in {"movement", "behind"})
    if profile.offset_s:
        assert profile.offset_s.value == pytest.approx(run[0] - times()[0], abs=0.02)


def test_few_gates_lean_on_the_prior_and_hide_force() -> None:
    gates = (10.0, 20.0, 30.0)
    (profile,) = profiles(measured(trial(1, times(gates, offset=0.3), gates=gates, clock="unknown")))
    assert (profile.f0_npkg, profile.v0_mps, profile.pmax_wpkg) == (None, None, None)
    assert profile.vmax_mps is not None
    assert {"too_few_gates_for_f0", "prior_used"} <= warnings(profile)
    said = next(warning.message for warning in profile.warnings if warning.id == "too_few_gates_for_f0")
    assert said == "Three gates and an unknown start: force is not shown."
    (fitted,) = fitted_profiles(measured(trial(1, gates=GATES)), trial_rule="best", rulebook=BOOK, people={})
    assert fitted.prior == "none"
    assert fitted.f0_npkg.sd > 0


def test_a_single_gate_still_gives_a_top_speed_marked_as_the_prior_s() -> None:
    (profile,) = profiles(measured(trial(1, times((30.0,)), gates=(30.0,))))
    assert profile.vmax_mps is not None
    assert profile.tau_s is not None
    assert profile.tau_s.prior_driven
    assert profile.vmax_mps.low < 8.9 < profile.vmax_mps.high


def test_best_and_mean() -> None:
    fast, slow = times(), [time * 1.02 for time in times()]
    sheet = measured(trial(1, slow), trial(2, fast), trial(3, [*fast[:-1], 0.5]))
    (best,) = profiles(sheet)
    (mean,) = profiles(sheet, rule="mean")
    assert best.trials.used == (2,)
    assert mean.trials.used == (1, 2)
    assert [one.why for one in refused_runs((best,))] == ["splits_not_increasing"]
    middle = [round((a + b) / 2, 3) for a, b in zip(fast, slow, strict=True)]
    assert [split.time_s for split in mean.splits] == pytest.approx(middle, abs=0.0011)


def test_the_farther_trial_is_better_than_a_shorter_one() -> None:
    short = trial(1, times(GATES[:3]), gates=GATES[:3])
    (profile,) = profiles(measured(short, trial(2)))
    assert profile.trials.used == (2,)


def test_sleds_flying_runs_and_other_clocks_stay_out() -> None:
    sled = trial(1, [time * 1.4 for time in times()], sled_kg=30.0)
    flying = trial(2, times(), start="flying")
    gun = trial(3, [time + 0.4 for time in times()], clock="gun")
    (profile,) = profiles(measured(sled, flying, gun, trial(4)), rule="mean")
    assert profile.trials.used == (4,)
    assert [one.why for one in profile.trials.refused] == ["flying_start"]
    assert {"flying_start", "mixed_clocks"} <= warnings(profile)


def test_nothing_usable_is_a_profile_that_says_so() -> None:
    (profile,) = profiles(measured(trial(1, [3.0, 2.0, 1.0, 0.5, 0.4])))
    assert profile.vmax_mps is None
    assert profile.splits == ()
    assert "no_usable_trials" in warnings(profile)


def test_the_person_of_the_brief_holds_before_the_sheet() -> None:
    mila = Athlete(ref="mila", mass_kg=60.0, height_m=1.70)
    sheet = measured(trial())
    (fitted,) = fitted_profiles(sheet, trial_rule="best", rulebook=BOOK, people={"mila": mila})
    assert (fitted.mass_kg, fitted.around.height_m) == (60.0, 1.70)
    (own,) = fitted_profiles(sheet, trial_rule="best", rulebook=BOOK, people={})
    assert own.mass_kg == 75.0


def test_what_is_assumed_is_said() -> None:
    bare = {**trial(), "mass_kg": None, "height_m": None, "sex": "female"}
    (profile,) = profiles(measured(bare))
    assert (profile.mass_kg, profile.height_m, profile.air.assumed) == (None, None, True)
    assert {"mass_assumed", "height_assumed"} <= warnings(profile)
    (warm,) = profiles(measured(trial(temperature_c=30.0, altitude_m=2000.0)))
    assert not warm.air.assumed
    assert warm.air.density_kgpm3 == pytest.approx(0.9137, abs=0.001)  # ISO 2533 pressure, 79 495 Pa (read)


def test_a_moved_gate_and_a_stopwatch_are_said() -> None:
    run = times()
    run[2] += 0.15
    assert "poor_fit" in warnings(profiles(measured(trial(1, run)))[0])
    (hand,) = profiles(measured(trial(timing="hand")))
    assert "hand_timed" in warnings(hand)
    assert hand.timing_sd_s == BOOK.number("expected_time", "timing_hand_s")


def test_a_short_test_says_that_top_speed_is_extrapolated() -> None:
    gates = (2.5, 5.0, 7.5, 10.0)
    (profile,) = profiles(measured(trial(1, times(gates), gates=gates)))
    assert "top_speed_beyond_last_gate" in warnings(profile)


def test_the_order_of_trials_changes_nothing() -> None:
    sheet = [trial(1, times(offset=0.02)), trial(2), {**trial(1), "athlete": "ana"}]
    assert profiles(measured(*sheet)) == profiles(measured(*sheet[::-1]))


def test_methods_of_timing_are_never_mixed_and_the_newest_is_found() -> None:
    sheet = measured(trial(), trial(timing="hand"), {**trial(), "date": "2026-02-08"})
    assert [one.ref for one in profiles(sheet)] == [
        *("mila/2026-01-08/gates", "mila/2026-01-08/hand", "mila/2026-02-08/gates"),
    ]
    fitted = fitted_profiles(sheet, trial_rule="best", rulebook=BOOK, people={})
    assert newest_by_athlete(fitted, until=date(2026, 2, 1))["mila"].ref == "mila/2026-01-08/gates"
    assert newest_by_athlete(fitted, until=date(2026, 3, 1))["mila"].ref == "mila/2026-02-08/gates"


def test_a_speed_trace_gives_top_speed_and_time_constant() -> None:
    clock = np.arange(0.0, 6.0, 0.1)
    speed = np.where(clock < 0.5, 0.1, exponential.speed_at_time(9.0, 1.2, np.maximum(clock - 0.5, 0.0)))
    points = [{"time_s": round(t, 3), "speed_mps": round(v, 4)} for t, v in zip(clock, speed, strict=True)]
    wild = [{**point, "speed_mps": 19.0} for point in points]
    traces = [
        {"athlete": "mila", "date": "2026-01-08", "trial": number, "timing": "radar", "points": those}
        for number, those in ((1, points), (2, wild), (3, points[:3]))
    ]
    (profile,) = profiles(Measurements.model_validate_json(json.dumps({"traces": traces})))
    assert profile.vmax_mps is not None
    assert profile.tau_s is not None
    assert profile.vmax_mps.value == pytest.approx(9.0, abs=0.01)
    assert profile.tau_s.value == pytest.approx(1.2, abs=0.01)
    assert profile.f0_npkg is not None
    # vmax/tau less a sixth of what the drag takes at top speed: the nearest line over all speeds.
    assert profile.f0_npkg.value == pytest.approx(9.0 / 1.2 - 0.0036 * 81 / 6, rel=0.02)
    assert {one.trial: one.why for one in profile.trials.refused} == {
        2: "too_few_points",
        3: "too_few_points",
    }


def test_each_formula_number_of_the_prior_stands_in_the_rulebook() -> None:
    changed = BOOK.with_changes(())
    assert changed.number("population_prior", "log_f0_mean") == 2.0
    (one,) = fitted_profiles(
        measured(trial(1, times((30.0,)), gates=(30.0,))), trial_rule="best", rulebook=changed, people={}
    )
    assert one.prior == "population"
    # A single time is explained by many pairs: the pull to the prior leaves it inside one spread of both.
    assert abs(np.log(one.f0_npkg.value) - 2.0) < 0.15
    assert abs(np.log(one.v0_mps.value) - 2.075) < 0.15


def test_a_body_beyond_elite_sprinters_asks_for_yards() -> None:
    # The most of 665 elite athletes: F0 9.75 N/kg, Pmax 23.7 W/kg (Haugen et al. 2019, data, read).
    (plain,) = profiles(measured(trial(1)))
    (yards,) = profiles(measured(trial(1, [1.55, 2.60, 3.6, 4.5], gates=(10.0, 20.0, 30.0, 40.0))))
    asked = [one for one in yards.warnings if one.id == "beyond_sprinters"]
    assert "beyond_sprinters" not in warnings(plain)
    assert [one.field for one in asked] == ["f0_npkg", "pmax_wpkg"]
    assert all("were the splits in yards" in one.message for one in asked)
