"""`speedloom review`: planned beside done, with session loads and what differed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, message, refuse, result, result_json
from speedloom.cli._files import Made, refuse_folder, write_all
from speedloom.cli.handout import Length, Mass, Size

if TYPE_CHECKING:
    from speedloom.training.exercise import Catalogue
    from speedloom.training.programme import Programme
    from speedloom.wording.units import Units
    from speedloom.workflows.reviewed import Review


def review_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    log: Annotated[Path, Option(help="The log (JSON) of what was done.")],
    week: Annotated[
        int | None, Option(help="Only this week of the programme; else all weeks so far.", min=1)
    ] = None,
    athlete: Annotated[
        str | None, Option(help="Only this athlete, by reference; nobody else is named.")
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value instead of tables.")] = False,
    pdf: Annotated[
        Path | None, Option(help="Write this PDF: a page a week for the squad, a page an athlete.")
    ] = None,
    svg: Annotated[
        Path | None, Option(help="Write an athlete's load lines as this SVG; --athlete says whose.")
    ] = None,
    paper: Annotated[Size, Option(help="Paper size.")] = Size.A4,
    mass: Annotated[Mass, Option(help="Masses in kilograms or pounds.")] = Mass.KG,
    length: Annotated[Length, Option(help="Distances in metres or yards.")] = Length.M,
) -> None:
    """Lay what was done beside what was planned: work, session loads, who differed and why."""
    named: dict[Made, Path | None] = {"PDF": pdf, "SVG": svg}
    wanted = {made: path for made, path in named.items() if path is not None}
    for made, path in wanted.items():
        refuse_folder(path, read=[programme, log], made=made)
    if len(set(wanted.values())) < len(wanted):
        refuse([f"Expected two names for two files, got {pdf} twice; choose another for one."])
    with faults_in_words():
        from speedloom.wording.units import Units

        desk = _read(programme, log, week=week, athlete=athlete)
        units = Units(mass=mass.value, length=length.value)
        files = {
            path: desk.drawn(athlete) if made == "SVG" else desk.printed(athlete, paper.value, units)
            for made, path in wanted.items()
        }
        write_all(files)
    if as_json:
        result_json((desk.review.of_athlete(athlete) if athlete else desk.review).to_json())
    elif not files:
        result(desk.text(athlete, units))
    message(*(f"Written: {path}" for path in files))


@dataclass(frozen=True)
class _Desk:
    """A review with what is needed to say, print and draw it."""

    review: Review
    programme: Programme
    catalogue: Catalogue

    def text(self, athlete: str | None, units: Units) -> str:
        from speedloom.wording.review import review_text
        from speedloom.wording.review_pages import Reviewer

        return review_text(Reviewer(self.review, self.programme, self.catalogue, units), athlete=athlete)

    def printed(self, athlete: str | None, size: str, units: Units) -> bytes:
        from speedloom.report.sheets.paper import Paper
        from speedloom.report.sheets.review_sheet import review_sheet_pdf

        paper = Paper(_today(self.programme), "us-letter" if size == "us-letter" else "a4")
        return review_sheet_pdf(
            self.review, programme=self.programme, catalogue=self.catalogue, paper=paper, athlete=athlete,
            units=units,
        )  # fmt: skip

    def drawn(self, athlete: str | None) -> bytes:
        from speedloom.report.charts.load_lines import load_chart, load_lines_svg

        chosen = athlete or self.review.athletes[0]
        return load_lines_svg(load_chart(self.review, chosen, programme=self.programme)).encode()


def _read(programme: Path, log: Path, *, week: int | None, athlete: str | None) -> _Desk:
    from speedloom.exchange.documents import read_log, read_programme
    from speedloom.exchange.log_file import check_log
    from speedloom.wording.books import books_of
    from speedloom.workflows.review_days import last_day_over
    from speedloom.workflows.review_week import review

    plan, entries = read_programme(programme), read_log(log)
    check_log(entries, plan, file=str(log))
    known = [own.athlete for own in plan.programmes]
    if athlete is not None and athlete not in known:
        refuse([f"--athlete: expected one of {', '.join(known)}, got {athlete}."])
    rulebook, catalogue = books_of(plan)
    until = last_day_over(plan, today=_today(plan))
    found = review(plan, entries, week=week, rulebook=rulebook, catalogue=catalogue, until=until)
    return _Desk(found, plan, catalogue)


def _today(programme: Programme) -> date:
    from datetime import datetime

    from speedloom.exchange.zone import zone_of

    return datetime.now(tz=zone_of(programme)).date()
