"""Did the athlete change? Smallest worthwhile change, chances of better, trivial and worse, and shrinkage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, ndtri

from speedloom.errors import OutOfRangeError

FloatArray = NDArray[np.float64]
Verdict = Literal["better", "trivial", "worse", "unclear"]

SMALL_SHARE = 0.2
"""Smallest worthwhile change as a share of the SD between athletes of a team sport (`hopkins_2004`; read)."""

SOLO_SHARE = 0.3
"""Smallest worthwhile change as a share of a solo athlete's race-to-race variation (`hopkins_2004`; read)."""

FEWEST_ATHLETES = 2


@dataclass(frozen=True)
class ChangeChances:
    """Chances [1] that the true change is better, trivial or worse; they sum to 1."""

    better: FloatArray
    trivial: FloatArray
    worse: FloatArray


@dataclass(frozen=True)
class ShrunkChanges:
    """Each athlete's change drawn to the squad's, its standard error, the squad's mean and true SD [unit].

    `weight` [1] is how much of an athlete's own difference was kept.
    """

    change: FloatArray
    sd: FloatArray
    squad_mean: FloatArray
    true_sd: FloatArray
    weight: FloatArray


def _above_zero(name: str, values: ArrayLike) -> FloatArray:
    numbers = np.asarray(values, dtype=np.float64)
    if not np.all((numbers > 0.0) & np.isfinite(numbers)):
        raise OutOfRangeError(f"Expected {name} above 0, got {numbers}; were the repeats all equal?")
    return numbers


def smallest_worthwhile_change(
    values: ArrayLike, *, typical_error: ArrayLike = 0.0, share: float = SMALL_SHARE
) -> FloatArray:
    """Return the smallest worthwhile change [unit of the data]: a share of the SD between athletes.

    Athletes are on the last axis. The noise of one trial, `typical_error` [same unit], is stripped from the
    sample SD first.

    Raises OutOfRangeError with fewer than two athletes, or when the noise is as large as the SD.
    Source: `hopkins_2004` (read).

    >>> float(smallest_worthwhile_change([3.10, 3.05, 3.20, 3.15, 3.00, 3.25]))
    0.01871
    """
    table = np.asarray(values, dtype=np.float64)
    if table.ndim == 0 or table.shape[-1] < FEWEST_ATHLETES:
        raise OutOfRangeError(
            f"Expected {FEWEST_ATHLETES} or more athletes, got shape {table.shape}; test more"
        )
    true_variance = table.var(axis=-1, ddof=1) - np.asarray(typical_error, dtype=np.float64) ** 2
    if not np.all(true_variance > 0.0):
        raise OutOfRangeError(
            f"Expected athletes to differ by more than the typical error {typical_error!r}, got a variance "
            f"{true_variance}; the test cannot tell these athletes apart"
        )
    return np.asarray(share * np.sqrt(true_variance))


def smallest_worthwhile_change_solo(race_to_race_sd: ArrayLike, *, share: float = SOLO_SHARE) -> FloatArray:
    """Return the smallest worthwhile change [unit of the SD] of an athlete who competes alone, any shape.

    Raises OutOfRangeError unless the race-to-race SD is above 0. Source: `hopkins_2004` (read).

    >>> float(smallest_worthwhile_change_solo(0.01))
    0.003
    """
    return np.asarray(share * _above_zero("race-to-race SD", race_to_race_sd))


def change_chances(
    difference: ArrayLike,
    *,
    typical_error: ArrayLike,
    smallest_worthwhile: ArrayLike,
    higher_is_better: bool,
) -> ChangeChances:
    """Return the chances [1] that a difference after minus before is truly better, trivial or worse.

    Difference, typical error of one trial and smallest worthwhile change are in one unit and broadcast; the
    error of the difference is typical error × √2. `higher_is_better` is false for times. A Bayesian reading
    with a flat prior; no test of significance. Both trials must have used the same timing method.

    Raises OutOfRangeError unless the typical error is above 0 and the smallest worthwhile change not below 0.
    Source: `hopkins_2004`, prescription §9 (read).

    >>> c = change_chances(-0.06, typical_error=0.02, smallest_worthwhile=0.018, higher_is_better=False)
    >>> float(c.better), float(c.trivial), float(c.worse)
    (0.9312, 0.0659, 0.0029)
    """
    spread = np.sqrt(2.0) * _above_zero("typical error", typical_error)
    smallest = np.asarray(smallest_worthwhile, dtype=np.float64)
    if not np.all(smallest >= 0.0):
        raise OutOfRangeError(
            f"Expected a smallest worthwhile change not below 0, got {smallest}; drop its sign"
        )
    gain = np.asarray(difference, dtype=np.float64) * (1.0 if higher_is_better else -1.0)
    better = ndtr((gain - smallest) / spread)
    worse = ndtr((-gain - smallest) / spread)
    # Difference of tails, not 1 - better - worse: that could end a hair below 0.
    trivial = np.maximum(ndtr((smallest - gain) / spread) - worse, 0.0)
    return ChangeChances(np.asarray(better), np.asarray(trivial), np.asarray(worse))


