"""`speedloom backup`: everything of a site in one verified file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from typer import Argument

from speedloom.cli._answer import faults_in_words, result
from speedloom.cli._files import refuse_folder
from speedloom.cli._site import Data, Database


def backup_command(
    file: Annotated[Path, Argument(help="The file to write; an older backup there is replaced.")],
    *,
    data: Data = None,
    database: Database = None,
) -> None:
    """Copy the database, in use or not, to one file; it is verified before it takes its name."""
    refuse_folder(file, made="dump" if database else "backup")
    with faults_in_words():
        said = _dumped(file, database) if database else _copied(file, data)
    result(f"Written and verified: {file}, {said}{file.stat().st_size / 1e6:.1f} MB.")


def _copied(file: Path, data: Path | None) -> str:
    from speedloom.store.backup import back_up
    from speedloom.store.data_folder import DataFolder, standard_folder

    folder = standard_folder() if data is None else DataFolder(data)
    return f"{back_up(folder.database, file).total:,} rows, "


def _dumped(file: Path, database: str) -> str:
    from speedloom.store.database import postgres_settings
    from speedloom.store.postgres_backup import dump

    dump(postgres_settings(database), file)
    return ""
