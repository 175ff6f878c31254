"""Cross et al. 2017, IJSPP 12:1069-1077: the load at which towing gives most power (read).

78 ± 6 % of body mass at 4.19 m/s (recreational) and 82 ± 8 % at 4.90 m/s (sprinters); friction from 3.37 and
3.62 N/kg with g = 9.81 (recomputed). A straight force–speed line has its optimum at v0/2 exactly.
"""

import numpy as np
import pytest

from speedloom.science.mechanics.resistance import optimal_load, steady_decrement
from speedloom.science.mechanics.sprint import Course, Runner, terminal_speed

GROUPS = [(3.37, 0.78, 4.19, 14.1, 0.440), (3.62, 0.82, 4.90, 17.7, 0.450)]


@pytest.mark.parametrize(("force", "share", "speed", "power", "friction"), GROUPS)
def test_effective_friction_and_power(
    force: float, share: float, speed: float, power: float, friction: float
) -> None:
    mass = 75.0
    runner = Runner(2.0 * force, 2.0 * speed, mass, 0.0)
    course = Course(gravity_mps2=9.81)
    load = float(optimal_load(runner, friction=friction, course=course))
    assert load / mass == pytest.approx(share, abs=0.005)
    towed = Course(load_kg=load, friction=friction, gravity_mps2=9.81)
    assert float(terminal_speed(runner, course=towed)) == pytest.approx(speed, abs=1e-12)
    assert force * speed == pytest.approx(power, abs=0.06)


def test_the_optimum_is_at_half_of_v0_also_with_drag() -> None:
    runner = Runner(8.0, 9.5, 80.0, 0.29)
    loads = np.linspace(1.0, 140.0, 20_001)
    speed = terminal_speed(runner, course=Course(load_kg=loads, friction=0.45))
    power = 8.0 * (1.0 - speed / 9.5) * speed
    assert speed[np.argmax(power)] == pytest.approx(9.5 / 2.0, abs=0.005)
    assert loads[np.argmax(power)] == pytest.approx(float(optimal_load(runner, friction=0.45)), abs=0.05)


@pytest.mark.parametrize(
    ("friction", "expected"),
    [(0.35, [8.3, 16.6, 25.0, 33.5, 42.0]), (0.45, [10.7, 21.4, 32.3, 43.2, 54.2])],
)
def test_steady_decrements_of_the_simulator_check(friction: float, expected: list[float]) -> None:
    # Reference §5, recomputed: 80 kg, F0 8.0 N/kg, V0 9.5 m/s, k 0.29; 20–100 % of body mass.
    runner = Runner(8.0, 9.5, 80.0, 0.29)
    course = Course(gravity_mps2=9.81)
    assert float(terminal_speed(runner)) == pytest.approx(9.140, abs=6e-4)
    loads = 0.8 * np.array([20, 40, 60, 80, 100])
    got = steady_decrement(runner, load_kg=loads, friction=friction, course=course)
    assert 100 * got == pytest.approx(expected, abs=0.06)
