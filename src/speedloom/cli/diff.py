"""`speedloom diff`: what changed between two programmes, in words."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, result, result_json

WIDTH = 100
"""Characters of a line, at most."""


def diff_command(
    old: Annotated[Path, Argument(help="The earlier programme (JSON).")],
    new: Annotated[Path, Argument(help="The later programme (JSON).")],
    *,
    as_json: Annotated[bool, Option("--json", help="One JSON value instead of sentences.")] = False,
) -> None:
    """Say what changed from one programme to another: sessions moved, added, removed, and lines changed."""
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.wording.books import books_of
        from speedloom.wording.differences import differences_text
        from speedloom.workflows.compare import compare

        earlier, later = read_programme(old), read_programme(new)
        differences = compare(earlier, later)
    if as_json:
        result_json(differences.to_json())
    else:
        catalogue = books_of(later)[1]
        result(differences_text(differences, programme=later, catalogue=catalogue, width=WIDTH))
