"""Habits that can be seen in a file without running it (HOUSE: habits)."""

from __future__ import annotations

import ast
import os
import re
import sys
import tomllib
from pathlib import Path

import pytest

from house import ROOT, SCRIPTS, SOURCE, layer_files, python_files, shown, tree

EVERY_FILE = [*python_files(ROOT / "src", ROOT / "tests"), *SCRIPTS]
MOST_LINES = 400
DRAWERS = {"utils", "util", "helpers", "helper", "common", "base", "misc", "shared", "tools", "core", "lib"}

# Written in two halves, so that this file does not find itself.
LEFT_OVER = (
    "TO" + "DO",
    "FIX" + "ME",
    "XX" + "X",
    "NotImplemented" + "Error",
    "pytest." + "skip",
    "x" + "fail(",
)
MACHINE = re.compile(
    "|".join(
        (r"(?<![\w.])/wo" + "rk/", r"(?<![\w.])/ro" + "ot/", r"(?<![\w.])/tm" + r"p/\w", r"\.\./sha" + "red")
    )
)
UNIT = re.compile(r"\[|\((?:1|m|s|kg|N|W|J|ms|mm|cm|rad|share|days?|weeks?|years?)\b")
TEXT = {".py", ".md", ".toml", ".txt", ".csv", ".json", ".svg", ".typ", ".sh", ""}


def tracked() -> list[Path]:
    """List the text files that belong to the repository, whether under version control yet or not."""
    left_out = {".git", ".venv", "build", "dist", "demo", "__pycache__"}
    return [
        path
        for path in sorted(ROOT.rglob("*"))
        if path.is_file()
        and path.suffix in TEXT
        and not any(
            part in left_out or part.endswith(("_cache", ".egg-info"))
            for part in path.relative_to(ROOT).parts
        )
        and ".hypothesis" not in path.parts
    ]


def test_no_file_is_long() -> None:
    by_people = [path for path in EVERY_FILE if "migrations" not in path.parts]  # those Django writes
    lengths = {shown(path): len(path.read_text(encoding="utf-8").splitlines()) for path in by_people}
    assert {path: lines for path, lines in lengths.items() if lines >= MOST_LINES} == {}


def test_no_drawers() -> None:
    names = [path for path in (ROOT / "src").rglob("*") if path.stem.strip("_") in DRAWERS]
    assert [shown(path) for path in names] == []


def test_nothing_is_left_for_later() -> None:
    found = [
        f"{shown(path)}: {word}"
        for path in EVERY_FILE
        for word in LEFT_OVER
        if word in path.read_text(encoding="utf-8")
    ]
    assert found == []


def test_no_machine_paths() -> None:
    found = [
        f"{shown(path)}:{number}"
        for path in tracked()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if MACHINE.search(line)
    ]
    assert found == []


@pytest.mark.parametrize("path", python_files(SOURCE), ids=shown)
def test_what_is_handed_out_is_frozen(path: Path) -> None:
    loose = [
        node.name
        for node in ast.walk(tree(path))
        if isinstance(node, ast.ClassDef) and node.name[0] != "_"
        for mark in node.decorator_list
        if ast.unparse(mark).startswith(("dataclass", "dataclasses.dataclass"))
        and "frozen=True" not in ast.unparse(mark)
    ]
    assert loose == []


def test_documents_are_frozen_and_strict() -> None:
    loose = [
        f"{shown(path)}: {node.name}"
        for path in python_files(SOURCE)
        for node in ast.walk(tree(path))
        if isinstance(node, ast.ClassDef)
        and "BaseModel" in [ast.unparse(parent) for parent in node.bases]
        and not all(word in ast.unparse(node) for word in ("frozen=True", "strict=True", "extra='forbid'"))
    ]
    assert loose == []


def public_functions(path: Path) -> list[ast.FunctionDef]:
    """List the functions a module offers."""
    return [node for node in tree(path).body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"]


@pytest.mark.parametrize("path", [path for path in layer_files("science") if path.name[0] != "_"], ids=shown)
def test_every_formula_shows_an_example_and_its_units(path: Path) -> None:
    functions = public_functions(path)
    texts = {node.name: ast.get_docstring(node) or "" for node in functions}
    measures = [
        node.name for node in functions if "bool" not in ast.unparse(node.returns or ast.Constant(""))
    ]
    assert [name for name, text in texts.items() if ">>>" not in text] == []
    assert [name for name in measures if not UNIT.search(texts[name].partition(">>>")[0])] == []


def test_run_py_needs_the_standard_library_only() -> None:
    names = {
        name.partition(".")[0]
        for node in ast.walk(tree(ROOT / "run.py"))
        for name in (
            [alias.name for alias in node.names]
            if isinstance(node, ast.Import)
            else [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else []
        )
    }
    assert names <= set(sys.stdlib_module_names)


def test_continuous_integration_runs_what_people_run() -> None:
    script = ROOT / ".ci" / "run"
    lines = [line for line in script.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    assert os.access(script, os.X_OK)
    assert lines == ["set -eu", 'cd "$(dirname "$0")/.."', "exec python3 run.py test"]


def test_every_part_is_pinned_without_addresses() -> None:
    text = (ROOT / "constraints.txt").read_text(encoding="utf-8")
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    pinned = set(re.findall(r"^([\w.-]+)==", text, re.MULTILINE))
    assert {re.split(r"[<>=~!\[ ]", part)[0].lower() for part in wanted} <= pinned
    assert not re.search(r"://|^-|@", text, re.MULTILINE)


def test_the_change_log_knows_this_version() -> None:
    version = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert re.search(
        rf"^## {re.escape(version)}\b", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE
    )
