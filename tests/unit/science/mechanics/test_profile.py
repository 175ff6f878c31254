import numpy as np
import pytest

from speedloom.errors import OutOfRangeError, TooFewGatesError
from speedloom.science.mechanics import exponential
from speedloom.science.mechanics.profile import (
    POPULATION_PRIOR,
    ForceSpeedFit,
    Start,
    fit_exponential,
    fit_force_speed,
)
from speedloom.science.mechanics.sprint import Runner, time_to_distance

GATES = np.array([5.0, 10.0, 20.0, 30.0])
FOUR = [1.33, 2.04, 3.27, 4.41]


def force_speed(times: object, gates: object = GATES, start: Start = "movement") -> ForceSpeedFit:
    return fit_force_speed(gates, times, timing_sd_s=0.01, start=start, mass_kg=70.0, drag_kgpm=0.26)


def test_exact_times_give_exact_profiles_for_each_start() -> None:
    athlete = Runner(7.5, 9.0, 70.0, 0.26)
    times = time_to_distance(athlete, GATES)
    beam = time_to_distance(athlete, GATES + 0.5) - time_to_distance(athlete, 0.5)
    known, free = force_speed(times), force_speed(times + 0.21, start="unknown")
    behind = fit_force_speed(
        GATES, beam, timing_sd_s=0.01, start="behind", behind_m=0.5, mass_kg=70.0, drag_kgpm=0.26
    )
    assert known.estimates[0] == pytest.approx([7.5, 9.0], rel=1e-10)
    assert free.estimates[0] == pytest.approx([7.5, 9.0, 0.21], rel=1e-9)
    assert behind.estimates[0] == pytest.approx([7.5, 9.0], rel=1e-10)


@pytest.mark.parametrize("wind", [-3.0, 2.0, 9.0])
def test_wind_is_taken_out(wind: float) -> None:
    from speedloom.science.mechanics.sprint import Course

    times = time_to_distance(Runner(7.5, 9.0, 70.0, 0.26), GATES, course=Course(wind_mps=wind))
    fit = fit_force_speed(
        GATES, times, timing_sd_s=0.01, start="movement", mass_kg=70.0, drag_kgpm=0.26, wind_mps=wind
    )
    assert fit.estimates[0] == pytest.approx([7.5, 9.0], rel=1e-9)


def test_missing_gates_are_left_out() -> None:
    whole = fit_exponential(GATES[[0, 2, 3]], np.array(FOUR)[[0, 2, 3]], timing_sd_s=0.01, start="movement")
    holed = fit_exponential(GATES, [1.33, np.nan, 3.27, 4.41], timing_sd_s=0.01, start="movement")
    assert holed.estimates == pytest.approx(whole.estimates, rel=1e-12)
    assert np.isnan(holed.residual_s[0, 1])
    assert np.isfinite(holed.residual_s[0, [0, 2, 3]]).all()


def test_athletes_with_their_own_gates() -> None:
    distances = np.array([[5.0, 10.0, 20.0, 30.0], [10.0, 20.0, 30.0, 40.0]])
    times = exponential.time_to_distance(9.0, 1.1, distances)
    fit = fit_exponential(distances, times, timing_sd_s=0.01, start="movement")
    assert fit.estimates == pytest.approx(np.array([[9.0, 1.1], [9.0, 1.1]]), rel=1e-9)


def test_covariance_is_that_of_the_known_timing_noise() -> None:
    rng = np.random.default_rng(20)
    truth = exponential.time_to_distance(9.0, 1.1, GATES)
    fit = fit_exponential(GATES, truth + rng.normal(0.0, 0.01, (4000, 4)), timing_sd_s=0.01, start="movement")
    assert fit.estimates.std(axis=0) == pytest.approx(
        np.sqrt(np.einsum("pp->p", fit.covariance[0])), rel=0.06
    )
    correlation = np.corrcoef(fit.estimates.T)[0, 1]
    expected = fit.covariance[0, 0, 1] / np.sqrt(fit.covariance[0, 0, 0] * fit.covariance[0, 1, 1])
    assert correlation == pytest.approx(expected, abs=0.02)


def test_twice_the_noise_is_twice_the_error() -> None:
    calm = fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="movement")
    loud = fit_exponential(GATES, FOUR, timing_sd_s=0.02, start="movement")
    assert loud.sd("tau_s") == pytest.approx(2.0 * calm.sd("tau_s"), rel=1e-9)


def test_each_gate_may_have_its_own_noise() -> None:
    blind = fit_exponential(GATES, FOUR, timing_sd_s=[[0.01, 0.01, 0.01, 1.0]], start="movement")
    three = fit_exponential(GATES[:3], FOUR[:3], timing_sd_s=0.01, start="movement")
    assert blind.estimates == pytest.approx(three.estimates, rel=2e-3)


