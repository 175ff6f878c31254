"""`--json` means one JSON value on stdout and nothing else, whatever a compiled library prints meanwhile."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from house import ROOT

TIMES = 5
BRIEF = ROOT / "examples" / "short_block.toml"
PRINTING = """
import os, sys
from speedloom.planning import solver
plain = solver.milp
def printing(*arguments, **named):
    os.write(1, b"HighsMipSolverData::transformNewIntegerFeasibleSolution tmpSolver.run();\\n")
    return plain(*arguments, **named)
solver.milp = printing
from speedloom.cli import main
main()
"""
"""The command, with an optimiser that prints at every solve what the real one prints now and then."""


def ran(*command: str, code: str = "") -> subprocess.CompletedProcess[str]:
    start = ["-c", code] if code else ["-m", "speedloom"]
    return subprocess.run(
        [sys.executable, *start, *command], capture_output=True, text=True, check=False, cwd=ROOT
    )


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("planned") / "programme.json"
    done = ran("plan", str(BRIEF), "-o", str(path))
    assert done.returncode == 0, done.stderr
    return path


@pytest.fixture
def again(written: Path) -> list[str]:
    """Plan again from a brief with a shorter evening: without news nothing is solved."""
    brief = written.with_name(BRIEF.name)
    text = BRIEF.read_text(encoding="utf-8")
    assert "minutes = 75" in text
    brief.write_text(text.replace("minutes = 75", "minutes = 60"), encoding="utf-8")
    tests = BRIEF.with_name("short_block_tests.csv")
    written.with_name(tests.name).write_bytes(tests.read_bytes())
    return ["replan", str(written), "--brief", str(brief), "--from", "2026-09-21", "--json"]


def test_every_run_says_the_same_one_value(again: list[str]) -> None:
    said = {ran(*again).stdout for _ in range(TIMES)}
    assert len(said) == 1
    assert isinstance(json.loads(said.pop()), dict)


def test_what_the_optimiser_prints_is_not_in_the_value(again: list[str]) -> None:
    done = ran(*again, code=PRINTING)
    assert json.loads(done.stdout) == json.loads(ran(*again).stdout)
    assert "tmpSolver" in done.stderr


def test_what_the_optimiser_prints_is_not_in_the_summary_of_a_plan(tmp_path: Path) -> None:
    command = ["plan", str(BRIEF), "-o", str(tmp_path / "programme.json")]
    done = ran(*command, code=PRINTING)
    assert done.returncode == 0
    assert done.stdout
    assert "tmpSolver" not in done.stdout
    assert "tmpSolver" in done.stderr


def test_a_closed_stdout_is_no_fault_of_ours() -> None:
    code = "import os, sys; os.close(1); from speedloom.cli import main; main()"
    assert "Traceback" not in ran("rules", code=code).stderr
