"""`speedloom check`: findings of an independent look at a programme."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from typer import Argument, Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, result


def check_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    brief: Annotated[
        Path | None, Option(help="Check against this brief (TOML) instead of the one in the programme.")
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value: the list of findings.")] = False,
) -> None:
    """Check a programme against the rulebook and recompute its numbers. Exit code 1: a finding is hard."""
    with faults_in_words():
        from speedloom.cli._read import read_resolved
        from speedloom.exchange.documents import read_programme
        from speedloom.training.exercise import load_catalogue
        from speedloom.training.rule import load_rulebook
        from speedloom.wording.findings import FindingsBook, findings_text
        from speedloom.workflows.check_programme import check_programme

        document = read_programme(programme)
        resolved = read_resolved(brief).brief if brief else document.brief.content
        rulebook = load_rulebook().with_changes(resolved.rules if resolved else ())
        findings = check_programme(document, brief=resolved, rulebook=rulebook, catalogue=load_catalogue())
    book = FindingsBook(rulebook=rulebook, catalogue=load_catalogue(), programme=document)
    result(findings.to_json() if as_json else findings_text(findings, book=book))
    end(HARD_FINDINGS if findings.hard() else GOOD)
