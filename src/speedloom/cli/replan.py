"""`speedloom replan`: plan again what is left, with the fewest changes, said before they are accepted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
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
    result_json,
)
from speedloom.cli._files import refuse_folder, write_all
from speedloom.cli._progress import progress

if TYPE_CHECKING:
    from collections.abc import Mapping

    from speedloom.checking.finding import Findings
    from speedloom.planning.clash import Clash
    from speedloom.training.brief import ResolvedBrief
    from speedloom.training.programme import Programme

REASON = "Planned again"


def replan_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    since: Annotated[
        datetime,
        Option("--from", formats=["%Y-%m-%d"], help="First day that may change; the days before it stand."),
    ],
    log: Annotated[
        Path | None, Option(help="The log (JSON): days that it says were missed are lost days.")
    ] = None,
    brief: Annotated[
        Path | None, Option(help="The brief (TOML) as it is now; else the one in the programme.")
    ] = None,
    reason: Annotated[str, Option(help="Why, in a few words; they are kept with the revision.")] = REASON,
    output: Annotated[
        Path | None, Option("--output", "-o", help="Where the new revision (JSON) is written.")
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value instead of sentences.")] = False,
) -> None:
    """Plan again what is left, with the fewest changes; without -o it only says what would change.

    Exit code 3: it cannot be done, in words, nothing written; 1: a finding is hard.
    """
    read = [path for path in (programme, log, brief) if path is not None]
    if output is not None:
        refuse_folder(output, read=read, made="programme")
    with faults_in_words():
        again = _again(programme, log=log, brief=brief, since=since.date(), reason=reason)
        findings = _checked(again.new)
        if as_json:
            result_json(again.to_json(findings))
        else:
            result(again.text(findings))
        if output is not None:
            write_all({output: again.written(programme)})
            message(f"Written: {output} (revision {again.new.revision.number})")
        elif again.new is not again.old:
            message("Nothing was written; to accept it, give -o.")
    end(HARD_FINDINGS if findings.hard() else GOOD)


STAYS = (
    "{ref}: a clinician's restriction that is not in the brief any more stays. When the clinician has "
    "lifted it, write its last day as `until`."
)


@dataclass(frozen=True)
class _Again:
    """A programme, and what came of planning it again."""

    old: Programme
    new: Programme
    since: date

    def text(self, findings: Findings) -> str:
        """Write the difference, and what is hard."""
        from speedloom.wording.books import books_of
        from speedloom.wording.findings import FindingsBook, findings_text
        from speedloom.wording.replanned import replanned_text

        said = replanned_text(self.old, self.new, since=self.since)
        hard = findings.hard()
        if not hard:
            return said
        rulebook, catalogue = books_of(self.new)
        book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=self.new)
        return f"{said}\n{findings_text(type(findings)(hard), book=book)}"

    def to_json(self, findings: Findings) -> dict[str, object]:
        """Give plain JSON values."""
        import json

        from speedloom.wording.replanned import replanned_lines
        from speedloom.workflows.compare import compare

        return {
            "revision": self.new.revision.model_dump(mode="json"),
            "changed": self.new is not self.old,
            "said": list(replanned_lines(self.old, self.new, since=self.since)),
            "differences": compare(self.old, self.new).to_json(),
            "findings": json.loads(findings.to_json()),
        }

    def written(self, path: Path) -> bytes:
        """Give the file's content: the very bytes that were read where nothing is new."""
        from speedloom.exchange.documents import canonical

        return path.read_bytes() if self.new is self.old else canonical(self.new).encode()


def _again(path: Path, *, log: Path | None, brief: Path | None, since: date, reason: str) -> _Again:
    from speedloom.exchange.documents import read_programme
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.programme import Programme
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.replan import replan

    old = read_programme(path)
    now = _brief(brief, old, since=since)
    with progress("Planning again") as report:
        outcome = replan(
            old,
            since=since,
            lost=_lost(log, old, since=since),
            brief=now,
            rulebook=load_rulebook(),
            catalogue=load_catalogue(),
            reason=reason,
            progress=report,
        )
    if not isinstance(outcome, Programme):
        refuse(_clash(outcome, brief=now or old.brief.content), code=INFEASIBLE)
    return _Again(old, outcome, since)


def _brief(path: Path | None, old: Programme, *, since: date) -> ResolvedBrief | None:
    from speedloom.cli._read import read_resolved
    from speedloom.workflows.learned import with_clinicians_limits

    if path is None:
        return None
    now, was = read_resolved(path).brief, old.brief.content
    if was is None:
        return now
    now, kept = with_clinicians_limits(now, was, since=since)
    message(*(STAYS.format(ref=ref) for ref in kept))
    return now


def _lost(path: Path | None, programme: Programme, *, since: date) -> Mapping[str, tuple[date, ...]]:
    """Give the days before the first that may change on which nobody says an athlete trained."""
    from speedloom.exchange.documents import read_log
    from speedloom.exchange.log_file import check_log
    from speedloom.workflows.missed_days import missed_days
    from speedloom.workflows.standing_log import standing_log

    if path is None:
        return {}
    entries = read_log(path)
    check_log(entries, programme, file=str(path))
    return missed_days(standing_log(entries, programme), until=since - timedelta(days=1))


def _clash(clash: Clash, *, brief: ResolvedBrief | None) -> list[str]:
    from speedloom.wording.clashes import clash_text, repairs_text
    from speedloom.workflows.repair import repairs

    said = [] if brief is None else [clash_text(clash, brief=brief)]
    return [
        *said,
        "Nothing was written.",
        "Repairs to write into the brief, cheapest first:",
        repairs_text(repairs(clash)),
    ]


def _checked(programme: Programme) -> Findings:
    from speedloom.wording.books import books_of
    from speedloom.workflows.check_programme import check_programme

    with progress("Checking") as report:
        report("every rule and number", 0.0)
        book, catalogue = books_of(programme)
        return check_programme(programme, brief=None, rulebook=book, catalogue=catalogue)
