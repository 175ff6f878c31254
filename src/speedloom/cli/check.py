"""`speedloom check`: findings of an independent look at a programme."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, message, refuse, result

if TYPE_CHECKING:
    from speedloom.training.brief import ResolvedBrief
    from speedloom.training.programme import Programme


def check_command(
    programme: Annotated[
        Path, Argument(help="The programme (JSON), or one made by hand: a table of lines (CSV, XLSX, ODS).")
    ],
    *,
    brief: Annotated[
        Path | None, Option(help="Check against this brief (TOML) instead of the one in the programme.")
    ] = None,
    original: Annotated[
        Path | None,
        Option(
            help="The programme (JSON) a table of lines was written from: what was not changed keeps its "
            "derivation, weeks and brief."
        ),
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value: the list of findings.")] = False,
) -> None:
    """Check a programme against the rulebook and recompute its numbers. Exit code 1: a finding is hard."""
    with faults_in_words():
        from speedloom.cli._read import read_resolved
        from speedloom.training.exercise import load_catalogue
        from speedloom.training.rule import load_rulebook
        from speedloom.wording.findings import FindingsBook, findings_text
        from speedloom.wording.names import with_own_titles
        from speedloom.wording.summaries import past_words
        from speedloom.workflows.check_programme import check_programme

        named = read_resolved(brief).brief if brief else None
        document = _read_back(programme, original) if original else _read(programme, brief=named)
        resolved = named or document.brief.content
        rulebook = load_rulebook().with_changes(resolved.rules if resolved else ())
        findings = check_programme(document, brief=resolved, rulebook=rulebook, catalogue=load_catalogue())
    catalogue = with_own_titles(load_catalogue(), document)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=document)
    if not as_json:
        message(*past_words(document))
    result(findings.to_json() if as_json else findings_text(findings, book=book))
    end(HARD_FINDINGS if findings.hard() else GOOD)


def _read_back(path: Path, original: Path) -> Programme:
    """Read a table of lines back into the programme it was written from."""
    from speedloom.exchange.documents import read_programme
    from speedloom.exchange.hand_made import HAND_MADE
    from speedloom.exchange.lines_back import read_lines_back
    from speedloom.training.exercise import load_catalogue

    if path.suffix.lower() not in HAND_MADE:
        refuse([f"{path}: expected a table of lines (CSV, XLSX, ODS) beside --original, got {path.suffix}."])
    return read_lines_back(path, read_programme(original), catalogue=load_catalogue())


def _read(path: Path, *, brief: ResolvedBrief | None) -> Programme:
    """Read a programme, or one that a person wrote down line by line."""
    from speedloom.exchange.documents import read_programme
    from speedloom.exchange.hand_made import HAND_MADE, Frame, read_hand_made
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.rule import load_rulebook

    if path.suffix.lower() not in HAND_MADE:
        return read_programme(path)
    frame = Frame()
    if brief is not None:
        own = {line.exercise for line in brief.own_lines} | {one.ref for one in brief.catalogue}
        frame = Frame(brief.timezone, brief.start, frozenset(own))
    return read_hand_made(path, rulebook=load_rulebook(), catalogue=load_catalogue(), frame=frame)
