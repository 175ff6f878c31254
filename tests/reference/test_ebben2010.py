"""Ebben and Petushek 2010, JSCR 24:1983-1987: reactive strength (definitions read).

Numbers recomputed, g = 9.81. Bands of 151 athletes: Sole et al. 2018, Sports 6(4):133 (read).
"""

import pytest

from speedloom.science.mechanics.jump import (
    flight_contact_ratio,
    flight_from_height,
    modified_reactive_strength_index,
    reactive_strength_index,
)


def test_two_indices_of_one_drop_jump() -> None:
    assert float(reactive_strength_index(0.35, 0.20)) == pytest.approx(1.75)
    ratio = flight_contact_ratio(flight_from_height(0.35, g=9.81), 0.20)
    assert float(ratio) == pytest.approx(2.671, abs=5e-4)


@pytest.mark.parametrize(("height", "low", "high"), [(0.39, 0.208, 0.704), (0.31, 0.135, 0.553)])
def test_usual_counter_movement_jumps_fall_into_the_published_bands(
    height: float, low: float, high: float
) -> None:
    # Heights of elite men and women (memory), time to take-off 0.6-0.9 s (common practice).
    indices = modified_reactive_strength_index(height, [0.6, 0.9])
    assert all(low < index < high for index in indices)
