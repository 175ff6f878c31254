"""The import contracts of pyproject.toml hold, and each of them would notice when it is broken."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from house import ROOT, SOURCE

LINT = "from importlinter.cli import lint_imports_command; lint_imports_command()"

BREACHES = {
    "layers": ("science/mechanics", "import speedloom.training"),
    "acyclic": ("report", "import speedloom.report.charts.breach\nimport speedloom.report.sheets.breach"),
    "rows": ("web", "import speedloom.store.models"),
    "subjects": ("science/strength", "import speedloom.science.statistics"),
    "private": ("wording", "import speedloom.training._hidden"),
    "solver-door": ("planning", "import scipy.optimize"),
    "science-alone": ("science/statistics", "import pydantic"),
    "vocabulary-alone": ("training", "import numpy"),
    "core-without-screens": ("wording", "import typer"),
    "core-without-django": ("report", "import django"),
}
"""Contract id -> a folder and the import there that must break it."""


def contracts(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """Run the contracts on the package found in a folder."""
    # The copy is to be read, not the working tree: an editable install comes after PYTHONPATH.
    surroundings = os.environ | {"PYTHONPATH": str(folder), "COLUMNS": "200"}
    command = [sys.executable, "-c", LINT, "--no-cache", "--config", str(ROOT / "pyproject.toml"), *options]
    return subprocess.run(command, cwd=folder, env=surroundings, capture_output=True, text=True, check=False)


def test_every_contract_holds() -> None:
    done = contracts(SOURCE.parent)
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_contract_has_a_breach() -> None:
    ids = re.findall(
        r'^id = "([\w-]+)"$', (ROOT / "pyproject.toml").read_text(encoding="utf-8"), re.MULTILINE
    )
    assert sorted(ids) == sorted(BREACHES)


@pytest.mark.parametrize("contract", sorted(BREACHES))
def test_a_breach_is_noticed(contract: str, tmp_path: Path) -> None:
    folder, line = BREACHES[contract]
    copy = tmp_path / "speedloom"
    shutil.copytree(SOURCE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    (copy / "training" / "_hidden.py").write_text('"""Private."""\n', encoding="utf-8")
    (copy / "report" / "charts" / "breach.py").write_text("import speedloom.report.sheets.breach\n")
    (copy / "report" / "sheets" / "breach.py").write_text("")
    if contract == "acyclic":
        (copy / "report" / "sheets" / "breach.py").write_text("import speedloom.report.charts.other\n")
        (copy / "report" / "charts" / "other.py").write_text("")
    (copy / folder / "breach_here.py").write_text(line + "\n", encoding="utf-8")

    done = contracts(tmp_path, "--contract", contract)

    assert done.returncode == 1, done.stdout + done.stderr
    assert "BROKEN" in done.stdout


def test_an_unknown_package_is_noticed(tmp_path: Path) -> None:
    copy = tmp_path / "speedloom"
    shutil.copytree(SOURCE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    (copy / "drawer.py").write_text("", encoding="utf-8")

    done = contracts(tmp_path, "--contract", "layers")

    assert done.returncode == 1
    assert "drawer" in done.stdout
