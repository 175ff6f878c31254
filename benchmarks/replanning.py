"""Time planning again beside planning afresh.

The issue: "≤ 1 s an athlete, ≤ 10 s the squad". Prints the machine and the best of three runs of each kind of
news, for one athlete and for the demo squad: seconds of one processor, which is all that is used, so that
what else runs on the machine does not count. Exits with 1 when a figure is missed.
"""

from __future__ import annotations

import json
import os
import platform
import sys
import time
from collections.abc import Callable
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from typing import Any

from speedloom.exchange.brief_file import read_brief
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.replan import replan
from speedloom.workflows.resolve_brief import resolve_brief

HERE = Path(__file__).resolve().parent.parent
ONE_ATHLETE_S, SQUAD_S = 1.0, 10.0
RUNS = 3
BOOK, CATALOGUE = load_rulebook(), load_catalogue()


def best(call: Callable[[], object]) -> tuple[float, Programme]:
    """Give the least processor time of several calls [s], and what came of them."""
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        outcome = call()
        times.append(time.process_time() - start)
    if not isinstance(outcome, Programme):
        sys.exit(f"cannot be planned: {outcome}")
    return min(times), outcome


def resolved(path: Path) -> ResolvedBrief:
    """Read a brief."""
    brief, measurements = read_brief(path)
    return resolve_brief(brief, measurements, rulebook=BOOK, catalogue=CATALOGUE)


def changed(programme: Programme, change: Callable[[dict[str, Any]], None]) -> ResolvedBrief:
    """Give a programme's brief with a change."""
    if programme.brief.content is None:
        sys.exit("a programme without its brief")
    data = programme.brief.content.model_dump(mode="json", by_alias=True)
    change(data)
    return ResolvedBrief.model_validate_json(json.dumps(data))


def later_peak(brief: dict[str, Any]) -> None:
    """Move the main peak a week forward."""
    for peak in brief["goal"]["peaks"]:
        peak["date"] = (date.fromisoformat(peak["date"]) - timedelta(days=7)).isoformat()


def no_sled(brief: dict[str, Any]) -> None:
    """Take the sleds away."""
    brief["kit"] = [kit for kit in brief["kit"] if kit["kind"] != "sled"]


def again(old: Programme, **news: Any) -> object:  # noqa: ANN401 - what the workflow takes
    """Plan again."""
    return replan(old, rulebook=BOOK, catalogue=CATALOGUE, **news)


def measured(name: str, path: Path, *, since: date, limit_s: float) -> bool:
    """Print one programme's times; say whether one is too long."""
    brief = resolved(path)
    fresh, old = best(lambda: plan_programme(brief, rulebook=BOOK, catalogue=CATALOGUE))
    athlete = old.programmes[0].athlete
    lost = {athlete: tuple(since - timedelta(days=more) for more in range(1, 10))}
    stories: dict[str, dict[str, Any]] = {
        "no news": {},
        "nine lost days": {"lost": lost},
        "peak a week earlier": {"brief": changed(old, later_peak)},
        "no sled": {"brief": changed(old, no_sled)},
    }
    print(f"{name}: planned afresh in {fresh:.2f} s")
    slow = False
    for story, news in stories.items():
        spent, _ = best(partial(again, old, since=since, reason=story, **news))
        slow |= spent > limit_s
        print(f"  {story}: {spent:.2f} s (wanted ≤ {limit_s:g} s)")
    return slow


def main() -> None:
    """Measure and print."""
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    one = HERE / "tests" / "golden" / "briefs" / "fifteen_weeks.toml"
    start = resolved(one).start
    slow = measured(
        "one athlete, 15 weeks", one, since=start + timedelta(days=37), limit_s=ONE_ATHLETE_S
    ) | measured(
        "the demo squad of 14",
        HERE / "examples" / "spring_build.toml",
        since=date(2026, 2, 18),
        limit_s=SQUAD_S,
    )
    sys.exit(int(slow))


if __name__ == "__main__":
    main()
