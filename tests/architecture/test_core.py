"""The core works without the site, and reads no file, clock or chance (HOUSE: layers)."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from house import CORE, WITHOUT_SITE, layer_files, module_name, shown, tree

IMPORT_WITHOUT_DJANGO = """
import importlib, json, sys
sys.modules["django"] = None  # importing it now raises ImportError
for name in json.load(sys.stdin):
    importlib.import_module(name)
print(len([name for name in sys.modules if name.startswith("speedloom")]))
"""

WORLD = {
    "asyncio", "getpass", "glob", "http", "io", "locale", "os", "pathlib", "platform", "random", "secrets",
    "shutil", "socket", "sqlite3", "subprocess", "tempfile", "time", "urllib", "uuid",
}  # fmt: skip
"""Modules that know a file, a clock, a machine or chance."""

CLOCKS = {"now", "today", "utcnow"}
CHANCE = {"default_rng", "RandomState", "rand", "randn", "shuffle", "seed"}
BUILT_IN = {"open", "input", "print", "exec", "eval", "breakpoint"}


def test_imports_without_django() -> None:
    names = [module_name(path) for path in layer_files(*WITHOUT_SITE)]
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_WITHOUT_DJANGO],
        input=json.dumps(names),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) >= len(names)


def imported(node: ast.AST) -> list[str]:
    """Name the top packages that a statement imports."""
    if isinstance(node, ast.Import):
        return [alias.name.partition(".")[0] for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        return [(node.module or "").partition(".")[0]]
    return []


def called(node: ast.AST) -> tuple[str, ast.Call] | None:
    """Give the last part of the name that a call calls."""
    if not isinstance(node, ast.Call):
        return None
    if isinstance(node.func, ast.Attribute):
        return node.func.attr, node
    return (node.func.id, node) if isinstance(node.func, ast.Name) else None


def worldly(path: Path) -> Iterator[str]:
    """Tell every line of a core file that reaches for the world outside its arguments."""
    for node in ast.walk(tree(path)):
        where = f"line {getattr(node, 'lineno', 0)}"
        yield from (f"{where} imports {name}" for name in imported(node) if name in WORLD)
        call = called(node)
        if call is None:
            continue
        name, expression = call
        if name in CLOCKS | CHANCE - {"default_rng"}:
            yield f"{where} calls {name}()"
        if name == "default_rng" and not (expression.args or expression.keywords):
            yield f"{where} draws without a seed"
        if isinstance(expression.func, ast.Name) and name in BUILT_IN:
            yield f"{where} calls {name}()"
        if name in {"read_text", "read_bytes", "write_text", "write_bytes"} and "training" not in path.parts:
            yield f"{where} calls {name}()"


def test_the_core_reads_no_file_clock_or_chance() -> None:
    faults = [f"{shown(path)} {fault}" for path in layer_files(*CORE) for fault in worldly(path)]
    assert faults == []


@pytest.mark.parametrize(
    "line",
    [
        "import os",
        "from pathlib import Path",
        "from time import time",
        "day = date.today()",
        "moment = datetime.now(tz=UTC)",
        "draws = np.random.default_rng()",
        "np.random.seed(1)",
        "text = open('norms.toml').read()",
        "text = files('speedloom').joinpath('norms.toml').read_text()",
    ],
)
def test_the_scan_sees(line: str, tmp_path: Path) -> None:
    path = tmp_path / "module.py"
    path.write_text(line + "\n", encoding="utf-8")
    assert len(list(worldly(path))) == 1


def test_the_scan_lets_seeds_and_dates_pass(tmp_path: Path) -> None:
    path = tmp_path / "module.py"
    path.write_text(
        "from datetime import date, time\nrng = np.random.default_rng(seed)\nd = date(2026, 1, 5)\n"
    )
    assert list(worldly(path)) == []


def test_only_the_vocabulary_opens_packaged_data() -> None:
    openers = [
        shown(path)
        for path in layer_files(*CORE)
        for node in ast.walk(tree(path))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("importlib.resources")
    ]
    assert [path for path in openers if "/training/" not in path] == []
