"""What the pages on comparing and on reading files show runs, and says what they say it does."""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from house import DOCS, ROOT
from played_season import played
from speedloom.cli import main

PAGES = ("compare-two-programmes", "read-the-files")
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a folder with the season, the examples, and an example with longer sessions."""
    shutil.copytree(played(tmp_path_factory), tmp_path / "season")
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    short = (tmp_path / "examples/short_block.toml").read_text(encoding="utf-8")
    assert "minutes = 75" in short
    longer = tmp_path / "examples/short_block_longer.toml"
    longer.write_text(short.replace("minutes = 75", "minutes = 90"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def answers(page: str, capsys: pytest.CaptureFixture[str]) -> Iterator[tuple[str, str]]:
    """Run the blocks of a page in order; give each shown answer with what came out."""
    out = ""
    for kind, block in BLOCK.findall((DOCS / "how-to" / f"{page}.md").read_text(encoding="utf-8")):
        if kind == "text":
            yield block, out
            continue
        capsys.readouterr()
        if kind == "python":
            exec(compile(block, page, "exec"), {})  # noqa: S102 (it is our own page)
        for line in block.splitlines() if not kind else ():
            with pytest.raises(SystemExit) as ended:
                main(shlex.split(line)[1:])
            assert not ended.value.code, line
        out = capsys.readouterr().out
        if "--json" in block:
            Path("changes.json").write_text(out, encoding="utf-8")


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.usefixtures("folder")
def test_what_is_shown_is_what_comes_out(page: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = list(answers(page, capsys))
    assert found
    for shown, came in found:
        assert [line for line in shown.splitlines() if line not in came.splitlines()] == []
