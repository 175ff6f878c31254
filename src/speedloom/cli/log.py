"""`speedloom log`: what was done, read back from filled sheets, and whether a log is usable."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, message, refuse, result
from speedloom.cli._files import refuse_folder, write_all

if TYPE_CHECKING:
    from speedloom.training.log import Log

log_app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Read what was written down on a filled workbook, or check a log against its programme.",
)


@log_app.callback()
def log_group() -> None:
    """Read what was written down on a filled workbook, or check a log against its programme."""


@log_app.command("read")
def log_read_command(
    filled: Annotated[Path, Argument(help="The filled workbook (XLSX or ODS).")],
    *,
    programme: Annotated[Path, Option(help="The programme (JSON) the workbook was written from.")],
    output: Annotated[
        Path, Option("--output", "-o", help="Where the log (JSON) is written; an older one is added to.")
    ],
    by: Annotated[str, Option(help="Who wrote on the sheet.")] = "sheet",
    at: Annotated[
        str | None,
        Option(help="When, with offset: 2026-01-12T20:00:00+01:00. Else each session's day and start."),
    ] = None,
) -> None:
    """Turn the filled week sheets of a workbook into a log. A value nobody expects is kept and marked."""
    refuse_folder(output, read=[filled, programme], made="log")
    moment = _moment(at)
    with faults_in_words():
        from speedloom.exchange.documents import canonical, read_log, read_programme
        from speedloom.exchange.filled_weeks import Writing, read_filled
        from speedloom.exchange.log_file import appended, check_log
        from speedloom.wording.logs import log_text

        plan = read_programme(programme)
        log = read_filled(filled, plan, writing=Writing(by=by, at=moment))
        if output.exists() and output.stat().st_size:
            log = appended(read_log(output), log, file=str(output))
        check_log(log, plan, file=str(output))
        write_all({output: canonical(log).encode()})
    result(log_text(log, programme=plan))
    message(f"Written: {output}")


def _moment(text: str | None) -> datetime | None:
    if text is None:
        return None
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        refuse([f"--at: expected an instant with offset, such as 2026-01-12T20:00:00+01:00, got {text}."])
    return moment


@log_app.command("check")
def log_check_command(
    log: Annotated[Path, Argument(help="The log (JSON).")],
    *,
    programme: Annotated[Path, Option(help="The programme (JSON) it is about.")],
) -> None:
    """Say whether a log is usable: every entry's athlete, session and line are the programme's."""
    with faults_in_words():
        from speedloom.exchange.documents import read_log, read_programme
        from speedloom.exchange.log_file import check_log
        from speedloom.wording.logs import log_text

        plan = read_programme(programme)
        entries: Log = read_log(log)
        check_log(entries, plan, file=str(log))
    result(log_text(entries, programme=plan))
