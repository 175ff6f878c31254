"""What is known about a sprinter before the test: a normal prior for the logarithms of the profile."""

from dataclasses import dataclass

import numpy as np

from speedloom.science.mechanics._damped import NormalPrior


@dataclass(frozen=True)
class Prior:
    """Means and standard deviations before the test (natural logarithms of SI units; offset in s).

    The two pairs describe one population: `vmax`, `tau` for the mono-exponential fit, `f0`, `v0` for the
    force–speed fit. Each pair has its correlation.
    """

    log_vmax_mean: float
    log_vmax_sd: float
    log_tau_mean: float
    log_tau_sd: float
    vmax_tau_correlation: float
    log_f0_mean: float
    log_f0_sd: float
    log_v0_mean: float
    log_v0_sd: float
    f0_v0_correlation: float
    offset_mean_s: float
    offset_sd_s: float

    def for_exponential(self, *, fits_offset: bool) -> NormalPrior:
        """Return the prior of (ln vmax, ln tau[, offset])."""
        mean = [self.log_vmax_mean, self.log_tau_mean]
        return self._normal(
            mean, (self.log_vmax_sd, self.log_tau_sd), self.vmax_tau_correlation, fits_offset=fits_offset
        )

    def for_force_speed(self, *, fits_offset: bool) -> NormalPrior:
        """Return the prior of (ln f0, ln v0[, offset])."""
        mean = [self.log_f0_mean, self.log_v0_mean]
        return self._normal(
            mean, (self.log_f0_sd, self.log_v0_sd), self.f0_v0_correlation, fits_offset=fits_offset
        )

    def _normal(
        self, mean: list[float], sd: tuple[float, float], correlation: float, *, fits_offset: bool
    ) -> NormalPrior:
        size = 2 + fits_offset
        covariance = np.zeros((size, size))
        covariance[:2, :2] = np.outer(sd, sd) * np.array([[1.0, correlation], [correlation, 1.0]])
        if fits_offset:
            covariance[2, 2] = self.offset_sd_s**2
        return NormalPrior(
            np.array([*mean, self.offset_mean_s][:size]),
            np.asarray(np.linalg.inv(covariance), dtype=np.float64),
        )


# Moments of the 333 usable athletes of `haugen_2019_splits` (open data, read; moments computed):
# ln F0 2.075 ± .083 (7.97 N/kg), ln V0 2.141 ± .083 (8.51 m/s),
# correlation .56. Those are elite athletes, so for everybody else both means are lowered by half an SD of
# the wider prior and both SDs widened to .15 (own choice, marked common practice): the middle 90 % are
# 5.8–9.5 N/kg and 6.2–10.1 m/s. vmax and tau follow by a drag of 0.0037 (kg/m)/kg over 40 m: vmax = .972·v0,
# tau = .990·vmax/f0 (computed). The offset covers a gun (+.15 to +.3 s) and a beam broken late (−.3 s) alike.
POPULATION_PRIOR = Prior(
    log_vmax_mean=2.038,
    log_vmax_sd=0.15,
    log_tau_mean=0.027,
    log_tau_sd=0.15,
    vmax_tau_correlation=0.5,
    log_f0_mean=2.000,
    log_f0_sd=0.15,
    log_v0_mean=2.066,
    log_v0_sd=0.15,
    f0_v0_correlation=0.5,
    offset_mean_s=0.0,
    offset_sd_s=0.3,
)
"""The default population prior: elite moments, lowered and widened (see the comment above)."""
