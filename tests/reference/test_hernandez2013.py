"""Hernández Gómez, Marquina & Gómez 2013, Eur J Phys 34:1227: a 100 m winner with linear and square drag.

m·du/dt = F − γu − σu² is our equation with f0 = F/m, v0 = F/γ, k = σ. Outputs read, parameters from memory
(they reproduce the outputs to 3–4 digits).
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from speedloom.science.mechanics.sprint import (
    Runner,
    acceleration_at_time,
    speed_at_distance,
    speed_at_time,
    terminal_speed,
    time_to_distance,
)

MASS_KG, FORCE_N, LINEAR, SQUARE = 86.0, 815.8, 59.7, 0.60
WINNER = Runner(FORCE_N / MASS_KG, FORCE_N / LINEAR, MASS_KG, SQUARE)


def net_power(time_s: float) -> float:
    return float(MASS_KG * speed_at_time(WINNER, time_s) * acceleration_at_time(WINNER, time_s))


def test_peak_net_power_and_its_moment() -> None:
    peak = minimize_scalar(
        lambda t: -net_power(t), bounds=(0.1, 3.0), method="bounded", options={"xatol": 1e-9}
    )
    assert -peak.fun == pytest.approx(2619.5, rel=1e-3)  # W, read
    assert peak.x == pytest.approx(0.89, abs=0.01)  # s, read
    assert float(speed_at_time(WINNER, peak.x)) == pytest.approx(6.24, abs=0.01)  # m/s, read


def test_start_and_end_of_the_speed_curve() -> None:
    assert float(acceleration_at_time(WINNER, 0.0)) == pytest.approx(9.5, abs=0.02)  # read
    assert float(terminal_speed(WINNER)) == pytest.approx(12.2, abs=0.03)  # read


def test_drag_takes_92_per_cent_of_the_work() -> None:
    work = FORCE_N * 100.0
    kinetic = 0.5 * MASS_KG * float(speed_at_distance(WINNER, 100.0)) ** 2
    assert work == pytest.approx(81_580.0, rel=1e-4)  # J, read
    assert 1.0 - kinetic / work == pytest.approx(0.922, abs=0.001)  # read


def test_race_time_with_his_reaction() -> None:
    assert float(time_to_distance(WINNER, 100.0)) + 0.146 == pytest.approx(9.58, abs=0.01)  # read


def test_the_papers_own_closed_form() -> None:
    root = np.sqrt(LINEAR**2 + 4.0 * SQUARE * FORCE_N)
    b, a = (root - LINEAR) / (2.0 * SQUARE), (root + LINEAR) / (2.0 * SQUARE)
    time = np.linspace(0.0, 10.0, 101)
    left = np.exp(-SQUARE * (a + b) / MASS_KG * time)
    assert speed_at_time(WINNER, time) == pytest.approx(a * b * (1.0 - left) / (a + b * left), rel=1e-12)
