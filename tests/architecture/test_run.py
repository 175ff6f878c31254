"""run.py on a bare machine: what it says, and that it leaves nothing half made (STACK: two commands)."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from house import ROOT

# A Python without some of its modules, as Debian ships it before python3-venv is installed.
WITHOUT = """
import importlib.util, runpy, sys
found, missing, sys.argv = importlib.util.find_spec, sys.argv[1].split(","), sys.argv[2:]
importlib.util.find_spec = lambda name: None if name in missing else found(name)
runpy.run_path(sys.argv[0], run_name="__main__")
"""


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """Copy what run.py needs to a folder with a space in its name."""
    folder = tmp_path / "a folder"
    folder.mkdir()
    for name in ("run.py", "pyproject.toml", "constraints.txt"):
        shutil.copy(ROOT / name, folder / name)
    return folder


def test_without_pip_and_ensurepip_one_line_says_what_to_do(bare: Path) -> None:
    command = [sys.executable, "-c", WITHOUT, "pip,ensurepip", str(bare / "run.py"), "demo"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert done.stdout == ""
    assert re.fullmatch(r"run\.py: .* neither pip nor ensurepip.*apt install python3-venv.*\n", done.stderr)
    assert not (bare / ".venv").exists()


@pytest.mark.parametrize("arguments", [[], ["--help"], ["dance"]])
def test_it_says_how_it_is_used(arguments: list[str], bare: Path) -> None:
    command = [sys.executable, str(bare / "run.py"), *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert "python3 run.py demo | test | check" in done.stderr
    assert not (bare / ".venv").exists()
