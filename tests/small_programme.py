"""A small programme made by hand: four weeks, one athlete, two days. For tests of words and commands."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any

from speedloom.training.programme import Programme

MONDAYS = ("2026-01-12", "2026-01-19", "2026-01-26", "2026-02-02")
KINDS = ("introduction", "loading", "loading", "deload")
SLED = ((3, 10, 20.0), (4, 10, 37.5), (5, 15, 35.0), (3, 15, 35.0))
SQUAT = ((2, 8, 65.0), (3, 8, 72.5), (3, 8, 75.0), (2, 8, 70.0))

BASIS: dict[str, Any] = {
    "b1": {"quantity": "f0", "value": 7.9, "unit": "N/kg", "low": 7.6, "high": 8.2, "by": "profile.fit",
           "inputs": {"trials": "test:mila/2026-01-08/gates"}, "source": "samozino_2016", "mark": "read"},
    "b2": {"quantity": "decrement general", "value": 0.4, "unit": "share", "by": "given",
           "inputs": {"value": "rule:sled_dose.decrement_intermediate_general"}, "mark": "common practice"},
    "b3": {"quantity": "specificity", "value": 0.25, "unit": "share", "by": "given",
           "inputs": {"value": "literal:0.25"}, "mark": "common practice"},
    "b4": {"quantity": "decrement", "value": 0.325, "unit": "share", "by": "dose.linear",
           "inputs": {"general": "b2", "middle": "rule:sled_dose.decrement_intermediate_middle",
                      "specific": "rule:sled_dose.decrement_intermediate_specific", "specificity": "b3"},
           "mark": "common practice"},
    "b5": {"quantity": "load", "value": 38.1, "unit": "kg", "low": 32.0, "high": 45.0,
           "by": "resistance.load_for_decrement_at_distance",
           "inputs": {"f0_npkg": "b1", "decrement": "b4", "distance_m": "literal:10"},
           "source": "cross_2017", "mark": "read"},
    "b6": {"quantity": "load", "value": 37.5, "unit": "kg", "by": "kit.round_load",
           "inputs": {"load_kg": "b5", "kit": "brief:kit.sled"}, "mark": "common practice"},
    "b7": {"quantity": "sets", "value": 3, "unit": "1", "by": "coach", "inputs": {"proposed": "literal:4"},
           "mark": "common practice", "reason": "Sore after the cup"},
    "b8": {"quantity": "week's metres", "value": 40.0, "unit": "m", "by": "volume.planned",
           "inputs": {"reps_1": "literal:4", "each_1": "literal:10"}, "mark": "common practice"},
}  # fmt: skip


def line(number: int, **fields: object) -> dict[str, object]:
    """Make one line with a reference of its own."""
    plain = {"purpose": "work", "sets": 1, "reps": 1, "minutes": 5.0, "basis": {}}
    return {"ref": f"mila-{number}", **plain, **fields}


def field_day(week: int) -> dict[str, object]:
    """Make the Monday of a week: warm-up, standing runs, sled, jumps."""
    first = 100 * week
    reps, distance, load = SLED[week - 1]
    expect = {"time_s": 3.48, "low": 3.36, "high": 3.61, "clock": "gates/behind/0.5"}
    run = {"method": "unloaded_sprint", "run": "acceleration", "exercise": "acceleration_run"}
    jumps = "broad_jump_stick" if week < 3 else "alternate_bound"
    lines = [
        line(first + 1, purpose="warm_up", method="technique", exercise="indoor", minutes=20.0),
        line(first + 2, **run, reps=4 + week, distance_m=10, effort=0.9 if week == 1 else None),
        line(first + 3, method="resisted_sprint", exercise="sled_sprint", reps=reps, distance_m=distance,
             load_kg=load, kit="sled", expect=expect, rest_reps_s=150, decrement=0.3,
             basis={"load_kg": "b6"} if week == 2 else {}),
        line(first + 4, method="plyometric", exercise=jumps, sets=4, reps=5, contacts=20),
    ]  # fmt: skip
    return {
        "ref": f"mila-{first}", "date": MONDAYS[week - 1], "start": "18:00", "minutes": 60.0,
        "minutes_available": 75.0, "slot": "mon_hall", "place": "hall", "role": "heavier",
        "prescriptions": lines,
    }  # fmt: skip


def gym_day(week: int) -> dict[str, object]:
    """Make the Wednesday of a week: lifts and general strength."""
    first = 100 * week + 50
    sets, reps, load = SQUAT[week - 1]
    general = {"method": "general_strength", "sets": 3, "reps": 8, "reps_to": 12}
    lines = [
        line(first + 1, method="power", exercise="jump_squat", sets=3, reps=5,
             load_kg=None if week > 2 else 30.0),
        line(first + 2, method="maximal_strength", exercise="back_squat", sets=sets, reps=reps, load_kg=load,
             rir=3, basis={"sets": "b7"} if week == 4 else {}),
        line(first + 3, exercise="split_squat", side="each", **general),
    ]  # fmt: skip
    date = f"2026-{'02-04' if week == 4 else f'01-{14 + 7 * (week - 1):02d}'}"
    return {
        "ref": f"mila-{first}", "date": date, "start": "19:30", "minutes": 50.0, "minutes_available": 60.0,
        "slot": "wed_gym", "place": "gym", "role": "neutral", "prescriptions": lines,
    }  # fmt: skip


def document() -> dict[str, Any]:
    """Make the programme as plain JSON values, to be changed by a test."""
    weeks = [
        {
            "number": week, "monday": MONDAYS[week - 1], "mesocycle": 1, "kind": KINDS[week - 1],
            "specificity": 0.25, "sessions": [field_day(week), gym_day(week)],
            "volumes": {"resisted_sprint": {"wanted": 42, "planned": 40, "unit": "m"}},
            "basis": {"specificity": "b3", "volumes.resisted_sprint": "b8"},
        }
        for week in (1, 2, 3, 4)
    ]  # fmt: skip
    return {
        "schema": "speedloom.programme/1", "id": "4f1c2a90b7de", "revision": {"number": 1},
        "engine": "speedloom", "timezone": "Europe/Amsterdam", "rulebook": {"digest": "sha256:51aa"},
        "brief": {"digest": None, "content": None}, "basis": deepcopy(BASIS),
        "programmes": [{"athlete": "mila", "next_ref": 500, "weeks": weeks}],
    }  # fmt: skip


def small_programme(content: dict[str, Any] | None = None) -> Programme:
    """Read the programme, or one that a test changed."""
    return Programme.model_validate_json(json.dumps(content or document()))