def test_a_wider_level_is_a_wider_band() -> None:
    fit = force_speed(FOUR)
    (low, high), (lower, higher) = fit.band(), fit.band(0.99)
    assert np.all((lower < low) & (low < fit.estimates) & (fit.estimates < high) & (high < higher))


def test_start_force_is_believed_only_when_the_data_halve_its_prior_sd() -> None:
    # Three gates with a free clock say little about the start, six with a known clock say much.
    athlete = Runner(7.5, 9.0, 70.0, 0.26)
    few, many = np.array([10.0, 20.0, 30.0]), np.array([5.0, 10.0, 15.0, 20.0, 30.0, 40.0])
    vague = force_speed(time_to_distance(athlete, few) + 0.1, few, "unknown")
    sharp = force_speed(time_to_distance(athlete, many), many)
    assert vague.prior_sd_shrinkage[0, 0] > 0.5 > sharp.prior_sd_shrinkage[0, 0]
    assert vague.prior_sd_shrinkage[0, 1] < 0.5


def test_two_gates_lean_on_the_prior_and_say_so() -> None:
    fit = fit_force_speed(
        [10.0, 30.0],
        [2.2, 4.6],
        timing_sd_s=0.02,
        start="unknown",
        mass_kg=70.0,
        drag_kgpm=0.26,
        prior=POPULATION_PRIOR,
    )
    assert fit.prior_driven
    assert fit.converged[0]
    assert fit.prior_sd_shrinkage[0, 0] > 0.5
    assert not force_speed(FOUR).prior_driven


def test_without_noise_the_prior_does_not_matter() -> None:
    stated = fit_exponential(GATES, FOUR, timing_sd_s=1e-5, start="movement", prior=POPULATION_PRIOR)
    free = fit_exponential(GATES, FOUR, timing_sd_s=1e-5, start="movement")
    assert stated.estimates == pytest.approx(free.estimates, rel=1e-6)


def test_too_few_gates_are_an_error_naming_the_row() -> None:
    with pytest.raises(TooFewGatesError, match="at least 3 gate times for this start model, got 2 in row 1"):
        fit_exponential(GATES, [FOUR, [1.3, np.nan, 3.2, np.nan]], timing_sd_s=0.01, start="unknown")


def test_a_start_behind_the_beam_needs_its_distance() -> None:
    with pytest.raises(OutOfRangeError, match="measure the distance"):
        fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="behind")
    with pytest.raises(OutOfRangeError, match="only then"):
        fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="movement", behind_m=0.5)


def test_an_impossible_split_does_not_disturb_the_others() -> None:
    alone = fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="movement")
    pair = fit_exponential(GATES, [FOUR, [2.11, 3.48, 4.74, 0.5]], timing_sd_s=0.01, start="movement")
    assert pair.estimates[0].tolist() == alone.estimates[0].tolist()
    assert np.abs(pair.residual_s[1]).max() > 0.5


def test_derived_values_follow_from_the_estimates() -> None:
    fit, force = fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="movement"), force_speed(FOUR)
    assert fit.length_m == pytest.approx(fit.vmax_mps * fit.tau_s)
    assert fit.share_of_vmax_at(fit.distance_at_share(0.95)) == pytest.approx([0.95], rel=1e-12)
    assert force.pmax_wpkg == pytest.approx(force.f0_npkg * force.v0_mps / 4.0)
    assert force.time_at(20.0) == pytest.approx(fit.time_at(20.0), abs=0.01)
    assert 0.3 < force.rf_max[0] < 0.7
    assert -0.12 < force.drf[0] < -0.05


def test_errors_of_derived_values_carry_the_correlation() -> None:
    fit = fit_exponential(GATES, FOUR, timing_sd_s=0.01, start="movement")
    gradient = np.array([fit.tau_s[0], fit.vmax_mps[0]])
    assert fit.length_sd_m[0] == pytest.approx(np.sqrt(gradient @ fit.covariance[0] @ gradient), rel=1e-12)


def test_splits_that_are_no_sprint_are_flagged() -> None:
    # The last ten metres take longer than the ten before: no run of this model, with any noise of 0.01 s.
    sprint = force_speed(FOUR)
    strange = force_speed([1.33, 2.04, 3.27, 4.71])
    assert sprint.misfit_probability[0] > 0.05
    assert strange.misfit_probability[0] < 1e-3
    assert sprint.freedom[0] == 2


def test_noise_alone_makes_every_misfit_equally_likely() -> None:
    rng = np.random.default_rng(9)
    times = time_to_distance(Runner(7.5, 9.0, 70.0, 0.26), GATES) + rng.normal(0.0, 0.01, (4000, 4))
    chance = force_speed(times).misfit_probability
    assert np.quantile(chance, [0.1, 0.5, 0.9]) == pytest.approx([0.1, 0.5, 0.9], abs=0.03)


def test_an_exact_fit_has_nothing_left_to_judge_by() -> None:
    assert np.isnan(force_speed(FOUR[:2], GATES[:2]).misfit_probability[0])
