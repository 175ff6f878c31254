"""Backup and restore of PostgreSQL by its own programs, where the tests run on PostgreSQL (postgres.py)."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from speedloom.store.postgres_backup import dump, look_at_dump
from speedloom.store.refusals import RefusedError

URL = os.environ.get("SPEEDLOOM_TEST_DATABASE", "")
MADE = """
import sys; from pathlib import Path
from speedloom.cli._site import open_site, options
open_site(options(Path(sys.argv[1]), sys.argv[2]))
from invented_squads import one_squad
one_squad()
"""
COUNT = """
import sys; from pathlib import Path
from speedloom.cli._site import open_site, options
open_site(options(Path(sys.argv[1]), sys.argv[2]))
from speedloom.store.models import Squad
print(*Squad.objects.values_list("name", flat=True))
if len(sys.argv) > 3:
    Squad.objects.update(name=sys.argv[3])
"""


def python(code: str, *arguments: object) -> str:
    """Run a piece of Python on a site of its own."""
    surroundings = os.environ | {"PYTHONPATH": str(Path(__file__).parent.parent)}
    command = [sys.executable, "-c", code, *map(str, arguments)]
    return subprocess.run(command, env=surroundings, capture_output=True, text=True, check=True).stdout


def speedloom(*arguments: object) -> subprocess.CompletedProcess[str]:
    """Run a command as a user types it."""
    command = [sys.executable, "-m", "speedloom", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_what_is_no_dump_is_refused(tmp_path: Path) -> None:
    (tmp_path / "text").write_text("athlete,date\n")
    with pytest.raises(RefusedError, match="expected a file that `speedloom backup` made"):
        look_at_dump(tmp_path / "text", known=frozenset())


def test_a_database_that_does_not_answer_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="pg_dump"):
        dump({"NAME": "none", "HOST": str(tmp_path)}, tmp_path / "copy")
    assert list(tmp_path.iterdir()) == []


def test_backup_and_restore_as_typed(tmp_path: Path) -> None:
    if not URL:
        assert not URL.startswith("postgresql"), "SQLite has its own way: test_backup.py"
        return
    where, saturday = ("--data", tmp_path / "data", "--database", URL), tmp_path / "saturday.pgdump"
    python(MADE, tmp_path / "data", URL)
    copied = speedloom("backup", saturday, *where)
    assert copied.returncode == 0, copied.stderr
    assert python(COUNT, tmp_path / "data", URL, "Spoiled") == "Ours\n"
    (tmp_path / "torn").write_bytes(saturday.read_bytes()[:-2000])
    torn = speedloom("restore", tmp_path / "torn", *where)
    assert (torn.returncode, torn.stdout) == (2, "")
    assert python(COUNT, tmp_path / "data", URL) == "Spoiled\n"
    back = speedloom("restore", saturday, *where)
    assert back.returncode == 0, back.stderr
    assert python(COUNT, tmp_path / "data", URL) == "Ours\n"
    assert len(list((tmp_path / "data" / "backups").glob("before-restore-*.pgdump"))) == 1
