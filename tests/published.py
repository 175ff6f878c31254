"""Reads the published tables of tests/reference/tables; their first lines say where the numbers come from."""

from __future__ import annotations

import csv
from functools import cache

import numpy as np
from numpy.typing import NDArray

from house import ROOT

TABLES = ROOT / "tests" / "reference" / "tables"


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Read a table's rows by column name, comment lines left out."""
    text = (TABLES / f"{name}.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return tuple(csv.DictReader(lines))


def column(name: str, header: str) -> NDArray[np.float64]:
    """Read one column of numbers."""
    return np.array([float(row[header]) for row in rows(name)])
