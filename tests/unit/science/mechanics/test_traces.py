import numpy as np
import pytest

from speedloom.errors import OutOfRangeError, TooFewGatesError
from speedloom.science.mechanics.exponential import distance_at_time, speed_at_time
from speedloom.science.mechanics.traces import fit_position_trace, fit_speed_trace

TIME = np.linspace(0.1, 6.0, 60)


def test_exact_speeds_give_the_exact_profile() -> None:
    fit = fit_speed_trace(TIME, speed_at_time(9.0, 1.1, TIME))
    assert (fit.vmax_mps[0], fit.tau_s[0]) == pytest.approx((9.0, 1.1), rel=1e-12)
    assert fit.offset_s[0] == 0.0


def test_a_late_clock_is_found() -> None:
    fit = fit_speed_trace(TIME + 0.37, speed_at_time(9.0, 1.1, TIME), offset="fit")
    assert (fit.vmax_mps[0], fit.tau_s[0], fit.offset_s[0]) == pytest.approx((9.0, 1.1, 0.37), rel=1e-9)


@pytest.mark.parametrize("offset", ["known", "fit"])
def test_standard_errors_are_the_scatter_of_repeated_traces(offset: str) -> None:
    rng = np.random.default_rng(4)
    speed = speed_at_time(9.0, 1.1, TIME) + rng.normal(0.0, 0.1, (3000, TIME.size))
    fit = fit_speed_trace(TIME, speed, known_sd=0.1, offset="known" if offset == "known" else "fit")
    assert fit.vmax_mps.std() == pytest.approx(fit.vmax_se_mps.mean(), rel=0.06)
    assert fit.tau_s.std() == pytest.approx(fit.tau_se_s.mean(), rel=0.06)
    assert fit.offset_s.std() == pytest.approx(fit.offset_se_s.mean(), rel=0.06)


def test_position_errors_are_the_scatter_of_repeated_traces() -> None:
    rng = np.random.default_rng(5)
    distance = distance_at_time(9.0, 1.1, TIME) + rng.normal(0.0, 0.1, (3000, TIME.size))
    fit = fit_position_trace(TIME + 0.2, distance, offset_s=0.2)
    assert fit.vmax_mps.mean() == pytest.approx(9.0, abs=0.005)
    assert fit.vmax_mps.std() == pytest.approx(fit.vmax_se_mps.mean(), rel=0.06)
    assert fit.tau_s.std() == pytest.approx(fit.tau_se_s.mean(), rel=0.06)


def test_missing_samples_are_left_out() -> None:
    speed = speed_at_time(9.0, 1.1, TIME)
    speed[[3, 17]] = np.nan
    assert fit_speed_trace(TIME, speed).vmax_mps[0] == pytest.approx(9.0, rel=1e-12)


def test_too_few_samples() -> None:
    with pytest.raises(TooFewGatesError, match="at least 3 samples, got 2 in row 0"):
        fit_speed_trace([1.0, 2.0], [5.0, 7.0])


def test_samples_before_the_start_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="cut off"):
        fit_speed_trace([-0.1, 0.5, 1.0, 2.0], [0.0, 3.0, 5.0, 7.0])


def test_an_offset_is_known_or_fitted() -> None:
    with pytest.raises(OutOfRangeError, match="'known' or 'fit'"):
        fit_speed_trace(TIME, TIME, offset="guess")  # type: ignore[arg-type]
