"""The page about changes by hand: its lines run, each making the next revision (HOUSE: habit 11)."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from house import DOCS, ROOT
from speedloom.cli import main

BLOCK = re.compile(r"^```\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PAGE = (DOCS / "how-to" / "change-by-hand.md").read_text(encoding="utf-8")


def test_every_line_of_the_page_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    lines = [line for block in BLOCK.findall(PAGE) for line in block.splitlines()]
    for line in lines:
        with pytest.raises(SystemExit) as ended:
            main(shlex.split(line)[1:])
        assert not ended.value.code, f"{line}\n{capsys.readouterr().err}"
    revisions = {
        number: json.loads((tmp_path / f"block{number}.json").read_text(encoding="utf-8"))["revision"]
        for number in ("", *map(str, range(2, 14)))
    }
    numbers = [one["number"] for one in revisions.values()]
    assert numbers == [*range(1, 8), *range(7, 13)]  # the undo and the swap both follow the sixth
    causes = [one["cause"] for one in revisions.values()]
    assert causes == ["plan", *["edit"] * 5, "restore", *["edit"] * 6]
