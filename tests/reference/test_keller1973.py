"""Keller 1973, Physics Today 26(9):42-47: v' = F − v/τ, F 12.2 m/s², τ 0.892 s (memory; form of model read).

The table of distances is recomputed from the closed form and was checked by an ODE solver.
"""

import pytest

from published import column
from speedloom.science.mechanics import exponential
from speedloom.science.mechanics.sprint import Runner, distance_at_time, speed_at_time, time_to_distance

FORCE, TAU = 12.2, 0.892
KELLER = Runner(FORCE, FORCE * TAU, 70.0, 0.0)
YARD = 0.9144


@pytest.mark.parametrize(
    ("metres", "published_s"),
    [
        (50 * YARD, 5.09),
        (50.0, 5.48),
        (60 * YARD, 5.93),
        (60.0, 6.40),
        (100 * YARD, 9.29),
        (100.0, 10.07),
        (200.0, 19.25),
        (220 * YARD, 19.36),
    ],
)
def test_theoretical_race_times(metres: float, published_s: float) -> None:
    # The residue up to 0.02 s is the rounding of F (memory).
    assert float(time_to_distance(KELLER, metres)) == pytest.approx(published_s, abs=0.021)


def test_table_of_distances_and_speeds() -> None:
    time = column("keller_1973", "t_s")
    assert distance_at_time(KELLER, time) == pytest.approx(column("keller_1973", "d_m"), abs=1e-8)
    assert speed_at_time(KELLER, time) == pytest.approx(column("keller_1973", "v_mps"), abs=1e-8)
    assert exponential.distance_at_time(FORCE * TAU, TAU, time) == pytest.approx(
        column("keller_1973", "d_m"), abs=1e-8
    )
