"""Must show: every broken file gives every fault in words, exit 2, no traceback, no file."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from house import ROOT

BAD = sorted(path for path in (ROOT / "examples" / "bad").iterdir() if path.is_file())
FAULT_LINE = re.compile(r": expected .+")


def command(path: Path, written: Path) -> list[object]:
    """Choose the command a broken file is for."""
    if path.suffix == ".toml":
        return ["plan", path, "-o", written]
    return ["check", path] if path.suffix == ".json" else ["profile", path]


def test_there_are_at_least_fifteen() -> None:
    assert len(BAD) >= 15


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name)
def test_every_fault_in_words(path: Path, ask: Callable[..., Any], tmp_path: Path) -> None:
    answer = ask(*command(path, tmp_path / "programme.json"))
    *faults, last = answer.err.splitlines()
    assert (answer.code, answer.out) == (2, "")
    assert faults
    assert all(FAULT_LINE.search(fault) for fault in faults)
    assert last.startswith(f"{len(faults)} fault{'s' * (len(faults) > 1)} in ")
    assert "Traceback" not in answer.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["plan", "check", "profile", "why", "diff", "handout"])
@pytest.mark.parametrize("kind", ["missing", "folder", "binary", "empty"])
def test_what_is_no_such_file_is_said(name: str, kind: str, ask: Callable[..., Any], tmp_path: Path) -> None:
    path = tmp_path / "thing"
    if kind == "folder":
        path.mkdir()
    elif kind == "binary":
        path.write_bytes(b"\x00\xff\xfe\x81" * 50)
    elif kind == "empty":
        path.write_bytes(b"")
    rest = {
        "plan": ["-o", tmp_path / "out.json"],
        "why": ["mila-2.load_kg"],
        "diff": [path],
        "handout": ["--pdf", tmp_path / "out.pdf"],
    }
    answer = ask(name, path, *rest.get(name, []))
    assert (answer.code, answer.out) == (2, "")
    assert "expected" in answer.err
    assert "Traceback" not in answer.err
    assert not (tmp_path / "out.json").exists()
    assert not (tmp_path / "out.pdf").exists()


@pytest.mark.parametrize("target", ["no_such_folder/p.json", "."])
def test_a_place_that_cannot_be_written_is_said_before_any_work(
    target: str, ask: Callable[..., Any], tmp_path: Path
) -> None:
    answer = ask("plan", ROOT / "examples" / "short_block.toml", "-o", tmp_path / target)
    assert (answer.code, answer.out) == (2, "")
    assert "expected" in answer.err
