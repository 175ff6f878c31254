"""Several files are written all or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from speedloom.cli._files import write_all


def test_all_are_written_and_nothing_else_stays(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old")
    write_all({tmp_path / "a": b"new", tmp_path / "b": b"other"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"new", "b": b"other"}


def test_a_failure_leaves_the_others_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old")
    with pytest.raises(OSError, match="too long"):
        write_all({tmp_path / "a": b"new", tmp_path / ("n" * 300): b"other"})
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("a", "old")]
