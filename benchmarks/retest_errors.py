"""The retest verdict's error rates under and off its stated model.

The issue: "the retest verdict's error rates over 2,000 simulated athletes are within two points of what the
page says". Prints, for each design, how many were told what, the mean stated chance and the share for
whom it was true: under the stated model (asserted for better and worse, and for all verdicts together), and
one step off it (printed only).
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "tests")]

from retest_squads import Squads, simulated

ATHLETES, MANY = 2_000, 28_000
POINTS = 0.02
DESIGNS = {
    "14 athletes, best of 3": Squads(143),
    "14 athletes, best of 2, then of 3": Squads(143, trials=(2, 3)),
    "14 athletes, mean of 3": Squads(143, rule="mean"),
    "14 athletes, best of 2, twice the noise": Squads(143, error_s=0.05, trials=(2, 2)),
    "6 athletes, best of 3": Squads(334, athletes=6),
    "25 athletes, best of 2": Squads(80, athletes=25, error_s=0.04, trials=(2, 2)),
}
OFF = {
    "nobody changes": Squads(143, fixed=(0.0, 0.0)),
    "the squad stays, athletes differ by 0.03 s": Squads(143, fixed=(0.0, 0.03)),
    "all 0.03 s faster, differing by 0.02 s": Squads(143, fixed=(-0.03, 0.02)),
}


def main() -> int:
    """Simulate all designs, at the issue's size and larger."""
    worst = 0.0
    for size in (ATHLETES, MANY):
        print(f"under the stated model, {size} athletes")
        for name, design in DESIGNS.items():
            begun = time.perf_counter()
            rates = simulated(_of_size(design, size))
            for verdict, rate in rates.items():
                print(f"  {name:42s} {verdict:8s} {rate}")
            print(f"  {time.perf_counter() - begun:.1f} s")
            asserted = [rates[one] for one in ("better", "worse", "all")]
            worst = max(worst, *(abs(rate.stated - rate.true) for rate in asserted))
    print(f"off the model (printed, not asserted), {ATHLETES} athletes")
    for name, design in OFF.items():
        for verdict, rate in simulated(design).items():
            print(f"  {name:42s} {verdict:8s} {rate}")
    print(f"furthest apart under the model: {100 * worst:.1f} points (wanted: at most {100 * POINTS:.0f})")
    return int(worst > POINTS)


def _of_size(design: Squads, athletes: int) -> Squads:
    squads = -(-athletes // design.athletes)
    return Squads(
        squads, design.athletes, design.error_s, design.trials, design.rule, design.seed, design.fixed
    )


if __name__ == "__main__":
    sys.exit(main())
