"""Tests that can fail, on our own code and not on pictures of it (HOUSE: habits 10 and 14)."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from house import ROOT, python_files, shown, tree

TESTS = ROOT / "tests"
MARKS = ("read", "second-hand", "memory", "common practice", "recomputed")
FILES = [path for path in python_files(TESTS) if path.name.startswith("test_")]


def can_fail(function: ast.AST) -> bool:
    """Say whether a test holds an assertion, its own or that of a function named for one."""
    for node in ast.walk(function):
        if isinstance(node, ast.Assert):
            return True
        if isinstance(node, ast.Call):
            name = ast.unparse(node.func).rpartition(".")[2]
            if name in {"raises", "warns", "fail"} or name.startswith(("assert_", "check_", "expect")):
                return True
    return False


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_every_test_can_fail(path: Path) -> None:
    blind = [
        node.name
        for node in ast.walk(tree(path))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and not can_fail(node)
    ]
    assert blind == []


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_our_own_code_is_never_mocked(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "unittest" + ".mock" not in text
    assert "setattr(" + '"speedloom' not in text
    assert "setattr(" + "speedloom" not in text


@pytest.mark.parametrize("path", [path for path in FILES if "reference" in path.parts], ids=shown)
def test_every_reference_names_its_mark(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert any(mark in text for mark in MARKS)
