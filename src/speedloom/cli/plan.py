"""`speedloom plan`: from a brief to a programme, or the clash in words."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import INFEASIBLE, faults_in_words, message, refuse, result
from speedloom.cli._files import refuse_folder, write_all
from speedloom.cli._progress import progress

if TYPE_CHECKING:
    from speedloom.cli._read import Read
    from speedloom.training.programme import Programme


def plan_command(
    brief: Annotated[Path, Argument(help="The brief (TOML); its tests lie beside it.")],
    *,
    output: Annotated[Path, Option("--output", "-o", help="Where the programme (JSON) is written.")],
    table: Annotated[
        bool, Option("--table", help="Print every athlete's progression table as well.")
    ] = False,
) -> None:
    """Plan a programme. Exit code 3 when the wishes clash: the clash is said, and nothing is written."""
    refuse_folder(output, read=[brief])
    with faults_in_words():
        from speedloom.cli._read import read_resolved
        from speedloom.exchange.documents import canonical

        read = read_resolved(brief)
        programme = planned(read)
        said = summary(programme, read=read)
        write_all({output: canonical(programme).encode()})
    result(said)
    if table:
        result("\n" + tables(programme))
    message(f"Written: {output}")


def planned(read: Read) -> Programme:
    """Plan with a progress bar, or end with the clash in words."""
    from speedloom.training.programme import Programme
    from speedloom.wording.clashes import clash_text
    from speedloom.workflows.plan_programme import plan_programme

    with progress("Planning") as report:
        outcome = plan_programme(
            read.brief, rulebook=read.rulebook, catalogue=read.catalogue, progress=report
        )
    if not isinstance(outcome, Programme):
        refuse([clash_text(outcome, brief=read.brief), "Nothing was written."], code=INFEASIBLE)
    return outcome


def summary(programme: Programme, *, read: Read) -> str:
    """Say what was planned, what was assumed, what the check finds and what could not be had."""
    from speedloom.wording.summaries import plan_summary
    from speedloom.workflows.check_programme import check_programme

    with progress("Checking") as report:
        report("every rule and number", 0.0)
        findings = check_programme(
            programme, brief=read.brief, rulebook=read.rulebook, catalogue=read.catalogue
        )
    return plan_summary(programme, findings=findings)


def tables(programme: Programme) -> str:
    """Write every athlete's progression table."""
    from speedloom.training.exercise import load_catalogue
    from speedloom.wording.table import progression_table
    from speedloom.wording.table_text import table_text

    catalogue = load_catalogue()
    return "\n".join(
        table_text(progression_table(programme, own.athlete, catalogue=catalogue))
        for own in programme.programmes
    )
