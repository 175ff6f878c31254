"""Published lines from velocity loss to sled load as a share of body mass; a fallback and a sanity check."""

import numpy as np
from numpy.typing import ArrayLike

from speedloom.science import ranges
from speedloom.science.ranges import FloatArray


def alcaraz_load_share(speed_share: ArrayLike) -> FloatArray:
    """Return load over body mass (share) for a share of free top speed, track, spikes, top-speed phase.

    %BM = −0.8674·%V + 87.99, n = 26 (`alcaraz_2009`; read).

    >>> float(alcaraz_load_share(0.9))
    0.0992
    """
    percent = 100.0 * ranges.SHARE.check(speed_share)
    return np.asarray((-0.8674 * percent + 87.99) / 100.0)


def alcaraz_pilot_load_share(speed_share: ArrayLike) -> FloatArray:
    """Return load over body mass (share) for a share of free top speed, pilot version.

    %BM = −0.8325·%V + 84.08, n = 12 (`alcaraz_2009`; read).

    >>> float(alcaraz_pilot_load_share(0.9))
    0.0916
    """
    percent = 100.0 * ranges.SHARE.check(speed_share)
    return np.asarray((-0.8325 * percent + 84.08) / 100.0)


def lockie_load_share(speed_share: ArrayLike) -> FloatArray:
    """Return load over body mass (share) for a share of free speed over the first 15 m, field sport.

    %BM = −1.96·%V + 188.99 (`lockie_2003`; the two loads tested read, coefficients memory).

    >>> float(lockie_load_share(0.9))
    0.1259
    """
    percent = 100.0 * ranges.SHARE.check(speed_share)
    return np.asarray((-1.96 * percent + 188.99) / 100.0)


def cahill_pull_load_share(decrement: ArrayLike) -> FloatArray:
    """Return load over body mass (share) for a velocity decrement (share), sled pulled, youths.

    1.78 % of body mass per % of velocity lost (`cahill_2019`, `cahill_2020`: ranges read, line computed).
    A pushed sled needs another line; the two are never mixed.

    >>> float(cahill_pull_load_share(0.25))
    0.445
    """
    return np.asarray(1.78 * ranges.DECREMENT.check(decrement))
