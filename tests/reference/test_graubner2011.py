"""Graubner & Nixdorf 2011, New Studies in Athletics 26:19-53: splits of the Berlin 2009 100 m final.

Splits read in second-hand copies (± 0.02 s); the position fit 12.22, 1.241, 0.11 m read in a public text and
recomputed (12.219, 1.2411, 0.107); the time fit recomputed. Reaction 0.146 s.
"""

import numpy as np
import pytest

from published import rows
from speedloom.science.mechanics.exponential import time_to_distance
from speedloom.science.mechanics.profile import fit_exponential
from speedloom.science.mechanics.traces import fit_position_trace

WINNER = [row for row in rows("sprint_splits_100m") if row["runner"] == "WC Berlin 2009 final, lane entry 1"]
DISTANCE = np.array([float(row["distance_m"]) for row in WINNER])
TIME = np.array([float(row["time_s"]) for row in WINNER])
REACTION = 0.146


def test_least_squares_in_position() -> None:
    fit = fit_position_trace(TIME, DISTANCE, offset_s=REACTION)
    assert fit.vmax_mps[0] == pytest.approx(12.22, abs=0.01)
    assert fit.tau_s[0] == pytest.approx(1.241, abs=0.002)
    assert fit.residual_sd[0] * np.sqrt(8 / 10) == pytest.approx(0.11, abs=0.005)
    assert fit.vmax_mps[0] == pytest.approx(12.219, abs=6e-4)
    assert fit.tau_s[0] == pytest.approx(1.2411, abs=6e-5)


def test_least_squares_in_time() -> None:
    fit = fit_exponential(DISTANCE, TIME - REACTION, timing_sd_s=0.01, start="movement")
    assert fit.vmax_mps[0] == pytest.approx(12.214, abs=0.001)
    assert fit.tau_s[0] == pytest.approx(1.238, abs=0.001)
    assert np.sqrt(np.mean(fit.residual_s**2)) == pytest.approx(0.0094, abs=1e-4)
    assert np.abs(fit.residual_s).max() == pytest.approx(0.014, abs=6e-4)


def test_first_sixty_metres_only() -> None:
    fit = fit_exponential(DISTANCE[:6], TIME[:6] - REACTION, timing_sd_s=0.01, start="movement")
    assert fit.vmax_mps[0] == pytest.approx(12.147, abs=6e-4)
    assert fit.tau_s[0] == pytest.approx(1.221, abs=6e-4)


def test_a_free_offset_is_another_model() -> None:
    fit = fit_exponential(DISTANCE, TIME, timing_sd_s=0.01, start="unknown")
    assert fit.vmax_mps[0] == pytest.approx(12.251, abs=6e-4)
    assert fit.tau_s[0] == pytest.approx(1.304, abs=6e-4)
    assert fit.offset_s[0] == pytest.approx(0.102, abs=6e-4)


def test_gate_times_of_the_fit_stay_within_the_transcription() -> None:
    fit = fit_exponential(DISTANCE, TIME - REACTION, timing_sd_s=0.01, start="movement")
    again = time_to_distance(fit.vmax_mps, fit.tau_s, DISTANCE) + REACTION
    assert np.abs(again - TIME).max() < 0.02
