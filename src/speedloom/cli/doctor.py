"""`speedloom doctor`: is everything there that the site needs?"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Annotated

from typer import Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, result, result_json
from speedloom.cli._site import Data, Database, options

if TYPE_CHECKING:
    from speedloom.web.settings import SiteOptions

OTHERS = 0o077
LOOKED_FOR = ("google-chrome", "chromium", "chromium-browser", "microsoft-edge", "firefox")


@dataclass(frozen=True)
class Found:
    """One thing that was looked at."""

    what: str
    good: bool
    said: str


def doctor_command(
    *,
    data: Data = None,
    database: Database = None,
    as_json: Annotated[
        bool, Option("--json", help="One JSON value: the list of what was looked at.")
    ] = False,
) -> None:
    """Look at data folder, database, browser, fonts, port and rulebook. Exit code 1: something is to mend."""
    with faults_in_words():
        found = list(look(options(data, database)))
    if as_json:
        result_json(json.loads(json.dumps([asdict(one) for one in found])))
    else:
        result("\n".join(f"{'good' if one.good else 'MEND':<5} {one.what:<12} {one.said}" for one in found))
    end(GOOD if all(one.good for one in found) else HARD_FINDINGS)


def look(site: SiteOptions) -> Iterator[Found]:
    """Look at everything the site needs; what cannot even be looked at is a fault too."""
    for what, look_at in _LOOKS.items():
        try:
            good, said = look_at(site)
        except Exception as error:  # noqa: BLE001 - a doctor reports what others would stumble over
            good, said = False, f"{type(error).__name__}: {error}"
        yield Found(what, good, said)


def _version(_: SiteOptions) -> tuple[bool, str]:
    import platform
    import sqlite3
    from importlib.metadata import version

    return True, (
        f"Speedloom {version('speedloom')}, Python {platform.python_version()}, "
        f"Django {version('django')}, SQLite {sqlite3.sqlite_version}"
    )


def _folder(site: SiteOptions) -> tuple[bool, str]:
    import os
    import shutil

    path = site.folder.path
    free = shutil.disk_usage(path).free / 1e9
    if not os.access(path, os.W_OK):
        return False, f"{path} cannot be written to; choose another by --data"
    return free > 1, f"{path}, {free:.0f} GB free"


def _key(site: SiteOptions) -> tuple[bool, str]:
    import os

    site.folder.secret_key()
    mode = site.folder.key_file.stat().st_mode
    if os.name != "nt" and mode & OTHERS:
        return False, f"{site.folder.key_file} can be read by others; chmod 600 it"
    return True, "readable by this account only"


def _database(site: SiteOptions) -> tuple[bool, str]:
    from speedloom.web.site import start

    start(site)
    if site.database_url:
        from django.db import connection

        connection.ensure_connection()
        return True, f"PostgreSQL {connection.vendor} answers"
    if not site.folder.database.exists():
        return True, "none yet; `speedloom serve` makes it"
    from speedloom.store.backup import look_over

    faults = look_over(site.folder.database)
    size = site.folder.database.stat().st_size / 1e6
    return not faults, faults[0] if faults else f"SQLite, whole, {size:.1f} MB"


def _migrations(site: SiteOptions) -> tuple[bool, str]:
    from speedloom.web.site import start

    start(site)
    if not site.database_url and not site.folder.database.exists():
        return True, "none to take yet"
    from speedloom.store.migrating import waiting_migrations

    waiting = waiting_migrations()
    return not waiting, f"{len(waiting)} wait; `speedloom serve` takes them" if waiting else "up to date"


def _backups(site: SiteOptions) -> tuple[bool, str]:
    there = sorted(site.folder.backups.glob("before-*"))
    last = f", the last {there[-1].name}" if there else ""
    return True, f"{len(there)} safety copies in the data folder{last}; your own are where you put them"


def _browser(_: SiteOptions) -> tuple[bool, str]:
    import shutil
    import webbrowser

    try:
        return True, webbrowser.get().__class__.__name__
    except webbrowser.Error:
        found = next((name for name in LOOKED_FOR if shutil.which(name)), None)
        return found is not None, found or "none found; copy the printed link into one on this computer"


def _fonts(_: SiteOptions) -> tuple[bool, str]:
    from importlib.resources import files

    there = [one.name for one in files("font_source_sans_pro").joinpath("files").iterdir()]
    good = any("Regular" in name for name in there)
    return good, f"Source Sans, {len(there)} files" if good else "Source Sans is not there; install again"


def _port(_: SiteOptions) -> tuple[bool, str]:
    import socket

    from speedloom.web.serving import LOOPBACK, USUAL_PORT

    with socket.socket() as trial:
        if trial.connect_ex((LOOPBACK, USUAL_PORT)) == 0:
            return True, f"{USUAL_PORT} is in use (by this site?); another is taken then"
    return True, f"{USUAL_PORT} is free"


def _rulebook(_: SiteOptions) -> tuple[bool, str]:
    from speedloom.training.rule import load_rulebook

    return True, load_rulebook().digest


_LOOKS: dict[str, Callable[[SiteOptions], tuple[bool, str]]] = {
    "versions": _version,
    "data folder": _folder,
    "secret key": _key,
    "database": _database,
    "tables": _migrations,
    "backups": _backups,
    "browser": _browser,
    "fonts": _fonts,
    "port": _port,
    "rulebook": _rulebook,
}
