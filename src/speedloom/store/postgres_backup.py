"""Backup and restore of a PostgreSQL database by its own programs, each whole or not at all."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from speedloom.store.refusals import RefusedError

HEADER = b"PGDMP"
_STEP = re.compile(r"^\d+\t(\w+)\t(\w+)\t", re.MULTILINE)


def dump(settings: dict[str, Any], target: Path) -> Path:
    """Copy a database to one file, in use or not; the file is read to its end before it takes its name.

    Args:
        settings: Django's settings of the database.
        target: the file.

    Raises:
        RefusedError: PostgreSQL's programs are missing, or say no.
    """
    with TemporaryDirectory(prefix=".speedloom-", dir=target.parent) as folder:
        aside = Path(folder) / "copy.pgdump"
        _run(
            "pg_dump",
            "--format=custom",
            "--no-owner",
            "--no-privileges",
            f"--file={aside}",
            settings=settings,
        )
        _run("pg_restore", f"--file={os.devnull}", str(aside))
        aside.chmod(0o600)
        aside.replace(target)
    return target


def look_at_dump(path: Path, *, known: frozenset[str]) -> Path:
    """Look whether a file is a whole dump of ours that this version can read.

    Raises:
        RefusedError: something else, damaged, or made by a newer version.
    """
    if not path.is_file() or path.read_bytes()[: len(HEADER)] != HEADER:
        raise RefusedError(f"{path}: expected a file that `speedloom backup` made of PostgreSQL.")
    _run("pg_restore", f"--file={os.devnull}", str(path))
    text = _run("pg_restore", "--data-only", "--table=django_migrations", "--file=-", str(path))
    taken = {f"{app}.{name}" for app, name in _STEP.findall(text)}
    if not any(step.startswith("store.") for step in taken):
        raise RefusedError(f"{path}: expected a backup of Speedloom, got another program's database.")
    newer = sorted(taken - known)
    if newer:
        raise RefusedError(f"{path}: a newer Speedloom made this backup ({newer[-1]}); update this one.")
    return path


def put_dump_back(path: Path, settings: dict[str, Any]) -> None:
    """Put a dump in the place of everything in a database, in one transaction."""
    whole = (
        "--clean",
        "--if-exists",
        "--single-transaction",
        "--exit-on-error",
        "--no-owner",
        "--no-privileges",
    )
    _run("pg_restore", *whole, f"--dbname={settings['NAME']}", str(path), settings=settings)


def _run(program: str, *arguments: str, settings: dict[str, Any] | None = None) -> str:
    found = shutil.which(program)
    if found is None:
        raise RefusedError(f"{program} is not on this computer; install PostgreSQL's own client programs.")
    done = subprocess.run(  # noqa: S603 - PostgreSQL's own program, found by name
        [found, *arguments], env=_surroundings(settings or {}), capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise RefusedError(f"{program}: {done.stderr.strip() or 'it failed without a word'}")
    return done.stdout


def _surroundings(settings: dict[str, Any]) -> dict[str, str]:
    """Say where the database is by variables: a password does not belong in a list of running programs."""
    names = {
        "PGDATABASE": "NAME",
        "PGUSER": "USER",
        "PGPASSWORD": "PASSWORD",
        "PGHOST": "HOST",
        "PGPORT": "PORT",
    }
    return os.environ | {name: settings[key] for name, key in names.items() if settings.get(key)}
