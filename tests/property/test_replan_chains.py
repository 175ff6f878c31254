"""Whatever becomes known, in whatever order: the past stands, nobody is put at risk, refs are given once.

The issue: "300 generated chains of news (Hypothesis) keep: past identical, no hard finding, refs never
reused, every revision readable and restorable". The whole 300 run in `benchmarks/replan_chains.py`.
"""

from __future__ import annotations

from hypothesis import HealthCheck, assume, given, settings

from drawn_news import Base, News, bases, chains, walk

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


@given(bases(), chains())
@settings(max_examples=25, suppress_health_check=SLOW)
def test_every_chain_of_news_keeps_its_promises(base: Base, chain: tuple[News, ...]) -> None:
    assume(base.programme is not None)
    assert base.programme is not None
    faults, _ = walk(base.programme, chain)
    assert faults == []
