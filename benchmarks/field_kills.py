"""A phone and its site killed at a hundred seeded moments while results are typed. Wanted: 0 lost or doubled.

`.venv/bin/python benchmarks/field_kills.py [KILLS] [SEED]`
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from run import installed_browser

from field_kills import main

if __name__ == "__main__":
    kills, seed = [*map(int, sys.argv[1:3]), *(100, 0)[len(sys.argv) - 1 :]][:2]
    browser = installed_browser()
    if browser is None:
        sys.exit("no Chromium, Chrome or Edge is here")
    sys.exit(bool(main(kills, browser, seed=seed)))
