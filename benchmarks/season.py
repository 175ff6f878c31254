"""A year for one athlete: "52 weeks in ≤ 6 s in process; clash explained in ≤ 1 s".

Prints the machine and the times.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from invented_briefs import Data, brief, clash, planned

YEAR_S, CLASH_S = 6.0, 1.0


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


def main() -> None:
    """Measure and print; exit 1 when a figure is missed."""
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    planned(year())  # imports and tables are warm from here on
    started = time.perf_counter()
    programme = planned(year())
    spent = time.perf_counter() - started
    print(f"{len(programme.programmes[0].weeks)} weeks: {spent:.2f} s (wanted ≤ {YEAR_S:g} s)")
    short = year()
    short["slots"][0]["minutes"] = 25
    started = time.perf_counter()
    said = clash(short)
    explained = time.perf_counter() - started
    print(f"clash of {len(said.weeks)} weeks explained: {explained:.2f} s (wanted ≤ {CLASH_S:g} s)")
    sys.exit(int(spent > YEAR_S or explained > CLASH_S))


if __name__ == "__main__":
    main()
