"""Squares of the progression table read as a coach writes them."""

from __future__ import annotations

import json

import pytest

from speedloom.training.programme import Prescription
from speedloom.wording.cells import cell, cell_text, quality
from speedloom.wording.units import Units


def made(**fields: object) -> Prescription:
    plain = {"ref": "a-1", "purpose": "work", "method": "other", "exercise": "x", "sets": 1, "reps": 1}
    return Prescription.model_validate_json(json.dumps({**plain, "minutes": 5.0, **fields}))


RUN = {"method": "unloaded_sprint", "run": "acceleration", "exercise": "acceleration_run"}
SLED = {"method": "resisted_sprint", "exercise": "sled_sprint"}
LIFT = {"method": "maximal_strength", "exercise": "back_squat"}


@pytest.mark.parametrize(
    ("fields", "text"),
    [
        ({**RUN, "reps": 6, "distance_m": 10}, "6 × 10"),
        ({**RUN, "reps": 4, "distance_m": 10, "effort": 0.9}, "4 × 10 @ 90 %"),
        ({**RUN, "reps": 4, "distance_m": 10, "effort": 1.0}, "4 × 10"),
        ({**RUN, "run": "top_speed", "reps": 3, "distance_m": 20, "run_in_m": 20}, "3 × 20 + 20"),
        ({**SLED, "reps": 5, "distance_m": 15, "load_kg": 37.5}, "5 × 15 · 37.5 kg"),
        ({**SLED, "sets": 2, "reps": 3, "distance_m": 15, "load_kg": 30}, "2 × 3 × 15 · 30 kg"),
        ({**SLED, "reps": 4, "distance_m": 15, "grade": 0.07, "effort": 0.95}, "4 × 15 · 7 % hill"),
        ({**SLED, "reps": 4, "distance_m": 15, "decrement": 0.25}, "4 × 15 · 25 % slower"),
        ({**LIFT, "sets": 3, "reps": 8, "load_kg": 72.5}, "3 × 8 · 72.5 kg"),
        ({**LIFT, "sets": 3, "reps": 8, "rir": 3}, "3 × 8 · RIR 3"),
        ({"method": "power", "sets": 3, "reps": 3, "load_kg": 0}, "3 × 3 · bw"),
        ({"method": "power", "sets": 3, "reps": 5, "load_kg": 30}, "3 × 5 · 30 kg"),
        ({"method": "general_strength", "sets": 3, "reps": 8, "reps_to": 12}, "3 × 8–12"),
        ({"method": "plyometric", "sets": 4, "reps": 5, "added_kg": 5}, "4 × 5 · +5 kg"),
        ({"method": "plyometric", "sets": 4, "reps": 5, "height_m": 0.3}, "4 × 5 · 30 cm"),
        ({"method": "isometric", "sets": 3, "hold_s": 20}, "3 × 20 s"),
    ],
)
def test_squares(fields: dict[str, object], text: str) -> None:
    assert cell_text(made(**fields)) == text


def test_pounds_and_yards_are_display_only() -> None:
    line = made(**SLED, reps=5, distance_m=18.29, load_kg=20.0)
    assert cell_text(line, units=Units(mass="lb", length="yd")) == "5 × 20 · 44.1 lb"
    assert line.load_kg == 20.0


def test_a_square_has_two_rows() -> None:
    square = cell(made(**SLED, reps=5, distance_m=15, load_kg=37.5))
    assert (square.main, square.second) == ("5 × 15", "37.5 kg")


@pytest.mark.parametrize(
    ("before", "after", "same"),
    [
        ({"reps": 5}, {"reps": 6}, True),
        ({"distance_m": 10}, {"distance_m": 15}, False),
        ({"effort": 0.9}, {"effort": None}, False),
        ({"exercise": "acceleration_run"}, {"exercise": "acceleration_falling"}, False),
    ],
)
def test_what_counts_as_other_work(
    before: dict[str, object], after: dict[str, object], *, same: bool
) -> None:
    run = {**RUN, "reps": 5, "distance_m": 10}
    assert (quality(made(**{**run, **before})) == quality(made(**{**run, **after}))) is same


def test_a_lift_with_other_repetitions_is_other_work() -> None:
    assert quality(made(**LIFT, sets=3, reps=8)) != quality(made(**LIFT, sets=3, reps=5))
    assert quality(made(**LIFT, sets=3, reps=8)) == quality(made(**LIFT, sets=4, reps=8, load_kg=90))
