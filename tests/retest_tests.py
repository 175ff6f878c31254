"""A small invented squad tested twice, as a tests file that people would write."""

from __future__ import annotations

import numpy as np

HEAD = "athlete,date,trial,timing,clock,behind_m,start,surface,sex,mass_kg,height_m,5 m,10 m,20 m,30 m,40 m"
NAMES = ("anna", "bela", "cleo", "dora", "edda", "fine")
FIRST, LAST = "2026-01-08", "2026-04-02"
SHARES = np.array([0.25, 0.415, 0.715, 1.0, 1.28])
"""Splits as shares of the 30 m time."""


def run(
    athlete: str, day: str, trial: int, time_30m: float, *, timing: str = "gates", surface: str = "hall"
) -> str:
    """Write a row of the file."""
    splits = ",".join(f"{time:.2f}" for time in SHARES * time_30m)
    return f"{athlete},{day},{trial},{timing},behind,0.5,standing,{surface},female,62,1.70,{splits}"


def squad_rows(*, seed: int = 5, gain: float = 0.06, error: float = 0.02) -> list[str]:
    """Write three trials on two days for six athletes; all get faster by the gain over 30 m [s]."""
    rng = np.random.default_rng(seed)
    rows = []
    for place, name in enumerate(NAMES):
        for day, faster in ((FIRST, 0.0), (LAST, gain)):
            rows += [
                run(name, day, trial, 4.3 + 0.1 * place - faster + error * rng.standard_normal())
                for trial in (1, 2, 3)
            ]
    return rows


def file_text(rows: list[str]) -> str:
    """Write the file."""
    return "\n".join([HEAD, *rows]) + "\n"
