"""`speedloom handout`: what people get: sheets and a book as PDF, the weave as SVG."""

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
    from speedloom.cli._papers import Order
    from speedloom.training.programme import Programme


class Kind(StrEnum):
    """The papers there are."""

    SESSION = "session"
    BOOK = "book"
    ATHLETE = "athlete"


class Size(StrEnum):
    """Paper sizes."""

    A4 = "a4"
    LETTER = "us-letter"


class Mass(StrEnum):
    """Units of mass on paper."""

    KG = "kg"
    LB = "lb"


class Length(StrEnum):
    """Units of length on paper."""

    M = "m"
    YD = "yd"


def handout_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    pdf: Annotated[Path | None, Option(help="Write this PDF: one side, good in black and white.")] = None,
    svg: Annotated[Path | None, Option(help="Write the weave as this SVG; --athlete says whose.")] = None,
    kind: Annotated[
        Kind | None,
        Option(
            help="session: the squad's sheets with boxes to fill; book: weave, progression table and a page "
            "a week; athlete: an athlete's own week. Else: athlete with --athlete, session without."
        ),
    ] = None,
    week: Annotated[int | None, Option(help="Only this week of the programme.", min=1)] = None,
    athlete: Annotated[
        str | None, Option(help="Only this athlete, by reference; the paper shows nobody else.")
    ] = None,
    paper: Annotated[Size, Option(help="Paper size.")] = Size.A4,
    mass: Annotated[Mass, Option(help="Masses on paper in kilograms or pounds.")] = Mass.KG,
    length: Annotated[Length, Option(help="Distances on paper in metres or yards.")] = Length.M,
) -> None:
    """Print a programme: session sheets, the book or an athlete's week as PDF, the weave as SVG."""
    _refuse_names(programme, pdf=pdf, svg=svg)
    with faults_in_words():
        from speedloom.cli._papers import Order
        from speedloom.exchange.documents import read_programme
        from speedloom.wording.units import Units

        document = read_programme(programme)
        _refuse_unknown(document, week=week, athlete=athlete)
        units = Units(mass=mass.value, length=length.value)
        order = Order(athlete=athlete, week=week, size=paper.value, units=units)
        chosen = kind or (Kind.ATHLETE if athlete else Kind.SESSION)
        if pdf is not None and chosen is Kind.ATHLETE and week is None:
            order = _this_week(document, order)
        with progress("Drawing") as report:
            report("sheets", 0.0)
            files = dict(_files(document, order, pdf=pdf, svg=svg, kind=chosen))
        write_all(files)
    message(*(f"Written: {path}" for path in files))


def _refuse_names(programme: Path, *, pdf: Path | None, svg: Path | None) -> None:
    if pdf is None and svg is None:
        refuse(["Expected --pdf FILE or --svg FILE, got neither; say what to write."])
    if pdf is not None and pdf == svg:
        refuse([f"Expected two names for two files, got {pdf} for --pdf and --svg; choose another for one."])
    if pdf is not None:
        refuse_folder(pdf, read=[programme], made="PDF")
    if svg is not None:
        refuse_folder(svg, read=[programme], made="SVG")


def _refuse_unknown(document: Programme, *, week: int | None, athlete: str | None) -> None:
    known = [own.athlete for own in document.programmes]
    weeks = max((len(own.weeks) for own in document.programmes), default=0)
    if not weeks:
        refuse(
            ["Expected a programme with an athlete and a week, got an empty one; there is nothing to print."]
        )
    if athlete is not None and athlete not in known:
        refuse([f"--athlete: expected one of {', '.join(known)}, got {athlete}."])
    if week is not None and week > weeks:
        refuse([f"--week: expected a week from 1 to {weeks}, got {week}."])


def _this_week(document: Programme, order: Order) -> Order:
    from dataclasses import replace

    from speedloom.cli._papers import week_of_today

    week = week_of_today(document)
    last = max(len(own.weeks) for own in document.programmes)
    message(f"Own sheets of week {week} of {last}; --week N prints another.")
    return replace(order, week=week)


def _files(
    document: Programme, order: Order, *, pdf: Path | None, svg: Path | None, kind: Kind
) -> Iterator[tuple[Path, bytes]]:
    from speedloom.cli import _papers

    makers = {
        Kind.SESSION: _papers.session_sheets,
        Kind.BOOK: _papers.book,
        Kind.ATHLETE: _papers.athlete_sheets,
    }
    if pdf is not None:
        yield pdf, makers[kind](document, order)
    if svg is not None:
        yield svg, _papers.weave(document, order)
