"""Linthorne 1994, J Appl Biomech 10:110-131: what wind and altitude are worth over 100 m (read).

+2 m/s gives 0.10 ± 0.01 s (men) and 0.12 ± 0.02 s (women). A linear force–speed line with Samozino's drag
gives somewhat more (recomputed: −.08 to −.13 and −.10 to −.16 s). Altitude by drag only is
0.03–0.05 s per 1000 m; Linthorne 2016 observed 0.10 s per 1000 m, and we do not use that.
"""

import pytest

from speedloom.science.mechanics.air import air_density, drag_constant, standard_pressure_pa
from speedloom.science.mechanics.sprint import Course, Runner, time_to_distance


def man(altitude_m: float = 0.0) -> Runner:
    density = air_density(20.0, standard_pressure_pa(altitude_m))
    return Runner(9.0, 12.0, 80.0, drag_constant(1.80, 80.0, density))


def woman(altitude_m: float = 0.0) -> Runner:
    density = air_density(20.0, standard_pressure_pa(altitude_m))
    return Runner(7.8, 10.6, 60.0, drag_constant(1.68, 60.0, density))


def change(runner: Runner, wind: float, reference: Runner) -> float:
    return float(
        time_to_distance(runner, 100.0, course=Course(wind_mps=wind)) - time_to_distance(reference, 100.0)
    )


def test_calm_times_recomputed() -> None:
    assert float(time_to_distance(man(), 100.0)) == pytest.approx(10.021, abs=0.002)
    assert float(time_to_distance(woman(), 100.0)) == pytest.approx(11.210, abs=0.002)


@pytest.mark.parametrize(("wind", "expected"), [(1.0, -0.063), (2.0, -0.118), (-2.0, 0.146)])
def test_wind_for_a_man(wind: float, expected: float) -> None:
    assert change(man(), wind, man()) == pytest.approx(expected, abs=1e-3)


def test_two_metres_per_second_of_tail_wind_lie_in_the_bands() -> None:
    assert -0.13 <= change(man(), 2.0, man()) <= -0.08
    assert -0.16 <= change(woman(), 2.0, woman()) <= -0.10


def test_head_wind_costs_more_than_tail_wind_gives() -> None:
    assert change(man(), -2.0, man()) > -change(man(), 2.0, man())


@pytest.mark.parametrize(
    ("altitude", "expected"), [(500, -0.020), (1000, -0.039), (1500, -0.057), (2000, -0.075), (2500, -0.091)]
)
def test_altitude_for_a_man(altitude: float, expected: float) -> None:
    assert change(man(altitude), 0.0, man()) == pytest.approx(expected, abs=1.5e-3)


def test_a_kilometre_of_altitude_lies_in_the_band() -> None:
    assert -0.05 <= change(man(1000.0), 0.0, man()) <= -0.03
    assert -0.05 <= change(woman(1000.0), 0.0, woman()) <= -0.03
