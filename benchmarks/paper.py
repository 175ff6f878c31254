"""The issue: "14 sheets' PDF ≤ 2 s". Prints machine, times and the ratio to printing one athlete at a time.

The demo squad is planned first; the first print of the process, which reads the fonts, is told apart.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import typst

from speedloom.exchange.brief_file import read_brief_with_notes
from speedloom.planning.clash import Clash
from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.report.sheets.athlete_sheet import athlete_sheet_pdf
from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.programme_book import programme_book_pdf
from speedloom.report.sheets.session_sheet import session_sheet_pdf, week_days
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

BRIEF = Path(__file__).resolve().parent.parent / "examples" / "spring_build.toml"
WANTED_S = 2.0
WEEK = 6
PAPER = Paper(date(2026, 1, 1))


def planned() -> Programme:
    """Plan the demo squad."""
    rulebook, catalogue = load_rulebook(), load_catalogue()
    read = read_brief_with_notes(BRIEF)
    rules = rulebook.with_changes(read.brief.rules)
    brief = resolve_brief(read.brief, read.measurements, rulebook=rules, catalogue=catalogue)
    programme = plan_programme(brief, rulebook=rules, catalogue=catalogue)
    if isinstance(programme, Clash):
        sys.exit(f"Expected {BRIEF.name} to be planned, got a clash")
    return programme


def seconds(action: Callable[[], object]) -> float:
    """Return how long a call took."""
    before = time.perf_counter()
    action()
    return time.perf_counter() - before


def main() -> int:
    """Print the times; exit 1 when the promise is not kept."""
    programme, catalogue, rulebook = planned(), load_catalogue(), load_rulebook()
    first, last = week_days(programme, WEEK)
    refs = [own.athlete for own in programme.programmes]

    def own_sheets(athletes: tuple[str, ...] | None = None) -> bytes:
        return athlete_sheet_pdf(programme, week=WEEK, catalogue=catalogue, paper=PAPER, athletes=athletes)

    cold = seconds(own_sheets)
    warm = min(seconds(own_sheets) for _ in range(3))
    one_by_one = seconds(lambda: [own_sheets((ref,)) for ref in refs])
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}", end=", ")
    print(f"typst {typst.__version__}, {len(refs)} athletes, week {WEEK}")
    print(f"own sheets: first {cold:.2f} s, again {warm:.2f} s (wanted {WANTED_S:.0f} s)", end=", ")
    print(f"one athlete at a time {one_by_one:.2f} s, ratio {one_by_one / warm:.1f}")
    rest: dict[str, Callable[[], object]] = {
        "session sheets of a week": lambda: session_sheet_pdf(
            programme, first=first, last=last, catalogue=catalogue, paper=PAPER
        ),
        "book of one athlete": lambda: programme_book_pdf(
            programme, catalogue=catalogue, rulebook=rulebook, paper=PAPER, athletes=(refs[0],)
        ),
        "book of all": lambda: programme_book_pdf(
            programme, catalogue=catalogue, rulebook=rulebook, paper=PAPER
        ),
        "a weave": lambda: weave_svg(weave_from_programme(programme, refs[0], catalogue=catalogue)),
    }
    for name, action in rest.items():
        print(f"{name}: {seconds(action):.2f} s")
    return 0 if cold <= WANTED_S else 1


if __name__ == "__main__":
    sys.exit(main())
