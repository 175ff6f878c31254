"""Time whole plans and weigh the demo's document.

The issue: "15 weeks for one athlete ≤ 1 s in process; the demo squad ≤ 10 s; demo document ≤ 10 MB,
≤ 1 MB gzipped". Prints the machine, the best of three runs, and the sizes.
"""

from __future__ import annotations

import gzip
import os
import platform
import sys
import time
from pathlib import Path

from speedloom.exchange.brief_file import read_brief
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

HERE = Path(__file__).resolve().parent.parent
ONE_ATHLETE_S, SQUAD_S = 1.0, 10.0
WHOLE_MB, ZIPPED_MB = 10.0, 1.0
RUNS = 3


def planned(path: Path) -> tuple[float, Programme]:
    """Plan a brief; give the best time of several and the programme."""
    book, catalogue = load_rulebook(), load_catalogue()
    brief, measurements = read_brief(path)
    resolved = resolve_brief(brief, measurements, rulebook=book, catalogue=catalogue)
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        outcome = plan_programme(resolved, rulebook=book, catalogue=catalogue)
        times.append(time.perf_counter() - start)
    if not isinstance(outcome, Programme):
        sys.exit(f"{path.name} cannot be planned: {outcome}")
    return min(times), outcome


def checked(programme: Programme) -> float:
    """Time one check of a programme."""
    start = time.perf_counter()
    check_programme(programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())
    return time.perf_counter() - start


def main() -> None:
    """Measure and print; exit 1 when a figure is missed."""
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    one_s, _ = planned(HERE / "tests" / "golden" / "briefs" / "fifteen_weeks.toml")
    squad_s, squad = planned(HERE / "examples" / "spring_build.toml")
    text = canonical(squad).encode()
    whole, zipped = len(text) / 1e6, len(gzip.compress(text)) / 1e6
    print(f"one athlete, 15 weeks: {one_s:.2f} s (wanted ≤ {ONE_ATHLETE_S:g} s)")
    print(
        f"demo squad of 14, 12 weeks: {squad_s:.2f} s (wanted ≤ {SQUAD_S:g} s); check {checked(squad):.2f} s"
    )
    print(
        f"demo document: {whole:.2f} MB (wanted ≤ {WHOLE_MB:g}), "
        f"{zipped:.2f} MB gzipped (wanted ≤ {ZIPPED_MB:g})"
    )
    missed = one_s > ONE_ATHLETE_S or squad_s > SQUAD_S or whole > WHOLE_MB or zipped > ZIPPED_MB
    sys.exit(int(missed))


if __name__ == "__main__":
    main()
