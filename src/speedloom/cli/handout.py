"""`speedloom handout`: what people get: sheets and a book, the weave, a workbook, a calendar, a table."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, message, refuse
from speedloom.cli._files import Made, refuse_folder, write_all
from speedloom.cli._progress import progress

if TYPE_CHECKING:
    from speedloom.handouts.papers import Order
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


def handout_command(  # noqa: PLR0913 — each is an option a person types
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    pdf: Annotated[Path | None, Option(help="Write this PDF: one side, good in black and white.")] = None,
    svg: Annotated[Path | None, Option(help="Write the weave as this SVG; --athlete says whose.")] = None,
    xlsx: Annotated[
        Path | None,
        Option(
            help="Write this workbook (.xlsx): progression tables, a sheet a week with cells to fill in, and "
            "every line as data. Filled in, `speedloom log read` reads it."
        ),
    ] = None,
    ics: Annotated[
        Path | None, Option(help="Write this calendar (iCalendar): an event a session, without alarms.")
    ] = None,
    csv: Annotated[Path | None, Option(help="Write this table (.csv): one row a line.")] = None,
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
    since: Annotated[
        Path | None,
        Option(
            help="With --ics: the revision (JSON) handed out before; sessions gone since then are cancelled."
        ),
    ] = None,
    paper: Annotated[Size, Option(help="Paper size.")] = Size.A4,
    mass: Annotated[Mass, Option(help="Masses on paper in kilograms or pounds.")] = Mass.KG,
    length: Annotated[Length, Option(help="Distances on paper in metres or yards.")] = Length.M,
    kilograms: Annotated[
        bool,
        Option(
            "--kilograms/--no-kilograms",
            help="Session sheets with or without each athlete's load; own sheets always have it.",
        ),
    ] = True,
) -> None:
    """Hand out a programme: sheets or the book (PDF), the weave (SVG), a workbook, a calendar or a table."""
    named: dict[Made, Path | None] = {
        "PDF": pdf, "SVG": svg, "workbook": xlsx, "calendar": ics, "CSV": csv,
    }  # fmt: skip
    wanted = _wanted(named, read=[path for path in (programme, since) if path], since=since)
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.handouts.papers import Order
        from speedloom.wording.units import Units

        document = read_programme(programme)
        before = read_programme(since) if since else None
        _refuse_unknown(document, week=week, athlete=athlete)
        units = Units(mass=mass.value, length=length.value)
        order = Order(athlete, week, paper.value, units, since=before, kilograms=kilograms)
        chosen = kind or (Kind.ATHLETE if athlete else Kind.SESSION)
        with progress("Drawing") as report:
            report("sheets", 0.0)
            files = dict(_files(document, order, wanted=wanted, kind=chosen))
        write_all(files)
    message(*(f"Written: {path}" for path in files))


def _wanted(named: dict[Made, Path | None], *, read: list[Path], since: Path | None) -> dict[Made, Path]:
    """Give what is to be written, or end with a word where a name cannot be."""
    wanted = {made: path for made, path in named.items() if path is not None}
    if not wanted:
        refuse(["Expected --pdf, --svg, --xlsx, --ics or --csv with a FILE, got none; say what to write."])
    if since is not None and "calendar" not in wanted:
        refuse(["--since: expected --ics FILE with it, got none; it cancels events of a calendar."])
    for made, path in wanted.items():
        others = [one for one in wanted if one != made and wanted[one] == path]
        if others:
            refuse([f"Expected two names for two files, got {path} twice; choose another for one."])
        refuse_folder(path, read=read, made=made)
    return wanted


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

    from speedloom.handouts.papers import week_of_today

    week = week_of_today(document)
    last = max(len(own.weeks) for own in document.programmes)
    message(f"Own sheets of week {week} of {last}; --week N prints another.")
    return replace(order, week=week)


def _files(
    document: Programme, order: Order, *, wanted: dict[Made, Path], kind: Kind
) -> Iterator[tuple[Path, bytes]]:
    from speedloom.handouts import files, papers

    printed = {
        Kind.SESSION: papers.session_sheets,
        Kind.BOOK: papers.book,
        Kind.ATHLETE: papers.athlete_sheets,
    }
    makers: dict[Made, Callable[[Programme, Order], bytes]] = {
        "PDF": printed[kind],
        "SVG": papers.weave,
        "workbook": files.workbook_of,
        "calendar": files.calendar_of,
        "CSV": files.table_of,
    }
    for made, path in wanted.items():
        own_week = made == "PDF" and kind is Kind.ATHLETE and order.week is None
        yield path, makers[made](document, _this_week(document, order) if own_week else order)
