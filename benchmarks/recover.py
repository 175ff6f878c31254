"""Simulate and recover: friction, 1RM and profile updates, and how often their 90 % bands hold the truth.

python3 benchmarks/recover.py; the short form stands in tests/property/test_recovered.py.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from recovered import ProfileMiss, coverage, maxima, profiles, sleds
from speedloom.workflows.sharpen_printed import Figure

DRAWS = 4_000
SLED_DRAWS = 1_000
NAMES = ("F0", "v0", "30 m")


def _rms(values: list[float]) -> str:
    return f"{100 * float(np.sqrt(np.mean(np.square(values)))):.2f} %"


def _lifts() -> None:
    for weeks in (4, 8, 12):
        found = list(maxima(DRAWS, weeks=weeks, seed=weeks))
        mean = 100 * float(np.mean([one.error for one in found]))
        rms, band = _rms([one.error for one in found]), _rms([one.se for one in found])
        print(
            f"1RM, {weeks:2} weeks: covered {100 * coverage(found):.1f} %, "
            f"mean {mean:+.2f} %, RMS {rms}, se {band}"
        )


def _sleds() -> None:
    for name, prior in (
        ("published range", Figure(0.4, 0.3, 0.5, "1")),
        ("timed before", Figure(0.36, 0.327, 0.393, "1")),
    ):
        for athletes in (1, 4):
            found = list(sleds(SLED_DRAWS, seed=athletes, prior=prior, athletes=athletes))
            rms = float(np.sqrt(np.mean([one.error**2 for one in found])))
            se = float(np.mean([one.se for one in found]))
            print(
                f"friction, {name}, {athletes} athletes: covered {100 * coverage(found):.1f} %, "
                f"RMS {rms:.4f}, se {se:.4f}"
            )


def _profiles() -> None:
    for distances in ((10.0,), (30.0,), (5.0, 10.0, 20.0, 30.0, 40.0)):
        for days in (4, 8):
            _profile(distances, list(profiles(SLED_DRAWS, seed=days, distances=distances, days=days)), days)
    for distances in ((10.0,), (5.0, 10.0, 20.0, 30.0, 40.0)):
        found = list(profiles(SLED_DRAWS, seed=9, distances=distances, stronger=0.05))
        print("Start force alone truly 5 % higher than at the test:")
        _profile(distances, found, 4)
    for drift in (-0.02, 0.0, 0.02, 0.04):
        found = list(profiles(SLED_DRAWS, seed=7, distances=(15.0,), drift=drift))
        share = 100 * float(np.mean([one.alarm for one in found]))
        print(f"15 m, truly {100 * drift:+.0f} % in time: two days running outside the band in {share:.1f} %")


def _profile(distances: tuple[float, ...], found: list[ProfileMiss], days: int) -> None:
    gates = "/".join(f"{at:g}" for at in distances)
    for at, name in enumerate(NAMES):
        before, after = [one.before[at] for one in found], [one.after[at] for one in found]
        rms = [_rms([one.error for one in those]) for those in (before, after)]
        print(
            f"profile, {days} days of {gates} m, {name}: covered {100 * coverage(before):.1f} -> "
            f"{100 * coverage(after):.1f} %, RMS {rms[0]} -> {rms[1]}"
        )


if __name__ == "__main__":
    _lifts()
    _sleds()
    _profiles()
