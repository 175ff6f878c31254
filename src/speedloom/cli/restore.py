"""`speedloom restore`: a backup put back, after a copy of what is there now."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument

from speedloom.cli._answer import faults_in_words, message, result
from speedloom.cli._site import Data, Database, open_site, options

if TYPE_CHECKING:
    from speedloom.web.settings import SiteOptions


def restore_command(
    file: Annotated[Path, Argument(help="A file that `speedloom backup` made.")],
    *,
    data: Data = None,
    database: Database = None,
) -> None:
    """Put a backup in the place of everything on the site: all of it or nothing."""
    with faults_in_words():
        from speedloom.web.site import start

        site = options(data, database)
        start(site)
        if database:
            _from_dump(file, site)
        else:
            _from_copy(file, site)
        open_site(site)
    result(f"Put back and verified: {file}.")


def _from_copy(file: Path, site: SiteOptions) -> None:
    from speedloom.store.backup import look_at_backup, put_back
    from speedloom.store.migrating import known_migrations, safety_copy

    look_at_backup(file, known=known_migrations())
    if site.folder.database.exists():
        _say(safety_copy(site.folder, before="restore"))
    put_back(file, site.folder.database)


def _from_dump(file: Path, site: SiteOptions) -> None:
    from speedloom.store.migrating import known_migrations, safety_name
    from speedloom.store.postgres_backup import dump, look_at_dump, put_dump_back

    look_at_dump(file, known=known_migrations())
    _say(dump(site.database, safety_name(site.folder, before="restore", ending="pgdump")))
    put_dump_back(file, site.database)


def _say(kept: Path) -> None:
    message(f"What is there now is kept in {kept}.")
