"""Twenty seeded kills of site and browser during logging: nothing confirmed is lost."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

from house import ROOT

KILLS = 20


def test_twenty_kills_lose_and_double_nothing(browser_type_launch_args: dict[str, Any]) -> None:
    # In a process of its own: the browser of the other tests has this one's only loop.
    command = [sys.executable, str(ROOT / "tests" / "field_kills.py"), str(KILLS)]
    command += [browser_type_launch_args["executable_path"], "7"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr[-2000:]
    assert f"{KILLS} kills" in done.stdout
    assert "0 lost or doubled" in done.stdout
    assert int(done.stdout.split(" results saved")[0].split()[-1]) > KILLS, "hardly anything was typed"
