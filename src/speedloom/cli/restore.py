"""`speedloom restore`: a backup put back, after a copy of what is there now."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from typer import Argument

from speedloom.cli._answer import faults_in_words, message, result
from speedloom.cli._site import Data, open_site, options


def restore_command(
    file: Annotated[Path, Argument(help="A file that `speedloom backup` made.")],
    *,
    data: Data = None,
) -> None:
    """Put a backup in the place of everything in the data folder: all of it or nothing."""
    with faults_in_words():
        from speedloom.web.site import start

        site = options(data, None)
        start(site)
        from speedloom.store.backup import look_at_backup, put_back
        from speedloom.store.migrating import known_migrations, safety_copy

        found = look_at_backup(file, known=known_migrations())
        if site.folder.database.exists():
            message(f"What is there now is kept in {safety_copy(site.folder, before='restore')}.")
        put_back(file, site.folder.database)
        open_site(site)
    result(f"Put back and verified: {found.total:,} rows from {file}.")
