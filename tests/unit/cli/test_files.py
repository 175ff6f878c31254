"""Several files are written all or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from house import ROOT
from speedloom.cli._files import write_all
from speedloom.exchange.fault import UnusableFileError

EXAMPLES = ROOT / "examples"
Ask = Callable[..., Any]


def test_all_are_written_and_nothing_else_stays(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old")
    write_all({tmp_path / "a": b"new", tmp_path / "b": b"other"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"new", "b": b"other"}


def test_a_failure_leaves_the_others_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old")
    with pytest.raises(
        UnusableFileError, match="expected a place to write to, got File name too long; choose"
    ):
        write_all({tmp_path / "a": b"new", tmp_path / ("n" * 300): b"other"})
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("a", "old")]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_all({tmp_path / "link": b"new"})
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"new"


def test_a_brief_is_never_written_over(ask: Ask, tmp_path: Path) -> None:
    text = (EXAMPLES / "short_block.toml").read_text(encoding="utf-8")
    brief = tmp_path / "mine.toml"
    brief.write_text(text, encoding="utf-8")
    for name in ("mine.toml", "tests.csv"):
        answer = ask("plan", brief, "-o", tmp_path / name)
        assert answer.code == 2
        assert "choose another name" in answer.err
    assert brief.read_text(encoding="utf-8") == text
    assert [one.name for one in tmp_path.iterdir()] == ["mine.toml"]


def test_a_handout_replaces_neither_its_programme_nor_its_twin(ask: Ask, small: Path) -> None:
    before = small.read_bytes()
    over = ask("handout", small, "--pdf", small)
    assert (over.code, "got the one that is read" in over.err) == (2, True)
    twice = ask("handout", small, "--pdf", small.parent / "one", "--svg", small.parent / "one")
    assert (twice.code, "two names for two files" in twice.err) == (2, True)
    assert small.read_bytes() == before
    assert [one.name for one in small.parent.iterdir()] == [small.name]


def test_a_device_or_pipe_is_left_alone(ask: Ask, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    answer = ask("plan", EXAMPLES / "short_block.toml", "-o", tmp_path / "pipe")
    assert (answer.code, "got a device or a pipe" in answer.err) == (2, True)
    assert (tmp_path / "pipe").is_fifo()


@pytest.mark.parametrize(
    ("option", "name", "there"),
    [
        ("--pdf", "sheet.pdf", b"my own notes"),
        ("--pdf", "sheet.pdf", b'{"schema": "speedloom.programme/1"}'),
        ("--svg", "weave.svg", b"%PDF-1.7"),
    ],
)
def test_a_handout_never_replaces_a_file_of_another_kind(
    option: str, name: str, there: bytes, ask: Ask, small: Path
) -> None:
    path = small.parent / name
    path.write_bytes(there)
    answer = ask("handout", small, option, path)
    assert (answer.code, "got a file of another kind" in answer.err) == (2, True)
    assert path.read_bytes() == there


def test_a_programme_replaces_only_a_programme(ask: Ask, tmp_path: Path) -> None:
    # Through a link as well: the brief behind it stays.
    brief, path = tmp_path / "brief.toml", tmp_path / "programme.json"
    brief.write_bytes((EXAMPLES / "short_block.toml").read_bytes())
    path.symlink_to(brief)
    answer = ask("plan", brief, "-o", path)
    assert (answer.code, "got the one that is read" in answer.err) == (2, True)
    path.unlink()
    path.write_text('{"season": "my own notes"}', encoding="utf-8")
    answer = ask("plan", brief, "-o", path)
    assert (answer.code, "an older programme to replace" in answer.err) == (2, True)
    assert path.read_text(encoding="utf-8") == '{"season": "my own notes"}'


def test_an_older_sheet_is_replaced(ask: Ask, small: Path) -> None:
    path = small.parent / "weave.svg"
    assert [ask("handout", small, "--svg", path).code for _ in range(2)] == [0, 0]
