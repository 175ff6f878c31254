"""Hundreds of chains of news: the past stands, nothing hard, refs given once, nothing changes without news.

python3 benchmarks/replan_chains.py [HOW_MANY] [SEED]; default 300 1. The issue: "300 generated chains of news
(Hypothesis) keep: past identical, no hard finding, refs never reused". A chain that fails is shrunk.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, given, seed, settings

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from drawn_news import Base, News, bases, chains, walk

ARGUMENTS = [int(word) for word in sys.argv[1:]]
HOW_MANY, SEED = (ARGUMENTS + [300, 1][len(ARGUMENTS) :])[:2]
COUNTS: Counter[str] = Counter()


@seed(SEED)
@given(bases(), chains())
@settings(
    max_examples=HOW_MANY,
    deadline=None,
    database=None,
    derandomize=False,
    suppress_health_check=list(HealthCheck),
)
def every_chain(base: Base, chain: tuple[News, ...]) -> None:
    """Walk one chain."""
    if base.programme is None:
        return
    faults, made = walk(base.programme, chain)
    COUNTS["chains"] += 1
    COUNTS["revisions"] += made
    if faults:
        raise AssertionError(faults)


def main() -> None:
    """Run and print."""
    started = time.perf_counter()
    every_chain()
    spent = time.perf_counter() - started
    print(f"{COUNTS['chains']} chains, {COUNTS['revisions']} re-plans, seed {SEED}: no fault; {spent:.0f} s")


if __name__ == "__main__":
    main()
