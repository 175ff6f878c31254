"""Haugen, Breitschädel & Seiler 2019, PLoS ONE 14(7):e0215551 (open data, read), through the command line.

The published splits (already corrected to the first movement) are rewritten into our columns, and the
profiles that come out are compared with the published F0, V0 and Pmax. Height is not published: 1.75 m is
assumed.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from published import rows

GATES = (10, 20, 30, 40)
PUBLISHED = {row["id"]: row for row in rows("haugen2019_sprint40m")}
SEXES = {"M": "male", "W": "female"}


def in_our_columns() -> str:
    """Rewrite the published table as a tests file."""
    lines = [
        "athlete,date,trial,timing,clock,sex,mass_kg,height_m," + ",".join(f"{gate} m" for gate in GATES)
    ]
    for name, row in PUBLISHED.items():
        times = ",".join(row[f"t{gate}_s"] for gate in GATES)
        lines.append(f"{name},2019-07-01,1,gates,movement,{SEXES[row['sex']]},{row['mass_kg']},1.75,{times}")
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="module")
def answer(tmp_path_factory: pytest.TempPathFactory) -> subprocess.CompletedProcess[str]:
    path: Path = tmp_path_factory.mktemp("haugen") / "tests.csv"
    path.write_text(in_our_columns(), encoding="utf-8")
    command = [sys.executable, "-m", "speedloom", "profile", str(path), "--json"]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def profiles(answer: subprocess.CompletedProcess[str]) -> dict[str, dict[str, Any]]:
    return {profile["athlete"]: profile for profile in json.loads(answer.stdout)}


def test_row_486_is_refused_by_its_id_and_the_others_are_used(
    answer: subprocess.CompletedProcess[str], profiles: dict[str, dict[str, Any]]
) -> None:
    refused = {name: profile["trials"]["refused"] for name, profile in profiles.items()}
    assert answer.returncode == 1
    assert {name: those for name, those in refused.items() if those} == {
        "486": [{"trial": 1, "why": "splits_not_increasing"}]
    }
    assert profiles["486"]["vmax_mps"] is None
    assert sum(profile["f0_npkg"] is not None for profile in profiles.values()) == 333


@pytest.mark.parametrize(
    ("quantity", "header", "tolerance"),
    [("f0_npkg", "F0_Nkg", 0.03), ("v0_mps", "V0_mps", 0.02), ("pmax_wpkg", "Pmax_Wkg", 0.05)],
)
def test_median_error_of_the_333_athletes(
    profiles: dict[str, dict[str, Any]], quantity: str, header: str, tolerance: float
) -> None:
    errors = [
        profile[quantity]["value"] - float(PUBLISHED[name][header])
        for name, profile in profiles.items()
        if name != "486"
    ]
    assert len(errors) == 333
    assert abs(median(errors)) < tolerance
