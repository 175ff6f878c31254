"""Killed at seeded moments, a site has lost nothing that it confirmed (a hundred: benchmarks/kills.py).

Must show: "20 seeded kills during save, import, migration, backup and restore: integrity checks pass, every
id confirmed by a 2xx is there once, nothing half done."
"""

from __future__ import annotations

import re
import subprocess
import sys

from house import ROOT

KILLS = 20


def test_nothing_confirmed_is_lost_and_nothing_is_half_done() -> None:
    command = [sys.executable, str(ROOT / "tests" / "kills.py"), str(KILLS)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    pattern = rf"^{KILLS} kills, 0 with something wrong; confirmed before them: (.*)$"
    said = re.search(pattern, done.stdout, re.MULTILINE)
    assert said, done.stdout
    assert sum(map(int, re.findall(r"\d+", said[1]))) > KILLS, "too little was under way to be killed"
