"""`speedloom plan`: from a brief to a programme, or the clash in words."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import (
    GOOD,
    HARD_FINDINGS,
    INFEASIBLE,
    end,
    faults_in_words,
    message,
    refuse,
    result,
)
from speedloom.cli._files import refuse_folder, write_all
from speedloom.cli._progress import progress

if TYPE_CHECKING:
    from speedloom.checking.finding import Findings
    from speedloom.cli._read import Read
    from speedloom.planning.clash import Clash
    from speedloom.training.programme import Programme


def plan_command(
    brief: Annotated[Path, Argument(help="The brief (TOML); its tests lie beside it.")],
    *,
    output: Annotated[Path, Option("--output", "-o", help="Where the programme (JSON) is written.")],
    table: Annotated[
        bool, Option("--table", help="Print every athlete's progression table as well.")
    ] = False,
    repair: Annotated[
        int | None,
        Option("--repair", min=1, help="Where wishes clash: try the repair of this number, 1 the cheapest."),
    ] = None,
) -> None:
    """Plan a programme. Exit code 3: the wishes clash, in words, nothing written; 1: a finding is hard."""
    refuse_folder(output, read=[brief], made="programme")
    with faults_in_words():
        from speedloom.cli._read import read_resolved
        from speedloom.exchange.documents import canonical

        read, programme = planned(read_resolved(brief), repair=repair)
        findings = checked(programme, read=read)
        said = summary(programme, findings=findings, read=read)
        write_all({output: canonical(programme).encode()})
    result(said)
    if table:
        result("\n" + tables(programme))
    message(f"Written: {output}")
    end(HARD_FINDINGS if findings.hard() else GOOD)


def planned(read: Read, *, repair: int | None = None) -> tuple[Read, Programme]:
    """Plan, or plan with a repair tried; give what was planned from, or end with the clash in words."""
    from speedloom.cli._repairs import clash_lines, repaired
    from speedloom.training.programme import Programme

    outcome = _outcome(read)
    if not isinstance(outcome, Programme) and repair is not None:
        read = repaired(outcome, read=read, number=repair)
        outcome = _outcome(read)
    elif repair is not None:
        message("Nothing clashes: there was no repair to try.")
    if not isinstance(outcome, Programme):
        refuse(clash_lines(outcome, read=read), code=INFEASIBLE)
    return read, outcome


def _outcome(read: Read) -> Programme | Clash:
    from speedloom.workflows.plan_programme import plan_programme

    with progress("Planning") as report:
        return plan_programme(read.brief, rulebook=read.rulebook, catalogue=read.catalogue, progress=report)


def checked(programme: Programme, *, read: Read) -> Findings:
    """Have the independent check look at what was planned."""
    from speedloom.workflows.check_programme import check_programme

    with progress("Checking") as report:
        report("every rule and number", 0.0)
        return check_programme(programme, brief=read.brief, rulebook=read.rulebook, catalogue=read.catalogue)


def summary(programme: Programme, *, findings: Findings, read: Read) -> str:
    """Say what was planned, what was assumed, what could not be had, and what the check finds.

    Hard findings are printed in full: such a programme must be changed before it is used.
    """
    from speedloom.wording.findings import FindingsBook, findings_text
    from speedloom.wording.names import with_own_titles
    from speedloom.wording.summaries import plan_summary

    said = plan_summary(programme, findings=findings, doubts=_doubts(read))
    hard = findings.hard()
    if not hard:
        return said
    catalogue = with_own_titles(read.catalogue, programme)
    book = FindingsBook(rulebook=read.rulebook, catalogue=catalogue, programme=programme)
    return f"{said}\n{findings_text(type(findings)(hard), book=book)}"


def _doubts(read: Read) -> tuple[str, ...]:
    """Say what in the tests can hardly be true; each athlete has the body the brief gives."""
    from speedloom.wording.profiles import doubts
    from speedloom.workflows.profile_athlete import profile_measurements

    brief = read.brief
    return doubts(
        profile_measurements(
            brief.measurements,
            trial_rule=brief.trial,
            rulebook=read.rulebook,
            people={athlete.ref: athlete for athlete in brief.athletes},
        )
    )


def tables(programme: Programme) -> str:
    """Write every athlete's progression table."""
    from speedloom.wording.books import books_of
    from speedloom.wording.table import progression_table
    from speedloom.wording.table_text import table_text

    _, catalogue = books_of(programme)
    return "\n".join(
        table_text(progression_table(programme, own.athlete, catalogue=catalogue))
        for own in programme.programmes
    )
