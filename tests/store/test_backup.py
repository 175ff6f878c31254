"""Backup, restore and the tables' updates, on a site of its own in a folder (STACK: trap 5)."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from house import ROOT
from speedloom.store.backup import back_up, look_at_backup, look_over, put_back
from speedloom.store.data_folder import DataFolder
from speedloom.store.refusals import RefusedError

STEPS = frozenset({"store.0001_initial"})


def speedloom(*arguments: object, data: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run a command as a user types it."""
    where = ["--data", str(data)] if data else []
    command = [sys.executable, "-m", "speedloom", *map(str, arguments), *where]
    return subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> DataFolder:
    """A site with a squad in it, made once."""
    folder = DataFolder(tmp_path_factory.mktemp("site") / "data").make()
    code = (
        "import kills, sys; from pathlib import Path; from speedloom.store.data_folder import DataFolder\n"
        "folder = DataFolder(Path(sys.argv[1])); kills.start(kills.SiteOptions(folder))\n"
        "kills.make(folder, print)"
    )
    surroundings = os.environ | {"PYTHONPATH": str(ROOT / "tests")}
    subprocess.run([sys.executable, "-c", code, str(folder.path)], check=True, env=surroundings)
    return folder


@pytest.fixture
def folder(made: DataFolder, tmp_path: Path) -> DataFolder:
    """That site, copied for one test."""
    shutil.copytree(made.path, tmp_path / "data")
    return DataFolder(tmp_path / "data")


def rows(path: Path, table: str) -> int:
    with closing(sqlite3.connect(path)) as database:
        return int(database.execute(f"SELECT count(*) FROM {table}").fetchone()[0])  # noqa: S608


def test_a_backup_is_whole_and_one_file(folder: DataFolder, tmp_path: Path) -> None:
    copied = back_up(folder.database, tmp_path / "copy.sqlite3")
    assert (copied.rows["store_squad"], copied.rows["store_measurement"]) == (1, 2)
    assert look_over(tmp_path / "copy.sqlite3") == []
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copy.sqlite3", "data"]
    assert (tmp_path / "copy.sqlite3").stat().st_mode & 0o077 == 0


def test_a_backup_holds_one_moment_while_others_write(folder: DataFolder, tmp_path: Path) -> None:
    with closing(sqlite3.connect(folder.database)) as writer:
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("UPDATE store_squad SET name = 'Half written'")
        back_up(folder.database, tmp_path / "copy.sqlite3")
        writer.rollback()
    with closing(sqlite3.connect(tmp_path / "copy.sqlite3")) as copy:
        assert copy.execute("SELECT name FROM store_squad").fetchall() == [("Ours",)]


def test_what_is_put_back_is_what_was_copied(folder: DataFolder, tmp_path: Path) -> None:
    back_up(folder.database, tmp_path / "copy.sqlite3")
    put_back(folder.path / "one.sqlite3", folder.database)
    assert rows(folder.database, "store_squad") == 0
    put_back(tmp_path / "copy.sqlite3", folder.database)
    assert (rows(folder.database, "store_squad"), look_over(folder.database)) == (1, [])


def test_what_is_no_backup_is_refused(folder: DataFolder, tmp_path: Path) -> None:
    text, other, torn = (tmp_path / name for name in ("text", "other", "torn"))
    text.write_text("athlete,date\n")
    with closing(sqlite3.connect(other)) as database:
        database.execute("CREATE TABLE music (title)")
    whole = (folder.path / "two.sqlite3").read_bytes()
    torn.write_bytes(whole[:8192] + b"\xff" * 40_000 + whole[48_192:])
    for path, said in ((text, "something else"), (other, "another program"), (torn, "damaged")):
        with pytest.raises(RefusedError, match=said):
            look_at_backup(path, known=STEPS)
    with pytest.raises(RefusedError, match="something else"):
        look_at_backup(tmp_path / "nothing", known=STEPS)


def test_a_backup_by_a_newer_version_is_refused(folder: DataFolder) -> None:
    path = folder.path / "two.sqlite3"
    with closing(sqlite3.connect(path)) as database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('store', '9999_later', '2030-01-01')"
        )
        database.commit()
        known = {f"{app}.{name}" for app, name in database.execute("SELECT app, name FROM django_migrations")}
    with pytest.raises(RefusedError, match="newer Speedloom made this backup"):
        look_at_backup(path, known=frozenset(known) - {"store.9999_later"})


def test_backup_and_restore_as_typed(folder: DataFolder, tmp_path: Path) -> None:
    saturday = tmp_path / "saturday.sqlite3"
    copied = speedloom("backup", saturday, data=folder.path)
    assert copied.returncode == 0, copied.stderr
    assert "Written and verified" in copied.stdout
    assert speedloom("backup", saturday, data=folder.path).returncode == 0  # an older one is replaced
    with closing(sqlite3.connect(folder.database)) as database:
        database.execute("UPDATE store_squad SET name = 'Spoiled'")
        database.commit()
    back = speedloom("restore", saturday, data=folder.path)
    assert back.returncode == 0, back.stderr
    with closing(sqlite3.connect(folder.database)) as database:
        assert database.execute("SELECT name FROM store_squad").fetchall() == [("Ours",)]
    (kept,) = folder.backups.glob("before-restore-*.sqlite3")
    with closing(sqlite3.connect(kept)) as database:
        assert database.execute("SELECT name FROM store_squad").fetchall() == [("Spoiled",)]


def test_a_refused_restore_changes_nothing(folder: DataFolder, tmp_path: Path) -> None:
    before = rows(folder.database, "store_measurement")
    (tmp_path / "text").write_text("athlete,date\n")
    refused = speedloom("restore", tmp_path / "text", data=folder.path)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "expected a file that `speedloom backup` made" in refused.stderr
    assert rows(folder.database, "store_measurement") == before


def test_a_backup_writes_over_nothing_of_another_kind(folder: DataFolder, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("mine")
    assert speedloom("backup", notes, data=folder.path).returncode == 2
    assert notes.read_text() == "mine"


def test_the_doctor_finds_a_good_site_good_and_names_what_is_to_mend(folder: DataFolder) -> None:
    good = speedloom("doctor", "--json", data=folder.path)
    found = {one["what"]: one for one in json.loads(good.stdout)}
    assert {what for what, one in found.items() if not one["good"]} <= {"browser"}
    assert found["rulebook"]["said"].startswith("sha256:")
    assert found["tables"]["said"] == "up to date"
    folder.key_file.chmod(0o644)
    with closing(sqlite3.connect(folder.database)) as database:
        database.execute("PRAGMA foreign_keys = OFF")
        database.execute("UPDATE store_athlete SET squad_id = 999")
        database.commit()
    ill = speedloom("doctor", data=folder.path)
    assert ill.returncode == 1
    assert "MEND  secret key" in ill.stdout
    assert "of store_athlete belongs to a row of store_squad that is not there" in ill.stdout


def test_phones_that_send_at_once_wait_for_each_other_and_store_once(folder: DataFolder) -> None:
    # Four phones with twelve sends of one entry that all have and one of their own.
    command = [sys.executable, str(ROOT / "tests" / "two_phones.py"), str(folder.path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.stdout == "96 confirmed, 60 stored, 60 different\n", done.stderr