def change_verdict(chances: ChangeChances, *, likely: float, unlikely: float) -> NDArray[np.str_]:
    """Return "better", "worse", "trivial" or "unclear" for each change, by the rulebook's thresholds [1].

    Better (worse) when its chance is at least `likely` and that of the opposite at most `unlikely`; trivial
    when its chance is at least `likely`; otherwise unclear. Rule T1 gives both numbers.

    Raises OutOfRangeError unless 0.5 < likely ≤ 1 and 0 ≤ unlikely < 0.5. Source: rule T1 (common practice).

    >>> c = change_chances(-0.06, typical_error=0.02, smallest_worthwhile=0.018, higher_is_better=False)
    >>> str(change_verdict(c, likely=0.75, unlikely=0.05))
    'better'
    """
    half = 0.5
    if not (half < likely <= 1.0 and 0.0 <= unlikely < half):
        raise OutOfRangeError(
            f"Expected likely in (0.5, 1] and unlikely in [0, 0.5), got {likely:g} and {unlikely:g}; "
            "were they in per cent?"
        )
    conditions = [
        (chances.better >= likely) & (chances.worse <= unlikely),
        (chances.worse >= likely) & (chances.better <= unlikely),
        chances.trivial >= likely,
    ]
    return np.asarray(np.select(conditions, ["better", "worse", "trivial"], default="unclear"))


def minimal_detectable_change(typical_error: ArrayLike, *, confidence: float = 0.95) -> FloatArray:
    """Return the change [unit of the error] that noise alone exceeds in 1 - confidence of retests, any shape.

    z √2 × typical error; 95 % by default.

    Raises OutOfRangeError unless the error is above 0 and the confidence in (0, 1). Source: `weir_2005`
    (memory).

    >>> float(minimal_detectable_change(0.02))
    0.0554
    """
    if not 0.0 < confidence < 1.0:
        raise OutOfRangeError(f"Expected confidence in (0, 1), got {confidence:g}; was it in per cent?")
    return np.asarray(
        ndtri(0.5 + 0.5 * confidence) * np.sqrt(2.0) * _above_zero("typical error", typical_error)
    )


def standard_error_of_measurement(sd: ArrayLike, icc: ArrayLike) -> FloatArray:
    """Return the standard error of measurement [unit of the SD]: SD √(1 - ICC), broadcast.

    Raises OutOfRangeError unless the SD is above 0 and the ICC in [0, 1]. Source: `weir_2005` (memory).

    >>> float(standard_error_of_measurement(0.08, 0.95))
    0.01789
    """
    correlation = np.asarray(icc, dtype=np.float64)
    if not np.all((correlation >= 0.0) & (correlation <= 1.0)):
        raise OutOfRangeError(
            f"Expected an ICC in [0, 1], got {correlation}; a negative one has no error of this kind"
        )
    return np.asarray(_above_zero("SD", sd) * np.sqrt(1.0 - correlation))


def shrink_changes(differences: ArrayLike, *, typical_error: ArrayLike) -> ShrunkChanges:
    """Draw each athlete's difference after minus before towards the squad's mean, by how noisy the test is.

    Differences [unit of the data] have the athletes on the last axis, the typical error of one trial the
    leading shape. What the variance of the differences exceeds 2 × typical error² by is true spread; the
    less there is, the more of one athlete's difference is noise. The error counts that mean and spread are
    estimated; three athletes or fewer say too little about a squad, so theirs stay as measured.

    Raises OutOfRangeError with fewer than two athletes or a typical error that is not above 0.
    Source: `morris_1983`, empirical Bayes intervals (memory).

    >>> s = shrink_changes([-0.10, -0.02, 0.00, -0.04], typical_error=0.02)
    >>> [round(float(change), 3) for change in s.change]
    [-0.091, -0.023, -0.006, -0.04]
    """
    observed = np.asarray(differences, dtype=np.float64)
    if observed.ndim == 0 or observed.shape[-1] < FEWEST_ATHLETES:
        raise OutOfRangeError(
            f"Expected {FEWEST_ATHLETES} or more athletes, got shape {observed.shape}; test more"
        )
    count = observed.shape[-1]
    noise = 2.0 * _above_zero("typical error", typical_error)[..., None] ** 2
    mean = observed.mean(axis=-1, keepdims=True)
    true_variance = np.maximum(observed.var(axis=-1, ddof=1, keepdims=True) - noise, 0.0)
    freedom = max(count - 3, 0)
    drawn = freedom / (count - 1) * noise / (true_variance + noise)
    centred = observed - mean
    unsure = 2.0 / max(freedom, 1) * (drawn * centred) ** 2
    return ShrunkChanges(
        change=np.asarray(mean + (1.0 - drawn) * centred),
        sd=np.asarray(np.sqrt(noise * (1.0 - (count - 1) / count * drawn) + unsure)),
        squad_mean=np.asarray(mean[..., 0]),
        true_sd=np.asarray(np.sqrt(true_variance[..., 0])),
        weight=np.asarray(1.0 - drawn[..., 0]),
    )
