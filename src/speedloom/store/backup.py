"""Backup and restore by SQLite's own backup API: verified before anybody is told that it worked."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from speedloom.store.database import WAIT_S
from speedloom.store.refusals import RefusedError

HEADER = b"SQLite format 3\x00"
OURS = ("store_squad", "store_person", "django_migrations")


@dataclass(frozen=True)
class Copied:
    """A verified copy: how many rows each table holds."""

    path: Path
    rows: dict[str, int]

    @property
    def total(self) -> int:
        """All rows [count]."""
        return sum(self.rows.values())


def back_up(database: Path, target: Path) -> Copied:
    """Copy a database, in use or not, to one file: whole and verified, or not at all.

    Raises:
        RefusedError: no database there, or one that is damaged.
    """
    with TemporaryDirectory(prefix=".speedloom-", dir=target.parent) as folder:
        aside = Path(folder) / "copy.sqlite3"
        with _opened(database) as source, closing(sqlite3.connect(aside, isolation_level=None)) as copy:
            source.execute("BEGIN")  # the counts and the copy are of one moment, whoever writes meanwhile
            rows = _counts(source)
            source.backup(copy)
            copy.execute("PRAGMA journal_mode=DELETE")
            _verify(copy, rows=rows, name=target)
        _to_disk(aside)
        aside.chmod(0o600)
        aside.replace(target)
    _to_disk(target.parent)
    return Copied(target, rows)


def look_at_backup(path: Path, *, known: frozenset[str]) -> Copied:
    """Look whether a file is a whole backup that this version can read.

    Args:
        path: the file.
        known: the migrations this version has, as `app.name`.

    Raises:
        RefusedError: no backup of ours, damaged, or made by a newer version.
    """
    if not path.is_file() or path.read_bytes()[: len(HEADER)] != HEADER:
        raise RefusedError(f"{path}: expected a file that `speedloom backup` made, got something else.")
    with _opened(path) as backup:
        try:
            rows = _counts(backup)
            if not set(OURS) <= set(rows):
                raise RefusedError(f"{path}: expected a backup of Speedloom, got another program's database.")
            _verify(backup, rows=rows, name=path)
            steps = backup.execute("SELECT app, name FROM django_migrations").fetchall()
        except sqlite3.DatabaseError as error:
            raise RefusedError(f"{path}: expected a whole backup, got a damaged file ({error}).") from error
    newer = sorted({f"{app}.{name}" for app, name in steps} - known)
    if newer:
        raise RefusedError(
            f"{path}: a newer Speedloom made this backup ({newer[-1]}); update Speedloom first."
        )
    return Copied(path, rows)


def put_back(backup: Path, database: Path) -> Copied:
    """Put a backup in the place of a database, in one transaction of its own: all of it or nothing.

    Raises:
        RefusedError: the database is being written to, or what was written is not what was read.
    """
    with _opened(backup) as source, closing(_connect(database, mode="rwc")) as target:
        rows = _counts(source)
        try:
            target.execute("PRAGMA journal_mode=WAL")
            target.execute("PRAGMA synchronous=FULL")
            source.backup(target)
        except sqlite3.OperationalError as error:
            raise RefusedError(f"{database}: {error}; stop the server and try again.") from error
        _verify(target, rows=rows, name=database)
    database.chmod(0o600)
    return Copied(database, rows)


def look_over(database: Path) -> list[str]:
    """Say everything that SQLite finds wrong with a database."""
    with _opened(database) as found:
        try:
            return list(_faults(found))
        except sqlite3.DatabaseError as error:
            return [str(error)]


@contextmanager
def _opened(path: Path) -> Iterator[sqlite3.Connection]:
    if not path.is_file():
        raise RefusedError(f"{path}: expected a database, got no such file.")
    with closing(_connect(path, mode="rw" if os.access(path, os.W_OK) else "ro")) as connection:
        yield connection


def _connect(path: Path, *, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}", uri=True, timeout=WAIT_S, isolation_level=None
    )


def _counts(connection: sqlite3.Connection) -> dict[str, int]:
    tables = [
        name
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
        if not name.startswith("sqlite_")
    ]
    return {
        # Table names come from the database itself and cannot be parameters.
        name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]  # noqa: S608
        for name in tables
    }


def _faults(connection: sqlite3.Connection) -> Iterator[str]:
    yield from (line for (line,) in connection.execute("PRAGMA integrity_check") if line != "ok")
    for table, row, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"row {row} of {table} belongs to a row of {parent} that is not there"


def _verify(connection: sqlite3.Connection, *, rows: dict[str, int], name: Path) -> None:
    faults = list(_faults(connection))
    if faults:
        raise RefusedError(f"{name}: the database is damaged, {len(faults)} faults; the first: {faults[0]}.")
    found = _counts(connection)
    wrong = [table for table in rows if found.get(table) != rows[table]]
    if wrong:
        raise RefusedError(f"{name}: {wrong[0]} holds {found.get(wrong[0])} rows, expected {rows[wrong[0]]}.")


def _to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk."""
    if path.is_dir() and os.name == "nt":
        return  # there a folder cannot be opened, and names are written through
    number = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(number)
    finally:
        os.close(number)
