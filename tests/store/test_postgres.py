"""SQLite and PostgreSQL pass the same tests (must show); where there is no PostgreSQL that half is not run.

On a machine that tests changes (`CI` is set) it must be there.
"""

from __future__ import annotations

import os
import subprocess
import sys

import postgres
from house import ROOT


def test_postgresql_passes_the_same_tests() -> None:
    if postgres.programs() is None:
        sys.stderr.write("No PostgreSQL on this computer: its half of the tests was not run.\n")
        assert not os.environ.get("CI"), "install postgresql where changes are tested"
        return
    command = [sys.executable, str(ROOT / "tests" / "postgres.py")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-1000:]
