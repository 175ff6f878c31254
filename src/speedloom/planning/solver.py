"""The only door to the optimiser: a small whole-number problem in, the one best solution out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from speedloom.errors import SolverError

IntArray = NDArray[np.int64]
OPTIMAL, INFEASIBLE = 0, 2


@dataclass(frozen=True)
class IntegerProblem:
    """Minimise cost, then tie, over whole x with low <= matrix x <= high and 0 <= x <= upper."""

    cost: IntArray
    tie: IntArray
    matrix: IntArray
    low: IntArray
    high: IntArray
    upper: IntArray


@dataclass(frozen=True)
class Solution:
    """The chosen whole numbers with their cost and tie value."""

    values: IntArray
    cost: int
    tie: int


def solve(problem: IntegerProblem) -> Solution | None:
    """Solve by cost first and tie second; None where nothing fits.

    Two solves: the second keeps the first's cost as a row, so no large weight has to separate the two aims.

    Raises:
        SolverError: the optimiser gave up without saying that nothing fits.
    """
    rows = [LinearConstraint(problem.matrix.astype(float), problem.low, problem.high)]
    first = _run(problem, problem.cost, rows)
    if first is None:
        return None
    best = int(problem.cost @ first)
    keep = LinearConstraint(problem.cost.astype(float)[np.newaxis, :], -np.inf, best)
    second = _run(problem, problem.tie, [*rows, keep])
    chosen = first if second is None else second
    return Solution(chosen, int(problem.cost @ chosen), int(problem.tie @ chosen))


def _run(problem: IntegerProblem, objective: IntArray, rows: list[LinearConstraint]) -> IntArray | None:
    result = milp(
        objective.astype(float),
        constraints=rows,
        bounds=Bounds(np.zeros(len(objective)), problem.upper.astype(float)),
        integrality=np.ones(len(objective), dtype=np.int64),
        options={"mip_rel_gap": 0.0},
    )
    if result.status == INFEASIBLE:
        return None
    if result.status != OPTIMAL or result.x is None:
        raise SolverError(str(result.message))
    values = np.rint(result.x).astype(np.int64)
    inside = problem.matrix @ values
    if (inside < problem.low).any() or (inside > problem.high).any():
        message = "the optimiser's answer breaks a row after rounding"
        raise SolverError(message)
    return values
