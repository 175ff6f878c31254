"""90 % bands cover 88–92 % with athletes from the prior; one SD off the prior is printed only.

The short form stands in tests/property/test_sprint_profile.py; here every start, several gates and noises.
"""

from __future__ import annotations

import itertools

import numpy as np

from speedloom.science.mechanics.profile import POPULATION_PRIOR, Start, fit_force_speed
from speedloom.science.mechanics.sprint import Runner, time_to_distance

DRAWS = 20_000
BEHIND_M, MASS_KG, DRAG_KGPM = 0.5, 70.0, 0.259
STARTS: tuple[Start, ...] = ("movement", "unknown", "behind")
GATES = ([10.0, 30.0], [10.0, 20.0, 30.0], [5.0, 10.0, 20.0, 30.0, 40.0])
AWAY = {
    "from the prior": (0.0, 0.0),
    "one SD off (F0 +, v0 −)": (1.0, -1.0),
    "one SD off (F0 −, v0 −)": (-1.0, -1.0),
}


def coverage(start: Start, gates: list[float], noise: float, away: tuple[float, float]) -> np.ndarray:
    """Return the share of draws whose 90 % band holds f0, v0 and, if fitted, the offset."""
    prior, rng = POPULATION_PRIOR, np.random.default_rng(31)
    sd = np.array([prior.log_f0_sd, prior.log_v0_sd])
    mean = np.array([prior.log_f0_mean, prior.log_v0_mean]) + sd * away
    rho = prior.f0_v0_correlation
    truth = np.exp(rng.multivariate_normal(mean, np.outer(sd, sd) * [[1.0, rho], [rho, 1.0]], DRAWS))
    offset = rng.normal(prior.offset_mean_s, prior.offset_sd_s, DRAWS) * (start == "unknown")
    shift = BEHIND_M * (start == "behind")
    runner = Runner(truth[:, :1], truth[:, 1:], MASS_KG, DRAG_KGPM)
    times = time_to_distance(runner, np.array(gates) + shift) - time_to_distance(runner, shift)
    fit = fit_force_speed(
        gates,
        times + offset[:, None] + rng.normal(0.0, noise, times.shape),
        timing_sd_s=noise,
        start=start,
        behind_m=BEHIND_M if start == "behind" else None,
        mass_kg=MASS_KG,
        drag_kgpm=DRAG_KGPM,
        prior=prior,
    )
    low, high = fit.band(0.90)
    known = np.column_stack([truth, offset])[:, : low.shape[1]]
    return np.asarray(((low <= known) & (known <= high)).mean(axis=0))


def main() -> None:
    """Print a line for each case."""
    for (name, away), start, gates, noise in itertools.product(AWAY.items(), STARTS, GATES, (0.01, 0.03)):
        shares = "  ".join(f"{100 * share:5.1f} %" for share in coverage(start, gates, noise, away))
        print(f"{name:24} {start:9} {len(gates)} gates, noise {noise:.2f} s: f0, v0, offset  {shares}")


if __name__ == "__main__":
    main()
