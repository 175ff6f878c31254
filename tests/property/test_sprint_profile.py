"""Bands that hold what they promise, and fits that do not depend on order."""

import numpy as np
import pytest

from speedloom.science.mechanics import exponential
from speedloom.science.mechanics.profile import (
    POPULATION_PRIOR,
    ExponentialFit,
    ForceSpeedFit,
    Start,
    fit_exponential,
    fit_force_speed,
)
from speedloom.science.mechanics.sprint import Runner, time_to_distance

STARTS: list[Start] = ["movement", "unknown", "behind"]
DRAWS = 4000
BEHIND_M, MASS_KG, DRAG_KGPM, NOISE_S = 0.5, 70.0, 0.259, 0.02
GATES = {"three gates": np.array([10.0, 20.0, 30.0]), "five gates": np.array([5.0, 10.0, 20.0, 30.0, 40.0])}


def drawn(pair: str, rng: np.random.Generator) -> np.ndarray:
    """Return athletes (DRAWS, 2) and clock offsets from the stated prior, (DRAWS, 3)."""
    prior = POPULATION_PRIOR
    if pair == "force speed":
        mean, sd, rho = (prior.log_f0_mean, prior.log_v0_mean), (prior.log_f0_sd, prior.log_v0_sd), 0.5
        assert prior.f0_v0_correlation == rho
    else:
        mean, sd, rho = (prior.log_vmax_mean, prior.log_tau_mean), (prior.log_vmax_sd, prior.log_tau_sd), 0.5
        assert prior.vmax_tau_correlation == rho
    logs = rng.multivariate_normal(mean, np.outer(sd, sd) * np.array([[1.0, rho], [rho, 1.0]]), DRAWS)
    return np.column_stack([np.exp(logs), rng.normal(prior.offset_mean_s, prior.offset_sd_s, DRAWS)])


def clocked(times: np.ndarray, before: np.ndarray, start: Start, offset: np.ndarray) -> np.ndarray:
    if start == "behind":
        return times - before
    return times + (offset[:, None] if start == "unknown" else 0.0)


def covered(fit: ExponentialFit | ForceSpeedFit, truth: np.ndarray) -> np.ndarray:
    low, high = fit.band(0.90)
    inside = (low <= truth[:, : low.shape[1]]) & (truth[:, : low.shape[1]] <= high)
    return np.asarray(inside.mean(axis=0))


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("gates", GATES)
def test_force_speed_bands_cover_90_per_cent(gates: str, start: Start) -> None:
    rng = np.random.default_rng(2026)
    truth, distance = drawn("force speed", rng), GATES[gates]
    runner = Runner(truth[:, :1], truth[:, 1:2], MASS_KG, DRAG_KGPM)
    shift = BEHIND_M if start == "behind" else 0.0
    times = clocked(
        time_to_distance(runner, distance + shift), time_to_distance(runner, shift), start, truth[:, 2]
    )
    fit = fit_force_speed(
        distance,
        times + rng.normal(0.0, NOISE_S, times.shape),
        timing_sd_s=NOISE_S,
        start=start,
        behind_m=BEHIND_M if start == "behind" else None,
        mass_kg=MASS_KG,
        drag_kgpm=DRAG_KGPM,
        prior=POPULATION_PRIOR,
    )
    assert fit.converged.all()
    assert np.all((covered(fit, truth) >= 0.88) & (covered(fit, truth) <= 0.92))


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("gates", GATES)
def test_exponential_bands_cover_90_per_cent(gates: str, start: Start) -> None:
    rng = np.random.default_rng(2027)
    truth, distance = drawn("exponential", rng), GATES[gates]
    vmax, tau = truth[:, :1], truth[:, 1:2]
    shift = BEHIND_M if start == "behind" else 0.0
    times = clocked(
        exponential.time_to_distance(vmax, tau, distance + shift),
        exponential.time_to_distance(vmax, tau, shift),
        start,
        truth[:, 2],
    )
    fit = fit_exponential(
        distance,
        times + rng.normal(0.0, NOISE_S, times.shape),
        timing_sd_s=NOISE_S,
        start=start,
        behind_m=BEHIND_M if start == "behind" else None,
        prior=POPULATION_PRIOR,
    )
    assert fit.converged.all()
    assert np.all((covered(fit, truth) >= 0.88) & (covered(fit, truth) <= 0.92))


@pytest.mark.parametrize("start", ["movement", "behind"])
def test_bands_without_a_prior_cover_90_per_cent_where_the_clock_is_known(start: Start) -> None:
    rng = np.random.default_rng(2028)
    truth, distance = drawn("force speed", rng), GATES["five gates"]
    runner = Runner(truth[:, :1], truth[:, 1:2], MASS_KG, DRAG_KGPM)
    shift = BEHIND_M if start == "behind" else 0.0
    times = clocked(
        time_to_distance(runner, distance + shift), time_to_distance(runner, shift), start, truth[:, 2]
    )
    fit = fit_force_speed(
        distance,
        times + rng.normal(0.0, NOISE_S, times.shape),
        timing_sd_s=NOISE_S,
        start=start,
        behind_m=BEHIND_M if start == "behind" else None,
        mass_kg=MASS_KG,
        drag_kgpm=DRAG_KGPM,
    )
    assert np.all((covered(fit, truth) >= 0.88) & (covered(fit, truth) <= 0.92))


def test_the_order_of_athletes_changes_no_digit() -> None:
    rng = np.random.default_rng(5)
    runner = Runner(rng.uniform(6, 9, (200, 1)), rng.uniform(7, 10, (200, 1)), MASS_KG, DRAG_KGPM)
    times = time_to_distance(runner, GATES["five gates"]) + rng.normal(0.0, 0.01, (200, 5))
    order = rng.permutation(200)

    def fit(rows: np.ndarray) -> ForceSpeedFit:
        return fit_force_speed(
            GATES["five gates"],
            rows,
            timing_sd_s=0.01,
            start="unknown",
            mass_kg=MASS_KG,
            drag_kgpm=DRAG_KGPM,
        )

    assert fit(times).estimates[order].tolist() == fit(times[order]).estimates.tolist()
    assert fit(times).estimates[7].tolist() == fit(times[7]).estimates[0].tolist()
