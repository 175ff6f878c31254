"""run.py on a bare machine: what it says, and that it leaves nothing half made (STACK: two commands)."""

from __future__ import annotations

import os
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


@pytest.fixture
def tools(tmp_path: Path) -> Path:
    """Make an empty folder that is the whole PATH."""
    folder = tmp_path / "tools"
    folder.mkdir()
    return folder


def put(path: Path, script: str) -> Path:
    """Write a program."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    path.chmod(0o755)
    return path


def asked_for_a_browser(bare: Path, tools: Path) -> subprocess.CompletedProcess[str]:
    """Ask run.py for the tests' browser on a machine that has the tools of one folder and no more."""
    code = "import run; run.BROWSER_PLACES = (); print(run.ensure_browser())"
    surroundings = {"PATH": str(tools), "HOME": str(bare)}
    return subprocess.run(
        [sys.executable, "-B", "-c", code],
        cwd=bare,
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_browser_that_is_there_is_used(bare: Path, tools: Path) -> None:
    put(tools / "chromium-browser", "echo install it as a snap; exit 1")
    there = put(tools / "google-chrome", "echo Chrome 1")
    done = asked_for_a_browser(bare, tools)
    assert (done.returncode, done.stdout) == (0, f"{there}\n"), done.stderr


def test_without_a_browser_one_line_says_what_to_do(bare: Path, tools: Path) -> None:
    done = asked_for_a_browser(bare, tools)
    assert done.returncode == 1
    assert re.fullmatch(
        r"run\.py: the tests need Chromium, Chrome or Edge, .*apt install chromium.*\n", done.stderr
    )


def test_on_debian_root_installs_one_and_others_let_playwright_fetch_one(bare: Path, tools: Path) -> None:
    put(bare / ".venv" / "bin" / "python", 'echo "python $*" >> log')
    waiting = put(bare / "waiting", "exit 0")
    put(
        tools / "apt-get",
        f'echo "apt $*" >> log; [ "$3" = update ] || /bin/cp {waiting.name} "{tools}/chromium"',
    )
    done = asked_for_a_browser(bare, tools)
    log = [line for line in (bare / "log").read_text(encoding="utf-8").splitlines() if " -c " not in line]
    if os.geteuid() == 0:
        assert done.stdout.splitlines()[-1] == str(tools / "chromium"), done.stderr
        assert [line.split()[3] for line in log if line.startswith("apt")] == ["update", "install"]
        assert "--no-install-recommends chromium fonts-liberation" in log[-1]
    else:
        assert done.returncode == 1
        assert [line for line in log if line.startswith(("apt", "python -m"))] == [
            "python -m playwright install chromium"
        ]


def asked_for_postgres(bare: Path, tools: Path, *, ci: bool) -> subprocess.CompletedProcess[str]:
    """Ask run.py for the tests' PostgreSQL on a machine that has the tools of one folder and no more."""
    (bare / "tests").mkdir()
    shutil.copy(ROOT / "tests" / "postgres.py", bare / "tests")
    code = (
        "import run, sys; from pathlib import Path; sys.path.insert(0, 'tests'); import postgres;"
        "postgres.DEBIAN = Path('debian'); postgres._has_account = lambda: True;"
        "run.ensure_postgres(); print(postgres.programs())"
    )
    surroundings = {"PATH": str(tools), "HOME": str(bare)} | ({"CI": "true"} if ci else {})
    return subprocess.run(
        [sys.executable, "-B", "-c", code],
        cwd=bare,
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_newest_postgresql_that_is_there_is_used(bare: Path, tools: Path) -> None:
    for version in ("9", "15", "13"):
        put(bare / "debian" / version / "bin" / "initdb", "exit 0")
    done = asked_for_postgres(bare, tools, ci=True)
    assert (done.returncode, done.stdout) == (0, "debian/15/bin\n"), done.stderr


def test_without_postgresql_its_half_is_not_run_and_where_changes_are_tested_that_is_a_fault(
    bare: Path, tools: Path
) -> None:
    done = asked_for_postgres(bare, tools, ci=False)
    assert done.returncode == 0, done.stderr
    assert re.fullmatch(r"run\.py: PostgreSQL was not found, .* not run; .*\nNone\n", done.stdout)
    shutil.rmtree(bare / "tests")
    done = asked_for_postgres(bare, tools, ci=True)
    assert (done.returncode, done.stdout) == (1, "")
    assert re.fullmatch(r"run\.py: PostgreSQL was not found, .* \(apt install postgresql\)\.\n", done.stderr)


def test_on_debian_root_installs_postgresql(bare: Path, tools: Path) -> None:
    there = put(bare / "waiting", "exit 0")
    put(
        tools / "apt-get",
        'echo "$*" >> log; [ "$3" = update ] || '
        f"(/bin/mkdir -p debian/15/bin && /bin/cp {there.name} debian/15/bin/initdb)",
    )
    done = asked_for_postgres(bare, tools, ci=False)
    assert done.returncode == 0, done.stderr
    if os.geteuid() == 0:
        assert done.stdout.splitlines()[-1] == "debian/15/bin"
        update, install = (bare / "log").read_text(encoding="utf-8").splitlines()
        assert update.endswith("DPkg::Lock::Timeout=120 update")
        assert install.endswith("install --yes --no-install-recommends postgresql")
    else:
        assert not (bare / "log").exists()
        assert done.stdout.splitlines()[-1] == "None"


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
