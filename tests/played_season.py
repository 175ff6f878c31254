"""The season of docs/season.py, played once for all who look at it, whatever process they are in."""

from __future__ import annotations

import os
import runpy
import time
from pathlib import Path

import pytest

from house import ROOT

LONGEST_S = 600.0


def played(factory: pytest.TempPathFactory) -> Path:
    """Give the folder of the played season; whoever comes first plays it, the others wait."""
    own = factory.getbasetemp()
    # Under xdist every worker has a folder of its own inside that of the run.
    run = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    shared = run / "season-of-this-run"
    folder, done = shared / "season", shared / "done"
    try:
        shared.mkdir()
    except FileExistsError:
        ends = time.monotonic() + LONGEST_S
        while not done.exists():
            assert time.monotonic() < ends, "the season is not played: look at the first test that wanted it"
            time.sleep(0.5)
        return folder
    story = runpy.run_path(str(ROOT / "docs" / "season.py"))["play"](folder)
    assert set(story.codes) == {0}
    done.touch()
    return folder
