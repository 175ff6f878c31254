"""Vescovi 2012, J Sci Med Sport 15:474-478: 140 women at a professional try-out (mean speeds read)."""

import numpy as np
import pytest

from speedloom.science.mechanics.profile import fit_force_speed

GATES = np.array([5.0, 10.0, 20.0, 35.0])
TIMES = GATES / (np.array([15.1, 18.0, 21.2, 23.4]) / 3.6)


def test_group_means_give_a_team_sport_profile() -> None:
    assert pytest.approx([1.192, 2.000, 3.396, 5.385], abs=1e-3) == TIMES  # recomputed
    fit = fit_force_speed(GATES, TIMES, timing_sd_s=0.02, start="unknown", mass_kg=63.0, drag_kgpm=0.245)
    assert np.abs(fit.residual_s).max() < 0.02
    # Women of team sports: vmax 7.2–8.3 m/s (memory, coarse); peak 27.3 ± 1.4 km/h (read).
    assert float(fit.speed_at(35.0)[0]) * 3.6 == pytest.approx(27.3, abs=1.4)
