"""What a sled run is held against, and what is refused, in words."""

from __future__ import annotations

import json
from typing import Any

import pytest

from speedloom.science.mechanics import sprint
from speedloom.training.measurement import Measurements
from speedloom.training.rule import load_rulebook
from speedloom.wording.frictions import REASONS, frictions_text
from speedloom.workflows.sled_friction import SledRuns, sled_friction

RUNNER = sprint.Runner(8.0, 9.2, 75.0, 0.28)
GATES = (5.0, 10.0, 20.0, 30.0)
SLED = {"sled_kg": 35.0}


def run(number: int, *, load: float = 0.0, friction: float = 0.4, **more: object) -> dict[str, Any]:
    course = sprint.Course(load_kg=load, friction=friction if load else 0.0)
    times = [float(sprint.time_to_distance(RUNNER, gate, course=course)) for gate in GATES]
    plain = {
        "athlete": "mila", "date": "2026-01-08", "trial": number, "timing": "gates", "clock": "movement",
        "surface": "turf", "mass_kg": 75.0, "height_m": 1.80,
        "splits": [{"distance_m": gate, "time_s": round(t, 3)} for gate, t in zip(GATES, times, strict=True)],
    }  # fmt: skip
    return plain | more


def towed(number: int, **more: object) -> dict[str, Any]:
    return run(number, load=35.0, **(SLED | more))


def found(*trials: dict[str, Any]) -> SledRuns:
    measurements = Measurements.model_validate_json(json.dumps({"trials": trials}))
    return sled_friction(measurements, trial_rule="best", rulebook=load_rulebook(), people={})


def test_surfaces_are_never_mixed() -> None:
    result = found(
        run(1), towed(2), run(3, surface="hall_floor"), towed(4, surface="hall_floor", friction=0.3)
    )
    # The free trial of a day is the best one, whatever the floor: the second floor has its own day.
    assert {one.surface for one in result.by_athlete} <= {"turf", "hall_floor"}
    other_day = found(
        run(1),
        towed(2),
        run(3, surface="hall_floor", date="2026-01-09"),
        towed(4, surface="hall_floor", friction=0.3, date="2026-01-09"),
    )
    values = {one.surface: one.value for one in other_day.by_surface}
    assert values == pytest.approx({"turf": 0.4, "hall_floor": 0.3}, abs=0.01)


def test_a_gun_and_a_step_behind_the_beam_are_reckoned_with() -> None:
    late = towed(2, clock="gun", reaction_s=0.15)
    late["splits"] = [{**split, "time_s": round(split["time_s"] + 0.15, 3)} for split in late["splits"]]
    (one,) = found(run(1), late).by_athlete
    assert one.value == pytest.approx(0.4, abs=0.01)


@pytest.mark.parametrize(
    ("trials", "why"),
    [
        ((towed(2),), "no_free_profile"),
        ((run(1, timing="hand"), towed(2)), "other_timing"),
        ((run(1, surface="grass"), towed(2)), "other_surface"),
        ((run(1), towed(2, surface=None)), "surface_unknown"),
        ((run(1), towed(2, clock="unknown")), "clock_unknown"),
        ((run(1), towed(2, clock="gun")), "clock_unknown"),
        ((run(1), run(2, sled_kg=35.0)), "not_slower"),
    ],
)
def test_what_cannot_be_held_against_a_free_run_is_refused_in_words(
    trials: tuple[dict[str, Any], ...], why: str
) -> None:
    result = found(*trials)
    assert (result.by_athlete, result.by_surface) == ((), ())
    assert [one.why for one in result.refused] == [why]
    text = frictions_text(result)
    assert "sled trial 2" in text
    assert REASONS[why] in text


def test_every_reason_has_words_and_no_runs_have_none() -> None:
    assert frictions_text(found(run(1))) == ""
    assert all(reason[-1] != "." for reason in REASONS.values())


def test_the_toml_can_be_pasted() -> None:
    text = frictions_text(found(run(1), towed(2), towed(3)))
    assert "mila, turf (gates): friction 0.40" in text
    assert "from 2 runs beside the free profile of 8 January 2026" in text
    assert "friction = { value = 0.40, se = 0.0" in text
