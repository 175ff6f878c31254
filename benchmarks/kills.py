"""A site killed at a hundred seeded moments: saves, imports, migrations, backups, restores. Wanted: 0 wrong.

`.venv/bin/python benchmarks/kills.py [KILLS] [SEED]`
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from kills import main

if __name__ == "__main__":
    kills, seed = [*map(int, sys.argv[1:3]), *(100, 0)[len(sys.argv) - 1 :]][:2]
    sys.exit(bool(main(kills, seed=seed)))
