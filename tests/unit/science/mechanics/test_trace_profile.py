"""The motion fitted to a speed trace: exact where it is exact, honest where samples are alike."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from speedloom.errors import OutOfRangeError, TooFewGatesError
from speedloom.science.mechanics.trace_profile import fit_trace_profile

TIME = np.arange(0.05, 5.5, 0.05)
BODY = {"mass_kg": 70.0, "drag_kgpm": 0.25}
Speeds = NDArray[np.float64]


def speeds(f0: float, v0: float, time: Speeds = TIME) -> Speeds:
    """Solve the equation of motion by an ODE solver."""

    def motion(_: float, v: Speeds) -> Speeds:
        return f0 * (1 - v / v0) - 0.25 / 70.0 * v * abs(v)

    span = (0.0, float(time[-1]) + 0.1)
    solved = solve_ivp(motion, span, [0.0], method="DOP853", rtol=1e-12, atol=1e-13, dense_output=True)
    return np.asarray(solved.sol(time)[0])


@pytest.mark.parametrize(("f0", "v0"), [(6.5, 7.8), (8.0, 9.4), (9.2, 10.4)])
@pytest.mark.parametrize("late", [0.0, 0.31])
def test_an_exact_trace_gives_the_exact_runner(f0: float, v0: float, late: float) -> None:
    fit = fit_trace_profile(TIME + late, speeds(f0, v0), **BODY)
    assert fit.converged
    assert (fit.f0_npkg, fit.v0_mps) == pytest.approx((f0, v0), rel=1e-8)
    # The simpler motion of the same run is a little off at its ends.
    assert fit.vmax_mps == pytest.approx(v0 * (1 - 0.25 / 70 * v0**2 / f0), rel=0.01)


def test_without_drag_both_motions_are_one() -> None:
    fit = fit_trace_profile(TIME, -9.0 * np.expm1(-TIME / 1.1), mass_kg=70.0, drag_kgpm=0.0)
    assert (fit.vmax_mps, fit.tau_s) == pytest.approx((9.0, 1.1), rel=1e-9)
    assert (fit.f0_npkg, fit.v0_mps) == pytest.approx((9.0 / 1.1, 9.0), rel=1e-8)


def test_an_exact_trace_is_known_no_better_than_a_device_writes() -> None:
    fit = fit_trace_profile(TIME, speeds(8.0, 9.4), **BODY)
    assert 1e-4 < np.sqrt(fit.force_covariance[1, 1]) < 1e-2


def noisy(rng: np.random.Generator, alike: float) -> Speeds:
    """Make noise of 0.12 m/s whose neighbours are alike."""
    noise = rng.normal(0.0, 0.12, TIME.size)
    for at in range(1, TIME.size):
        noise[at] = alike * noise[at - 1] + np.sqrt(1 - alike**2) * noise[at]
    return noise


@pytest.mark.parametrize("alike", [0.0, 0.6])
def test_bands_hold_the_runner_in_nine_traces_of_ten_however_alike_the_samples(alike: float) -> None:
    rng = np.random.default_rng(11)
    clean, held = speeds(8.0, 9.4), np.zeros(2)
    for _ in range(400):
        fit = fit_trace_profile(TIME, clean + noisy(rng, alike), **BODY)
        away = np.abs(np.log([fit.f0_npkg / 8.0, fit.v0_mps / 9.4]))
        held += away <= 1.644854 * np.sqrt(np.diag(fit.force_covariance))
    assert np.all(held / 400 > 0.86)
    assert np.all(held / 400 < 0.95)


def test_the_steps_of_a_runner_widen_the_band_and_do_not_move_it() -> None:
    clean = speeds(8.0, 9.4)
    stepping = clean + 0.2 * np.sin(2 * np.pi * 4.2 * TIME)
    plain, steps = (fit_trace_profile(TIME, those, **BODY) for those in (clean, stepping))
    assert steps.v0_mps == pytest.approx(9.4, rel=0.01)
    assert steps.force_covariance[1, 1] > 4 * plain.force_covariance[1, 1]


def test_what_is_no_sprint_is_no_fit() -> None:
    assert not fit_trace_profile(TIME, np.full_like(TIME, 5.0) + 0.01 * TIME, **BODY).converged
    assert not fit_trace_profile(TIME, 30.0 * -np.expm1(-TIME / 1.1), **BODY).converged


def test_too_few_samples_and_a_body_beyond_sense() -> None:
    with pytest.raises(TooFewGatesError, match="at least 5 samples, got 4"):
        fit_trace_profile(TIME[:4], TIME[:4], **BODY)
    with pytest.raises(OutOfRangeError, match="body mass"):
        fit_trace_profile(TIME, speeds(8.0, 9.4), mass_kg=700.0, drag_kgpm=0.25)
