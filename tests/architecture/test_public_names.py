"""What the package offers to an analyst is a list that changes on purpose only (HOUSE: habit 9).

After a wanted change: `PYTHONPATH=tests python tests/architecture/test_public_names.py`; read the difference.
"""

from __future__ import annotations

import ast
from pathlib import Path

from house import layer_files, module_name, tree

LIST = Path(__file__).with_name("public_names.txt")
OFFERED = ("errors", "science", "training", "workflows")


def names(path: Path) -> list[str]:
    """List the functions and classes a module defines for others."""
    kinds = (ast.FunctionDef, ast.ClassDef)
    return sorted(node.name for node in tree(path).body if isinstance(node, kinds) and node.name[0] != "_")


def offered() -> str:
    """Write a line for each public function and class of the public modules."""
    modules = {module_name(path): path for path in layer_files(*OFFERED)}
    public = {name: path for name, path in modules.items() if "._" not in name}
    return "".join(f"{module}.{name}\n" for module, path in sorted(public.items()) for name in names(path))


def test_the_public_names_are_those_listed() -> None:
    assert offered().splitlines() == LIST.read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    LIST.write_text(offered(), encoding="utf-8")
