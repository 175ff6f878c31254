"""`speedloom log`: what was done, read from files or noted as written, and whether it is usable."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from typer import Argument, Option

from speedloom.cli import _done
from speedloom.cli._answer import faults_in_words, message, refuse, result
from speedloom.cli._files import refuse_folder, write_all

if TYPE_CHECKING:
    from collections.abc import Collection

    from speedloom.training.log import Log
    from speedloom.training.programme import Programme
    from speedloom.training.rule import RuleChange

ABOUT = "Note what was done, read it from a sheet or a file, or check a log against its programme."
By = Annotated[str, Option(help="Who wrote it down.")]
At = Annotated[
    str | None,
    Option(help="When, with offset: 2026-01-12T20:00:00+01:00. Else each session's day and start."),
]
Output = Annotated[
    Path, Option("--output", "-o", help="Where the log (JSON) is written; an older one is added to.")
]
log_app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help=ABOUT)


@log_app.callback()
def log_group() -> None:
    """Note what was done, read it from a sheet or a file, or check a log against its programme."""


@log_app.command("read")
def log_read_command(
    filled: Annotated[
        Path, Argument(help="The filled workbook (XLSX or ODS), a table of results (CSV), or a log (JSON).")
    ],
    *,
    programme: Annotated[Path, Option(help="The programme (JSON) it is about.")],
    output: Output,
    by: By = "sheet",
    at: At = None,
) -> None:
    """Turn what was filled in into a log. A value nobody expects is kept, marked and asked about."""
    refuse_folder(output, read=[filled, programme], made="log")
    moment = _moment(at)
    with faults_in_words():
        from speedloom.exchange.documents import read_log, read_programme
        from speedloom.exchange.filled_weeks import Writing, read_filled
        from speedloom.exchange.log_table import read_log_csv

        plan = read_programme(programme)
        writing = Writing(by=by, at=moment)
        if filled.suffix.lower() == ".csv":
            draft, own_ids = read_log_csv(filled, plan, writing=writing)
        elif filled.suffix.lower() == ".json":
            draft = read_log(filled)
            own_ids = frozenset(entry.id for entry in draft.entries)
        else:
            draft, own_ids = read_filled(filled, plan, writing=writing), frozenset()
        _added(draft, plan, output, own_ids=own_ids)


@log_app.command("done")
def log_done_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    output: Output,
    session: Annotated[str | None, Option(help="One session, by its ref.")] = None,
    on: Annotated[
        str | None, Option("--date", help="Every session of this day (YYYY-MM-DD), of all or of --athlete.")
    ] = None,
    athlete: Annotated[list[str] | None, Option(help="Of this athlete only; may be given again.")] = None,
    absent: Annotated[
        list[str] | None, Option(help="An athlete who was not there: A or A=illness; may be given again.")
    ] = None,
    other: Annotated[
        list[str] | None,
        Option("--except", help="A line that went otherwise: LINE=STATUS/REASON; may be given again."),
    ] = None,
    by: By = "coach",
    at: At = None,
) -> None:
    """Note sessions as done as written, without times nobody took; what is noted already stays as it is."""
    refuse_folder(output, read=[programme], made="log")
    moment, day = _moment(at), _day(on)
    with faults_in_words():
        from speedloom.exchange.documents import read_log, read_programme
        from speedloom.exchange.zone import zone_of
        from speedloom.workflows.done_as_written import ABSENT_REASONS, LINE_STATUSES, Noted, done_as_written

        plan = read_programme(programme)
        noted = Noted(
            session=session,
            day=day,
            athletes=tuple(athlete or ()),
            absent=_done.absent(absent or (), reasons=ABSENT_REASONS),
            exceptions=_done.exceptions(other or (), statuses=LINE_STATUSES, reasons=ABSENT_REASONS),
            by=by,
            at=moment,
        )
        there = read_log(output) if _has(output) else None
        draft = done_as_written(plan, noted, log=there, zone=zone_of(plan))
        _added(draft, plan, output)


@log_app.command("csv")
def log_csv_command(
    log: Annotated[Path, Argument(help="The log (JSON).")],
    *,
    output: Annotated[Path, Option("--output", "-o", help="Where the table (CSV) is written.")],
) -> None:
    """Write a log as a table, one row a result; `log read` takes it back."""
    refuse_folder(output, read=[log], made="CSV")
    with faults_in_words():
        from speedloom.exchange.documents import read_log
        from speedloom.exchange.log_csv import log_csv

        write_all({output: log_csv(read_log(log))})
    message(f"Written: {output}")


@log_app.command("check")
def log_check_command(
    log: Annotated[Path, Argument(help="The log (JSON).")],
    *,
    programme: Annotated[Path, Option(help="The programme (JSON) it is about.")],
) -> None:
    """Say whether a log is usable: every fault at once, and a question for every unusual value."""
    with faults_in_words():
        from speedloom.exchange.documents import read_log, read_programme
        from speedloom.exchange.log_file import check_log

        plan = read_programme(programme)
        entries: Log = read_log(log)
        check_log(entries, plan, file=str(log))
        said = _said(entries, plan)
    result(said)


def _added(draft: Log, plan: Programme, output: Path, *, own_ids: Collection[str] = ()) -> None:
    """Add a draft to the log on disk: checked, marked, asked about, written whole or not at all."""
    from speedloom.exchange.documents import canonical, read_log
    from speedloom.exchange.log_file import appended, check_log
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.log_questions import with_marks

    there = read_log(output) if _has(output) else draft.model_copy(update={"entries": ()})
    log = appended(there, draft, file=str(output), own_ids=own_ids)
    check_log(log, plan, file=str(output))
    new = {entry.id for entry in log.entries} - {entry.id for entry in there.entries}
    marked = with_marks(log, plan, rulebook=load_rulebook().with_changes(_changes(plan)))
    entries = (
        after if after.id in new else before
        for before, after in zip(log.entries, marked.entries, strict=True)
    )
    log = log.model_copy(update={"entries": tuple(entries)})
    write_all({output: canonical(log).encode()})
    result(_said(log, plan))
    message(f"New entries: {len(new)}", f"Written: {output}")


def _said(log: Log, plan: Programme) -> str:
    from speedloom.training.rule import load_rulebook
    from speedloom.wording.log_questions import questions_text
    from speedloom.wording.logs import log_text
    from speedloom.workflows.log_questions import questions
    from speedloom.workflows.standing_log import standing_log

    book = load_rulebook().with_changes(_changes(plan))
    asked = questions(standing_log(log, plan), rulebook=book)
    return log_text(log, programme=plan) + questions_text(asked, programme=plan, rulebook=book)


def _changes(plan: Programme) -> tuple[RuleChange, ...]:
    return plan.brief.content.rules if plan.brief.content else ()


def _has(path: Path) -> bool:
    return path.exists() and path.stat().st_size > 0


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


def _day(text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        refuse([f"--date: expected a date, YYYY-MM-DD, got {text}."])
