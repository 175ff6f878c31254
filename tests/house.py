"""Where things stand in the repository, for the tests that look at the code and the docs themselves."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "speedloom"
DOCS = ROOT / "docs"
CORE = ("errors", "science", "training", "planning", "checking", "workflows", "wording")
"""The layers that read no file, no clock and no chance."""
WITHOUT_SITE = (*CORE, "report", "exchange")
"""The layers that must work where Django is not installed."""
SCRIPTS = (ROOT / "run.py", *sorted((ROOT / "benchmarks").glob("*.py")))


def python_files(*folders: Path) -> list[Path]:
    """List the Python files in folders, in order."""
    return sorted(path for folder in folders for path in folder.rglob("*.py"))


def layer_files(*layers: str) -> list[Path]:
    """List the Python files of layers, a layer being a folder or one file."""
    single = [SOURCE / f"{layer}.py" for layer in layers]
    return [path for path in single if path.exists()] + python_files(*(SOURCE / layer for layer in layers))


def module_name(path: Path) -> str:
    """Name the module that a file of the package is."""
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def shown(path: Path) -> str:
    """Spell a path as seen from the top of the repository."""
    return path.relative_to(ROOT).as_posix()


@cache
def tree(path: Path) -> ast.Module:
    """Parse one file, once."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))
