"""What a change makes the check say: new findings, worse ones, and those that are gone."""

from __future__ import annotations

from dataclasses import replace

from speedloom.checking.finding import Finding
from speedloom.workflows.check_news import check_news

LONG = Finding(
    "slot_minutes", "warning", athlete="ada", week=3, session="ada-70", value=80.0, limit=75.0, unit="min"
)


def test_a_finding_that_stands_is_no_news() -> None:
    news = check_news([LONG], [LONG])
    assert (news.new, news.gone) == ((), ())


def test_a_finding_further_from_its_limit_is_news_and_one_nearer_is_not() -> None:
    worse, better = replace(LONG, value=90.0), replace(LONG, value=78.0)
    assert check_news([LONG], [worse]).to_look_at == (worse,)
    assert check_news([LONG], [better]).new == ()


def test_a_finding_that_weighs_more_or_is_in_more_lines_is_news() -> None:
    hard, lines = replace(LONG, weight="hard"), replace(LONG, detail=(("lines", "2"),))
    assert check_news([LONG], [hard]).hard == (hard,)
    assert check_news([LONG], [lines]).new == (lines,)


def test_a_line_that_was_swapped_keeps_its_finding() -> None:
    assert check_news([replace(LONG, line="ada-71")], [replace(LONG, line="ada-210")]).new == ()


def test_what_is_gone_is_said_but_for_advice() -> None:
    advice = replace(LONG, rule="two_for_two", weight="advice")
    assert check_news([LONG, advice], []).gone == (LONG,)
