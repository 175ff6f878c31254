"""What is worked out stands once: no two functions of the core do the same under two names.

Checking counts by its own code on purpose, so it is held apart from planning and the workflows.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator

import pytest

from house import layer_files, module_name, tree

SMALL = 250
"""Characters of a body's tree under which two functions may be alike: a property, a call passed on."""


def functions(*layers: str) -> Iterator[tuple[str, str]]:
    """Give every function of some layers as its body, without words about it, and its name."""
    for path in layer_files(*layers):
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.FunctionDef):
                body = node.body[1:] if ast.get_docstring(node) else node.body
                yield ast.dump(ast.Module(body, [])), f"{module_name(path)}.{node.name}"


@pytest.mark.parametrize("layers", [("planning", "workflows"), ("checking",), ("science",)])
def test_no_two_functions_do_the_same(layers: tuple[str, ...]) -> None:
    found: dict[str, list[str]] = defaultdict(list)
    for body, name in functions(*layers):
        found[body].append(name)
    assert len(found) > len(layers)
    assert [names for body, names in found.items() if len(names) > 1 and len(body) > SMALL] == []
