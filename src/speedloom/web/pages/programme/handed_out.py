"""What is printed or sent: papers, workbook, calendar, table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from django.http import Http404, HttpResponse
from django.utils.translation import gettext as _

from speedloom.handouts import files, papers
from speedloom.handouts.papers import Order
from speedloom.report.sheets.paper import PaperSize
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.limits_now import with_limits_now, with_people_now
from speedloom.store.programmes import read_programme
from speedloom.training.programme import Programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of

Maker = Callable[[Programme, Order], bytes]
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
KINDS: Mapping[str, tuple[Maker, str, str]] = {
    "session": (papers.session_sheets, "application/pdf", "pdf"),
    "athlete": (papers.athlete_sheets, "application/pdf", "pdf"),
    "book": (papers.book, "application/pdf", "pdf"),
    "workbook": (files.workbook_of, XLSX, "xlsx"),
    "calendar": (files.calendar_of, "text/calendar; charset=utf-8", "ics"),
    "table": (files.table_of, "text/csv; charset=utf-8", "csv"),
}


@needs("see_programme")
def hand_out(request: Request, squad: SquadCard, programme: ProgrammeCard, kind: str) -> HttpResponse:
    """Give a paper or a file of the programme, cut to what the person may see."""
    if kind not in KINDS:
        raise Http404(_("There is no such paper; the programme's page lists them."))
    document = read_programme(request.actor, squad.key, programme.id)
    make, content, ending = KINDS[kind]
    if ending == "pdf":
        now = with_limits_now if kind == "book" else with_people_now
        document = now(request.actor, squad.key, document)
    _remember(request, squad.key)
    body = make(document, _order(request, document, printing(request, squad.key), squad))
    answer = HttpResponse(body, content_type=content)
    where = "inline" if ending == "pdf" else "attachment"
    name = "-".join(filter(None, (kind, request.GET.get("athlete"), f"revision-{programme.revision}")))
    answer["Content-Disposition"] = f'{where}; filename="{name}.{ending}"'
    return answer


@dataclass(frozen=True)
class Printing:
    """What was chosen for papers, remembered while the person stays signed in."""

    size: PaperSize = "a4"
    kilograms: bool = True


def printing(request: Request, squad: str) -> Printing:
    """Give what was chosen last for a squad's papers, or what is asked for now."""
    kept = request.session.get(f"printing {squad}", {})
    paper = request.GET.get("paper") or kept.get("paper")
    size: PaperSize = "us-letter" if paper == "us-letter" else "a4"
    return Printing(size, (request.GET.get("kilograms") or kept.get("kilograms")) != "no")


def _remember(request: Request, squad: str) -> None:
    asked = {name: request.GET[name] for name in ("paper", "kilograms") if name in request.GET}
    name = f"printing {squad}"
    kept = request.session.get(name, {}) | asked
    if asked and kept != request.session.get(name):
        request.session[name] = kept


def _order(request: Request, document: Programme, chosen: Printing, squad: SquadCard) -> Order:
    athletes = {own.athlete for own in document.programmes}
    weeks = {str(week.number) for own in document.programmes for week in own.weeks}
    athlete, week = request.GET.get("athlete"), request.GET.get("week", "")
    return Order(
        athlete=athlete if athlete in athletes else None,
        week=int(week) if week in weeks else None,
        size=chosen.size,
        units=units_of(request.actor),
        kilograms=chosen.kilograms,
        clinician=squad.clinician,
    )
