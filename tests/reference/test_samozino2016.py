"""Samozino et al. 2016, Scand J Med Sci Sports 26:648-658: drag and the horizontal force–velocity profile.

Formulas of drag and line read; RFmax and DRF from memory; check sets 2a and 2b recomputed with g = 9.81.
"""

import numpy as np
import pytest

from speedloom.science.mechanics.air import drag_constant, frontal_area_m2
from speedloom.science.mechanics.samozino import samozino_profile

DRAG = [
    (1.80, 75, 1.2047, 0.5167, 0.2801),
    (1.75, 75, 1.1845, 0.5063, 0.2699),
    (1.82, 80, 1.2047, 0.5354, 0.2903),
    (1.95, 86, 1.2047, 0.5804, 0.3147),
    (1.70, 60, 1.2047, 0.4509, 0.2445),
]


@pytest.mark.parametrize(("height", "mass", "density", "area", "drag"), DRAG)
def test_drag_constant(height: float, mass: float, density: float, area: float, drag: float) -> None:
    assert float(frontal_area_m2(height, mass)) == pytest.approx(area, abs=1e-4)
    assert float(drag_constant(height, mass, density)) == pytest.approx(drag, abs=1e-4)


@pytest.mark.parametrize(
    ("duration", "step", "f0_n", "v0", "pmax_w", "drf"),
    [
        (6.0, 0.01, 580.6, 9.347, 1356.7, -0.0749),
        (6.0, 0.1, 581.1, 9.345, 1357.7, -0.0745),
        (4.0, 0.01, 581.4, 9.330, 1356.2, -0.0739),
    ],
)
def test_profile_of_check_set_2b(
    duration: float, step: float, f0_n: float, v0: float, pmax_w: float, drf: float
) -> None:
    got = samozino_profile(
        9.0, 1.15, drag_per_mass_pm=0.2801 / 75, duration_s=duration, step_s=step, gravity_mps2=9.81
    )
    assert 75 * float(got.f0_npkg) == pytest.approx(f0_n, abs=0.06)
    assert float(got.v0_mps) == pytest.approx(v0, abs=6e-4)
    assert 75 * float(got.pmax_wpkg) == pytest.approx(pmax_w, abs=0.1)
    assert float(got.rf_max) == pytest.approx(0.5246, abs=6e-5)
    assert float(got.drf) == pytest.approx(drf, abs=6e-5)


def test_without_drag_the_line_is_exact() -> None:
    got = samozino_profile(9.0, 1.15, drag_per_mass_pm=0.0, duration_s=6.0)
    assert float(got.f0_npkg) == pytest.approx(9.0 / 1.15, rel=1e-12)
    assert float(got.v0_mps) == pytest.approx(9.0, rel=1e-12)


def test_published_means_obey_the_power_formula() -> None:
    # Trained sprinters: F0 638 N, V0 10.5 m/s, Pmax 1680 W (abstract, read), within 0.5 %.
    v0, f0 = 10.5, 638.0 / 70.0
    got = samozino_profile(v0, v0 / f0, drag_per_mass_pm=0.0, duration_s=8.0)
    assert 70.0 * float(got.pmax_wpkg) == pytest.approx(1680.0, rel=5e-3)


def test_batch_equals_one_by_one() -> None:
    vmax, tau = np.array([8.0, 9.0, 10.0]), np.array([1.0, 1.1, 1.2])
    many = samozino_profile(vmax, tau, drag_per_mass_pm=0.0037, duration_s=5.0)
    for row in range(3):
        one = samozino_profile(vmax[row], tau[row], drag_per_mass_pm=0.0037, duration_s=5.0)
        assert many.drf[row] == pytest.approx(float(one.drf), rel=1e-12)
