"""A year for one athlete: "52 weeks in ≤ 6 s in process; clash explained in ≤ 1 s".

In the same run, what a user would do instead: one CP-SAT model of the whole year with OR-Tools' defaults, the
same columns, rows and costs (each week's own problem, taken from the planner as it solves them). Prints the
machine, the times and their ratios; a different best cost is an error.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from ortools.sat.python import cp_model

from invented_briefs import Data, brief, clash, planned, slot
from speedloom.planning import athlete_plan
from speedloom.planning.solver import IntegerProblem, Solution, solve

YEAR_S, CLASH_S = 6.0, 1.0
GIVE_UP_S = 60.0
TIE_SCALE = 1_000_000


def year() -> Data:
    """Make a year with two main peaks, a smaller one, Saturday matches, exams and a closed month."""
    data = brief(start="2026-01-05", end="2026-12-31")
    data["phases"] = {
        "mesocycle_weeks": [4] * 12 + [5],
        "deload": "last",
        "taper_days": 10,
        "season": [{"from": "2026-08-24", "until": "2026-11-20"}],
    }
    days = [f"2026-09-{day:02d}" for day in (5, 12, 19, 26)] + [
        f"2026-10-{day:02d}" for day in (3, 10, 17, 24)
    ]
    data["events"] = [
        {"kind": "match", "title": "League", "date": day, "start": "15:00:00"} for day in days
    ] + [
        {
            "kind": "holiday",
            "title": "Closed",
            "date": "2026-07-06",
            "until": "2026-07-26",
            "training": "none",
        },
        {"kind": "exam", "title": "Exams", "date": "2026-06-15", "until": "2026-06-19"},
    ]
    peaks = (("2026-05-30", "main"), ("2026-12-19", "main"), ("2026-03-14", "minor"))
    data["goal"]["peaks"] = [{"date": day, "size": size} for day, size in peaks]
    return data


def tight(minutes: int) -> Data:
    """Make the same year with slots so short that work has to give way in every week."""
    data = year()
    for one in data["slots"]:
        one["minutes"] = minutes
    return data


def late() -> Data:
    """Make the same year with a clash in its last week only."""
    own = {"ref": "own", "slot": "mon", "exercise": "a_skip", "minutes": 80.0, "first_week": 52}
    return year() | {"own_lines": [own]}


def weeks_solved(data: Data) -> tuple[list[tuple[IntegerProblem, Solution]], float]:
    """Plan a year; give every week's problem with its answer, and the seconds spent in solving them."""
    seen: list[tuple[IntegerProblem, Solution]] = []
    spent = 0.0

    def watched(problem: IntegerProblem) -> Solution | None:
        nonlocal spent
        begun = time.perf_counter()
        answer = solve(problem)
        spent += time.perf_counter() - begun
        if answer is not None:
            seen.append((problem, answer))
        return answer

    athlete_plan.solve = watched
    try:
        planned(data)
    finally:
        athlete_plan.solve = solve
    return seen, spent


def one_model(problems: list[IntegerProblem], *, ties: bool) -> tuple[float, int, str]:
    """Solve all weeks in one CP-SAT model with its defaults, by cost, or by cost first and tie second."""
    model = cp_model.CpModel()
    every: list[cp_model.IntVar] = []
    aim: list[int] = []
    for week, problem in enumerate(problems):
        columns = [model.new_int_var(0, int(top), f"w{week}x{at}") for at, top in enumerate(problem.upper)]
        for row, low, high in zip(problem.matrix, problem.low, problem.high, strict=True):
            used = [(columns[at], int(value)) for at, value in enumerate(row) if value]
            terms = cp_model.LinearExpr.weighted_sum([one for one, _ in used], [value for _, value in used])
            model.add_linear_constraint(terms, int(low), int(high))
        costs, tie = problem.cost.tolist(), problem.tie.tolist()
        weights = [cost * TIE_SCALE + one for cost, one in zip(costs, tie, strict=True)] if ties else costs
        every += columns
        aim += weights
    model.minimize(cp_model.LinearExpr.weighted_sum(every, aim))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = GIVE_UP_S
    begun = time.perf_counter()
    status = solver.solve(model)
    spent = time.perf_counter() - begun
    # Counted again from its answer: its own report of so large an objective is some units off.
    value = sum(weight * solver.value(column) for weight, column in zip(aim, every, strict=True))
    return spent, value, solver.status_name(status)


def against_one_model(name: str, data: Data) -> None:
    """Print how long the weeks took one by one (cost and tie), and all of them in one model."""
    solved, ours = weeks_solved(data)
    problems = [problem for problem, _ in solved]
    columns, cost = sum(len(problem.cost) for problem in problems), sum(answer.cost for _, answer in solved)
    print(f"{name}: {columns} columns, cost {cost}; week by week {ours:.2f} s")
    wanted = {False: cost, True: sum(answer.cost * TIE_SCALE + answer.tie for _, answer in solved)}
    for ties, best in wanted.items():
        theirs, value, status = one_model(problems, ties=ties)
        aim = "cost and tie" if ties else "cost alone"
        print(f"  one CP-SAT model, {aim}: {theirs:.2f} s ({status}), ratio {theirs / ours:.1f}")
        if status == "OPTIMAL" and value != best:
            sys.exit(f"{name}, {aim}: CP-SAT's best is {value}, ours {best}")


def explained(name: str, data: Data) -> float:
    """Time how long a clash takes to be found and explained."""
    started = time.perf_counter()
    said = clash(data)
    spent = time.perf_counter() - started
    print(f"{name}, {len(said.weeks)} weeks: explained in {spent:.2f} s (wanted ≤ {CLASH_S:g} s)")
    return spent


def main() -> None:
    """Measure and print; exit 1 when a figure is missed."""
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    planned(year())  # imports and tables are warm from here on
    started = time.perf_counter()
    programme = planned(year())
    spent = time.perf_counter() - started
    print(f"{len(programme.programmes[0].weeks)} weeks: {spent:.2f} s (wanted ≤ {YEAR_S:g} s)")
    against_one_model("90 minutes, little gives way", year())
    against_one_model("50 minutes, much gives way", tight(50))
    clashes = [explained("every week clashes", tight(25)), explained("the last week clashes", late())]
    never = [slot("mon", "monday", "track") | {"from": "2029-01-01"}]
    clashes.append(explained("no slot in a year", year() | {"slots": never}))
    sys.exit(int(spent > YEAR_S or max(clashes) > CLASH_S))


if __name__ == "__main__":
    main()
