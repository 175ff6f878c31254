"""What the README and the tutorial show runs, in their order, on a folder that holds only the examples."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from house import DOCS, ROOT
from played_season import played
from speedloom.cli import main

PAGES = [ROOT / "README.md", DOCS / "tutorial.md"]
BLOCK = re.compile(r"^```\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def shown(page: Path) -> list[str]:
    """List the lines of a page that call the program, as a reader would copy them."""
    blocks = BLOCK.findall(page.read_text(encoding="utf-8"))
    return [line for block in blocks for line in block.splitlines() if line.startswith("speedloom ")]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_line_of_the_page_runs(
    page: Path,
    tmp_path: Path,
    tmp_path_factory: pytest.TempPathFactory,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    lines = shown(page)
    assert len(lines) >= 5
    wanted = any("season/" in line for line in lines)
    if wanted:
        shutil.copytree(played(tmp_path_factory), tmp_path / "season")
    for line in lines:
        with pytest.raises(SystemExit) as ended:
            main(shlex.split(line, comments=True)[1:])
        assert not ended.value.code, f"{line}\n{capsys.readouterr().err}"
    made = {path.name for path in tmp_path.iterdir()}
    assert made == {"examples", "spring.json", "spring.pdf"} | ({"season"} if wanted else set())
