"""The documents that the outside checks look at, made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from house import ROOT
from outside_run import run
from played_season import played


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder of the played season: six athletes, five revisions, logs and the retest."""
    return played(tmp_path_factory)


@pytest.fixture(scope="session")
def block(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a small programme: one sprinter, six weeks."""
    path = tmp_path_factory.mktemp("outside") / "block.json"
    assert run("plan", ROOT / "examples" / "short_block.toml", "-o", path).code == 0
    return path
