"""What the jump formulas accept, refuse and hand back."""

import numpy as np
import pytest

from speedloom.errors import OutOfRangeError
from speedloom.science.constants import STANDARD_GRAVITY_MPS2
from speedloom.science.mechanics.jump import (
    bosco_power,
    flight_contact_ratio,
    height_from_flight,
    height_from_takeoff_speed,
    modified_reactive_strength_index,
    reactive_strength_index,
    sayers_power,
    squat_jump,
)


def test_standard_gravity_unless_told() -> None:
    assert height_from_flight(0.5) == height_from_flight(0.5, g=STANDARD_GRAVITY_MPS2)
    assert height_from_flight(0.5) < height_from_flight(0.5, g=9.81)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: height_from_flight(500), r"flight time in \[0.05, 1.2\] s, got 500; was it in milliseconds"),
        (lambda: height_from_takeoff_speed(10), "take-off speed .* km/h"),
        (lambda: reactive_strength_index(35, 0.2), "jump height .* centimetres"),
        (lambda: flight_contact_ratio(0.5, 200), "contact time .* milliseconds"),
        (lambda: modified_reactive_strength_index(0.4, 800), "time to take-off .* milliseconds"),
        (lambda: sayers_power(0.4, 2000), "body mass .* pounds"),
        (lambda: squat_jump(80, 0.35, 40), "push-off distance .* centimetres"),
        (lambda: bosco_power(15, 9, 18), "swapped"),
        (lambda: bosco_power(9, 15, 0), "one jump"),
        (lambda: height_from_flight(np.nan), "got nan"),
    ],
)
def test_wrong_units_are_named(call, words) -> None:  # noqa: ANN001
    with pytest.raises(OutOfRangeError, match=words):
        call()


def test_shapes_broadcast() -> None:
    assert reactive_strength_index(np.full((3, 1), 0.3), [0.15, 0.2]).shape == (3, 2)
    assert squat_jump(np.full((3, 1), 80.0), [0.3, 0.35], 0.4).power_w.shape == (3, 2)
