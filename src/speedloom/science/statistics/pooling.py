"""Several measurements of one thing, whose errors go together, pooled into one with its error."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from speedloom.errors import OutOfRangeError

FloatArray = NDArray[np.float64]


class Pooled(NamedTuple):
    """The pooled value, its standard error, and how much each measurement weighs (k,), together 1."""

    value: float
    se: float
    weights: FloatArray


def pool_correlated(values: ArrayLike, covariance: ArrayLike) -> Pooled:
    """Pool measurements (k,) of one thing by generalised least squares, given their covariance (k, k).

    The best linear unbiased estimate [unit of the values]: weights V⁻¹1 / (1ᵀV⁻¹1) [1], variance
    1 / (1ᵀV⁻¹1). A prior is one more measurement. Weights may be below 0 where errors go closely together.

    Raises OutOfRangeError for no measurements, shapes that do not fit, or a covariance that is none.
    Source: `aitken_1935` (memory).

    >>> pooled = pool_correlated([150.0, 156.0], [[36.0, 0.0], [0.0, 36.0]])
    >>> round(pooled.value, 3), round(pooled.se, 3)
    (153.0, 4.243)
    """
    measured = np.asarray(values, dtype=np.float64)
    matrix = np.asarray(covariance, dtype=np.float64)
    if measured.ndim != 1 or measured.size == 0 or matrix.shape != (measured.size, measured.size):
        message = (
            f"Expected k values and a k by k covariance, got shapes {measured.shape} and {matrix.shape}; "
            "give one row for each measurement."
        )
        raise OutOfRangeError(message)
    try:
        np.linalg.cholesky(matrix)
    except np.linalg.LinAlgError:
        message = "Expected a covariance with variances above 0 that fit together; is one error 0?"
        raise OutOfRangeError(message) from None
    solved = np.linalg.solve(matrix, np.ones(measured.size))
    information = float(solved.sum())
    weights = np.asarray(solved / information)
    return Pooled(float(weights @ measured), float(information**-0.5), weights)
