"""`speedloom handout`: what people get: sheets and a book as PDF, the weave and curves as SVG."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, message, refuse
from speedloom.cli._files import refuse_folder, write_all
from speedloom.cli._progress import progress

if TYPE_CHECKING:
    from speedloom.training.programme import Programme


class Kind(StrEnum):
    """The papers there are."""

    SESSION = "session"
    BOOK = "book"
    ATHLETE = "athlete"


def handout_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    pdf: Annotated[
        Path | None, Option(help="Write this PDF (A4, one side, good in black and white).")
    ] = None,
    svg: Annotated[
        Path | None, Option(help="Write the weave as SVG; with --athlete that athlete's own.")
    ] = None,
    week: Annotated[int | None, Option(help="Only this week of the programme.", min=1)] = None,
    athlete: Annotated[str | None, Option(help="Only this athlete, by reference; shows nobody else.")] = None,
    kind: Annotated[
        Kind | None,
        Option(
            help="session: the squad's sheets with boxes to fill; book: weave, progression table and a page "
            "a week; athlete: one athlete's own sheet. Else: athlete with --athlete, session without."
        ),
    ] = None,
) -> None:
    """Print a programme: session sheets, the book or an athlete's sheet as PDF, the weave as SVG."""
    if pdf is None and svg is None:
        refuse(["Expected --pdf FILE or --svg FILE, got neither; say what to write."])
    for path in filter(None, (pdf, svg)):
        refuse_folder(path)
    with faults_in_words():
        from speedloom.exchange.documents import read_programme

        document = read_programme(programme)
        _refuse_unknown(document, week=week, athlete=athlete, kind=kind)
        chosen = kind or (Kind.ATHLETE if athlete else Kind.SESSION)
        with progress("Drawing") as report:
            report("sheets", 0.0)
            files = dict(_files(document, pdf=pdf, svg=svg, week=week, athlete=athlete, kind=chosen))
        write_all(files)
    message(*(f"Written: {path}" for path in files))


def _refuse_unknown(document: Programme, *, week: int | None, athlete: str | None, kind: Kind | None) -> None:
    known = [own.athlete for own in document.programmes]
    weeks = max((len(own.weeks) for own in document.programmes), default=0)
    if athlete is not None and athlete not in known:
        refuse([f"--athlete: expected one of {', '.join(known)}, got {athlete}."])
    if week is not None and week > weeks:
        refuse([f"--week: expected a week from 1 to {weeks}, got {week}."])
    if kind is Kind.ATHLETE and athlete is None:
        refuse(["--kind athlete: expected --athlete REF as well; an athlete's sheet shows one athlete."])


def _files(
    document: Programme,
    *,
    pdf: Path | None,
    svg: Path | None,
    week: int | None,
    athlete: str | None,
    kind: Kind,
) -> Iterator[tuple[Path, bytes]]:
    from speedloom.report import sheets
    from speedloom.training.exercise import load_catalogue

    catalogue = load_catalogue()
    first = document.programmes[0].athlete
    if pdf is not None and kind is Kind.SESSION:
        yield pdf, sheets.session_sheet_pdf(document, week=week, athlete=athlete, catalogue=catalogue)
    if pdf is not None and kind is Kind.BOOK:
        yield pdf, sheets.programme_book_pdf(document, week=week, athlete=athlete, catalogue=catalogue)
    if pdf is not None and kind is Kind.ATHLETE:
        yield pdf, sheets.athlete_sheet_pdf(document, athlete or first, week=week, catalogue=catalogue)
    if svg is not None:
        yield svg, sheets.weave_svg(document, athlete or first, catalogue=catalogue).encode()
