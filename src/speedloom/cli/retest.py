"""`speedloom retest`: what changed between two tests, with the chance that it is real."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import (
    GOOD,
    HARD_FINDINGS,
    end,
    faults_in_words,
    message,
    refuse,
    result,
    result_json,
)
from speedloom.cli._files import refuse_folder, write_all

if TYPE_CHECKING:
    from speedloom.cli._retested import RetestedFiles
    from speedloom.workflows.retest_errors import GivenError


class TrialRule(StrEnum):
    """How a day's trials become one value."""

    BEST = "best"
    MEAN = "mean"


class Sport(StrEnum):
    """What the smallest worthwhile change is taken from."""

    TEAM = "team"
    SOLO = "solo"


@dataclass(frozen=True)
class _Asked:
    athlete: str | None
    pdf_athlete: Path | None
    pdf_colleagues: Path | None


def retest_command(  # noqa: PLR0913 — each is an option a person types
    tests: Annotated[
        list[Path], Argument(help="Tests files (CSV, XLSX or ODS) that hold both tests, one row a trial.")
    ],
    *,
    brief: Annotated[
        Path | None, Option(help="The brief (TOML): names, goal, and the tests it names are read too.")
    ] = None,
    programme: Annotated[
        Path | None,
        Option(help="The programme (JSON) in between: names, goal, and with --log what was done."),
    ] = None,
    log: Annotated[Path | None, Option(help="The log (JSON) of that programme.")] = None,
    since: Annotated[
        datetime | None,
        Option("--from", formats=["%Y-%m-%d"], help="The first test is the first on or after this date."),
    ] = None,
    until: Annotated[
        datetime | None,
        Option("--to", formats=["%Y-%m-%d"], help="The last test is the last on or before this date."),
    ] = None,
    trial: Annotated[
        TrialRule, Option(help="Compare a day's best trial or the mean of its trials.")
    ] = TrialRule.BEST,
    sport: Annotated[
        Sport,
        Option(help="team: a change worth having is 0.2 of the squad's spread; solo: 0.3 of the error."),
    ] = Sport.TEAM,
    typical_error: Annotated[
        list[str] | None,
        Option(help="A typical error of one trial that you know, as MEASURE=NUMBER: split_time/30m=0.03."),
    ] = None,
    worthwhile: Annotated[
        list[str] | None,
        Option(help="A smallest worthwhile change of your own, as MEASURE=NUMBER: split_time/30m=0.02."),
    ] = None,
    athlete: Annotated[
        str | None, Option(help="With --pdf-athlete: only this athlete's page, by reference.")
    ] = None,
    pdf_athlete: Annotated[
        Path | None, Option(help="Write this PDF: a page for each athlete in plain words.")
    ] = None,
    pdf_colleagues: Annotated[
        Path | None, Option(help="Write this PDF: two pages for colleagues with method, numbers and curves.")
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value with everything.")] = False,
) -> None:
    """Compare each athlete's first test with the last: what changed, and the chance that it is real.

    Exit code 1: a result that cannot be true was left out. Exit code 2: nothing can be compared.
    """
    asked = _Asked(athlete, pdf_athlete, pdf_colleagues)
    papers = [path for path in (pdf_athlete, pdf_colleagues) if path is not None]
    _refuse_wrong(asked, papers, read=[*tests, *filter(None, (brief, programme, log))])
    if (log is None) != (programme is None) and log is not None:
        refuse(["--log: expected --programme FILE with it, got none; a log is about a programme."])
    given = _given(typical_error or [], worthwhile or [])
    with faults_in_words():
        from speedloom.cli._retested import RetestFiles, read_and_retest

        found = read_and_retest(
            RetestFiles(tuple(tests), brief, programme, log),
            since=_day(since),
            until=_day(until),
            trial_rule=trial.value,
            sport=sport.value,
            given=given,
        )
        _refuse_unknown(found, given, athlete)
        files = dict(_files(found, asked))
        write_all(files)
    if as_json:
        result_json(found.value())
    else:
        result(found.text())
    message(*(f"Written: {path}" for path in files))
    end(HARD_FINDINGS if found.retest.refused else GOOD)


def _day(moment: datetime | None) -> date | None:
    return moment.date() if moment is not None else None


def _refuse_wrong(asked: _Asked, papers: list[Path], *, read: list[Path]) -> None:
    if len(set(papers)) < len(papers):
        refuse([f"Expected two names for two files, got {papers[0]} twice; choose another for one."])
    for path in papers:
        refuse_folder(path, read=read, made="PDF")
    if asked.athlete is not None and asked.pdf_athlete is None:
        refuse(
            ["--athlete: expected --pdf-athlete FILE with it, got none; it chooses whose page is printed."]
        )


def _given(errors: Sequence[str], smallest: Sequence[str]) -> dict[str, GivenError]:
    from speedloom.workflows.retest_errors import GivenError

    known = dict(_numbers(errors, "--typical-error"))
    worth = dict(_numbers(smallest, "--worthwhile"))
    return {ref: GivenError(known.get(ref), worth.get(ref)) for ref in sorted({*known, *worth})}


def _numbers(texts: Sequence[str], option: str) -> Iterator[tuple[str, float]]:
    for text in texts:
        ref, _, number = text.partition("=")
        try:
            value = float(number.replace(",", "."))
        except ValueError:
            value = 0.0
        if not 0.0 < value < float("inf"):
            refuse([f"{option}: expected MEASURE=NUMBER above 0, such as split_time/30m=0.02, got {text}."])
        yield ref, value


def _refuse_unknown(found: RetestedFiles, given: Mapping[str, object], athlete: str | None) -> None:
    retest = found.retest
    if not retest.panels:
        refuse(found.text().strip().splitlines())
    measures = sorted({panel.measure.ref for panel in retest.panels})
    for ref in given:
        if ref not in measures:
            refuse([f"{ref}: expected one of the measures compared, {', '.join(measures)}."])
    if athlete is not None and athlete not in retest.athletes:
        refuse([f"--athlete: expected one of {', '.join(retest.athletes)}, got {athlete}."])


def _files(found: RetestedFiles, asked: _Asked) -> Iterator[tuple[Path, bytes]]:
    if asked.pdf_athlete is not None:
        yield asked.pdf_athlete, found.athlete_pdf(asked.athlete)
    if asked.pdf_colleagues is not None:
        yield asked.pdf_colleagues, found.colleagues_pdf()
