"""Results of the profile fits: estimates, covariance, bands, and the questions a profile answers next."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtrc, ndtri

from speedloom.science import ranges
from speedloom.science.mechanics import exponential, sprint
from speedloom.science.mechanics.samozino import drf, rf_max
from speedloom.science.ranges import FloatArray

_OFFSET = "offset_s"


@dataclass(frozen=True, eq=False)
class Fit:
    """What both fits know; working coordinates are ln of the positive unknowns, and the offset (s).

    Attributes:
        names: the p unknowns in order.
        estimates: (n, p), in natural units.
        working_covariance: (n, p, p), of the logarithms (offset: s), from the known timing noise.
        residual_s: measured less fitted time (s), (n, k), NaN where no time was given.
        prior_sd_shrinkage: posterior SD over prior SD of the working coordinates, (n, p); without a prior
            the data are combined with `POPULATION_PRIOR` for this figure only.
        chi_square: sum of squared residuals over squared timing noise, (n,).
        freedom: times less unknowns, (n,).
        converged: (n,), False where no minimum was found inside the bounds.
        prior_driven: whether a prior took part in the estimates.
    """

    names: tuple[str, ...]
    estimates: FloatArray
    working_covariance: FloatArray
    residual_s: FloatArray
    prior_sd_shrinkage: FloatArray
    chi_square: FloatArray
    freedom: NDArray[np.int_]
    converged: NDArray[np.bool_]
    prior_driven: bool

    @property
    def misfit_probability(self) -> FloatArray:
        """Chance that timing noise alone leaves residuals this large, (n,); NaN where nothing is left over.

        A tiny one means that the splits are not those of one sprint, or that the noise is larger than stated.
        """
        return np.where(self.freedom > 0, chdtrc(np.maximum(self.freedom, 1), self.chi_square), np.nan)

    @property
    def offset_s(self) -> FloatArray:
        """Offset of the clock (s), 0 where it was not fitted, (n,)."""
        return self.estimates[:, 2] if _OFFSET in self.names else np.zeros(self.estimates.shape[0])

    @property
    def _scale(self) -> FloatArray:
        """Natural unit per working unit, (n, p)."""
        scale = self.estimates.copy()
        scale[:, 2:] = 1.0
        return scale

    @property
    def covariance(self) -> FloatArray:
        """Covariance in natural units (n, p, p), first order."""
        return np.asarray(self._scale[:, :, None] * self.working_covariance * self._scale[:, None, :])

    def sd(self, name: str) -> FloatArray:
        """Return the standard deviation of an unknown in its unit, (n,)."""
        at = self.names.index(name)
        return np.asarray(np.sqrt(self.covariance[:, at, at]))

    def band(self, level: float = 0.90) -> tuple[FloatArray, FloatArray]:
        """Return the lower and upper ends (n, p) of the band that holds the truth at a level (0 to 1)."""
        ranges.LEVEL.check(level)
        half = ndtri(0.5 + 0.5 * level) * np.sqrt(np.einsum("npp->np", self.working_covariance))
        half = np.minimum(half, 300.0)  # an unknown the data say nothing about: as good as infinite
        positive = np.array([name != _OFFSET for name in self.names])
        low = np.where(positive, self.estimates * np.exp(-half), self.estimates - half)
        high = np.where(positive, self.estimates * np.exp(half), self.estimates + half)
        return low, high

    def _sd_of_log(self, weights: tuple[float, float]) -> FloatArray:
        """Return the SD of w1·ln(first) + w2·ln(second), (n,)."""
        w, block = np.asarray(weights), self.working_covariance[:, :2, :2]
        return np.asarray(np.sqrt((w[:, None] * block * w).sum(axis=(1, 2))))


@dataclass(frozen=True, eq=False)
class ExponentialFit(Fit):
    """A mono-exponential profile of n athletes: vmax (m/s), tau (s) and, if fitted, the offset (s)."""

    @property
    def vmax_mps(self) -> FloatArray:
        """Top speed of the model (m/s), (n,)."""
        return self.estimates[:, 0]

    @property
    def tau_s(self) -> FloatArray:
        """Time constant (s), (n,)."""
        return self.estimates[:, 1]

    @property
    def length_m(self) -> FloatArray:
        """Acceleration length L = vmax·tau (m), (n,)."""
        return np.asarray(self.vmax_mps * self.tau_s)

    @property
    def length_sd_m(self) -> FloatArray:
        """Standard deviation of L (m), (n,)."""
        return self.length_m * self._sd_of_log((1.0, 1.0))

    def time_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the time (s) from the first movement to a distance (m) that broadcasts with (n,)."""
        return exponential.time_to_distance(self.vmax_mps, self.tau_s, distance_m)

    def speed_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the speed (m/s) at a distance (m) that broadcasts with (n,)."""
        return exponential.speed_at_distance(self.vmax_mps, self.tau_s, distance_m)

    def share_of_vmax_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the share of vmax reached at a distance (m) that broadcasts with (n,)."""
        return np.asarray(self.speed_at(distance_m) / self.vmax_mps)

    def distance_at_share(self, share: ArrayLike) -> FloatArray:
        """Return the distance (m) at which a share of vmax is reached; it broadcasts with (n,)."""
        return exponential.distance_at_share(self.vmax_mps, self.tau_s, share)


@dataclass(frozen=True, eq=False)
class ForceSpeedFit(Fit):
    """A force–speed profile of n athletes: f0 (N/kg), v0 (m/s) and, if fitted, the offset (s).

    Attributes:
        runner: the athletes as runners, arrays (n,).
        last_time_s: time from the first movement to the last gate used (s), (n,).
    """

    runner: sprint.Runner
    last_time_s: FloatArray

    @property
    def f0_npkg(self) -> FloatArray:
        """Start force per body mass (N/kg), (n,)."""
        return self.estimates[:, 0]

    @property
    def v0_mps(self) -> FloatArray:
        """Theoretical top speed (m/s), (n,)."""
        return self.estimates[:, 1]

    @property
    def pmax_wpkg(self) -> FloatArray:
        """Maximal power f0·v0/4 (W/kg), (n,)."""
        return np.asarray(self.f0_npkg * self.v0_mps / 4.0)

    @property
    def pmax_sd_wpkg(self) -> FloatArray:
        """Standard deviation of the maximal power (W/kg), (n,)."""
        return self.pmax_wpkg * self._sd_of_log((1.0, 1.0))

    @property
    def rf_max(self) -> FloatArray:
        """Ratio of force 0.3 s after the first movement (share), (n,)."""
        return rf_max(self.runner)

    @property
    def drf(self) -> FloatArray:
        """Slope of the ratio of force by speed from 0.3 s to the last gate (1/(m/s)), (n,)."""
        return drf(self.runner, self.last_time_s)

    def time_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the time (s) from the first movement to a distance (m) in still air, broadcast with (n,)."""
        return sprint.time_to_distance(self.runner, distance_m)

    def speed_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the speed (m/s) at a distance (m) in still air, broadcast with (n,)."""
        return sprint.speed_at_distance(self.runner, distance_m)

    def share_of_vmax_at(self, distance_m: ArrayLike) -> FloatArray:
        """Return the share of the terminal speed reached at a distance (m) in still air."""
        return np.asarray(self.speed_at(distance_m) / sprint.terminal_speed(self.runner))
