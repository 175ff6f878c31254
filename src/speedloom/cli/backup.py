"""`speedloom backup`: everything of a data folder in one verified file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from typer import Argument

from speedloom.cli._answer import faults_in_words, result
from speedloom.cli._files import refuse_folder
from speedloom.cli._site import Data


def backup_command(
    file: Annotated[Path, Argument(help="The file to write; an older backup there is replaced.")],
    *,
    data: Data = None,
) -> None:
    """Copy the database, in use or not, to one file; it is verified before it takes its name."""
    refuse_folder(file, made="backup")
    with faults_in_words():
        from speedloom.store.backup import back_up
        from speedloom.store.data_folder import DataFolder, standard_folder

        folder = standard_folder() if data is None else DataFolder(data)
        copied = back_up(folder.database, file)
    result(f"Written and verified: {file}, {copied.total:,} rows, {file.stat().st_size / 1e6:.1f} MB.")
