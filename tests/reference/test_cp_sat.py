"""Another solver finds the same cost and the same tie value for the weeks of drawn briefs.

OR-Tools CP-SAT (linearization_level=2; recomputed here) is the oracle: it shares no code with the planner's
optimiser. It solves by cost first, then by tie with the cost kept as a row, on the planner's own problems.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from ortools.sat.python import cp_model

from invented_briefs import Data, athlete, brief, outcome, slot, trial
from speedloom.planning import athlete_plan
from speedloom.planning.solver import IntegerProblem, Solution, solve
from speedloom.training.programme import Programme


def short(minutes: int, **more: object) -> Data:
    """Make five weeks whose slots are too short for all the work."""
    days = [
        ("mon", "monday", "track"),
        ("tue", "tuesday", "gym"),
        ("thu", "thursday", "track"),
        ("fri", "friday", "gym"),
    ]
    slots = [slot(ref, day, place, minutes=minutes) for ref, day, place in days]
    return brief(slots=slots, end="2026-02-15", **more)


def restricted(*limits: Data) -> Data:
    """Make an athlete with limits."""
    return athlete(
        restrictions=[
            {"ref": "r", "limits": list(limits), "from": "2026-01-12", "set_by": "x", "set_as": "coach"}
        ]
    )


def phased(data: Data, **phases: object) -> Data:
    """Change the phases of a brief."""
    data["phases"] |= phases
    return data


BRIEFS: dict[str, Data] = {
    "long slots": brief(end="2026-02-15"),
    "an hour": short(60),
    "three quarters": short(45),
    "forty-one minutes": short(41),
    "novice": short(55, kit=[]) | {"athletes": [athlete(level="novice", lifts=[])]},
    "intermediate": short(62) | {"athletes": [athlete(level="intermediate")]},
    "deload first": phased(short(58), deload="first"),
    "own order": phased(short(50), drop_first=["plyometrics", "loaded_jumps", "sprint_rep"]),
    "restricted": short(65)
    | {"athletes": [restricted({"what": "sets", "at_most": 9}, {"what": "contacts", "at_most": 30})]},
    "taper": phased(short(52), taper_days=14)
    | {"goal": {"kind": "general", "peaks": [{"date": "2026-02-14", "size": "main"}]}},
}


def problems(data: Data) -> Iterator[tuple[IntegerProblem, Solution]]:
    """Plan a brief and give every week's problem with the planner's own answer."""
    seen: list[tuple[IntegerProblem, Solution]] = []

    def watched(problem: IntegerProblem) -> Solution | None:
        answer = solve(problem)
        if answer is not None:
            seen.append((problem, answer))
        return answer

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(athlete_plan, "solve", watched)
        assert isinstance(outcome(data, [trial(f0=7.7, v0=9.1)]), Programme)
    yield from seen


def best(problem: IntegerProblem, aim: list[int], *, cost_is: int | None = None) -> int:
    """Find the least value of an aim by CP-SAT."""
    model = cp_model.CpModel()
    columns = [model.new_int_var(0, int(most), f"x{place}") for place, most in enumerate(problem.upper)]
    for row, low, high in zip(problem.matrix, problem.low, problem.high, strict=True):
        model.add_linear_constraint(_weighed(columns, row.tolist()), int(low), int(high))
    if cost_is is not None:
        model.add(_weighed(columns, problem.cost.tolist()) <= cost_is)
    model.minimize(_weighed(columns, aim))
    solver = cp_model.CpSolver()
    solver.parameters.linearization_level = 2
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def _weighed(columns: list[cp_model.IntVar], weights: list[int]) -> cp_model.LinearExpr:
    used = [(column, weight) for column, weight in zip(columns, weights, strict=True) if weight]
    return cp_model.LinearExpr.weighted_sum([column for column, _ in used], [weight for _, weight in used])


@pytest.mark.parametrize("name", BRIEFS)
def test_the_oracle_finds_the_same_cost_and_tie(name: str) -> None:
    weeks = list(problems(BRIEFS[name]))
    assert len(weeks) == 5
    for problem, answer in weeks:
        cost = best(problem, problem.cost.tolist())
        assert answer.cost == cost
        assert answer.tie == best(problem, problem.tie.tolist(), cost_is=cost)
        assert answer.cost == int(problem.cost @ answer.values)


def test_short_slots_make_the_solver_choose() -> None:
    # A case in which nothing has to give way would prove nothing.
    assert min(answer.cost for _, answer in problems(BRIEFS["three quarters"])) > 100
