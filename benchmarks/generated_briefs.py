"""Thousands of generated briefs: safe by a third judge, without hard findings, or a clash whose repair works.

python3 benchmarks/generated_briefs.py [HOW_MANY] [SEED]; default 5000 1. Wanted: 2,000 for the judge, 5,000
for the check. Prints counts; a brief that fails is shrunk and printed by Hypothesis.
"""

from __future__ import annotations

import json
import sys
import time
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, given, seed, settings

sys.path[:0] = [
    str(Path(__file__).resolve().parent.parent / folder) for folder in ("tests", "tests/property")
]

from test_planned_weeks import planned_or_repaired

from drawn_briefs import briefs
from invented_briefs import Data, findings, resolved
from safety_judge import judge

ARGUMENTS = [int(word) for word in sys.argv[1:]]
HOW_MANY, SEED = (ARGUMENTS + [5000, 1][len(ARGUMENTS) :])[:2]
COUNTS: Counter[str] = Counter()


@seed(SEED)
@given(briefs())
@settings(
    max_examples=HOW_MANY,
    deadline=None,
    database=None,
    derandomize=False,
    suppress_health_check=list(HealthCheck),
)
def every_brief(drawn: tuple[Data, list[Data]]) -> None:
    """Plan one brief, or do what its clash says and plan again; judge and check what comes."""
    programme = planned_or_repaired(resolved(*drawn))
    COUNTS["briefs"] += 1
    hard = findings(programme).hard()
    faults = judge(json.loads(programme.model_dump_json(by_alias=True)))
    if hard or faults:
        raise AssertionError((hard, faults))


def main() -> None:
    """Run and print."""
    started = time.perf_counter()
    every_brief()
    spent = time.perf_counter() - started
    print(f"{COUNTS['briefs']} briefs, seed {SEED}: nothing hard, no fault; {spent:.0f} s")


if __name__ == "__main__":
    main()
