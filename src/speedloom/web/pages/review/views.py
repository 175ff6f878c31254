"""The review of a week, or of all weeks so far: what was done beside what was planned, and who differed."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.review_sheet import review_sheet_pdf
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.log_part import for_eyes
from speedloom.store.logs import log
from speedloom.store.permissions import allowed
from speedloom.store.programmes import programmes, read_programme
from speedloom.training.exercise import Catalogue
from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.review.shown import Choice, review_shown, week_choices
from speedloom.wording.books import books_of
from speedloom.wording.names import athlete_name
from speedloom.workflows.review_days import last_day_over, week_to_review
from speedloom.workflows.review_week import review
from speedloom.workflows.reviewed import Review


@dataclass(frozen=True)
class _Desk:
    """What is reviewed for whom: the programme and its log, cut to the person's eyes."""

    document: Programme
    written: Log
    week: int | None
    athlete: str | None

    @property
    def books(self) -> tuple[Rulebook, Catalogue]:
        """The rulebook and the exercises with the coach's changes."""
        return books_of(self.document)

    def review(self) -> Review:
        """Review the week, or all weeks so far."""
        rulebook, catalogue = self.books
        until = last_day_over(self.document, today=localdate())
        return review(
            self.document, self.written, week=self.week, rulebook=rulebook, catalogue=catalogue, until=until
        )

    def athletes(self) -> tuple[Choice, ...]:
        """Give the athletes that can be chosen, the whole squad first."""
        everybody = Choice("", _("The squad"), self.athlete is None)
        those = (
            Choice(own.athlete, athlete_name(self.document, own.athlete), own.athlete == self.athlete)
            for own in self.document.programmes
        )
        return (everybody, *those)

    @property
    def query(self) -> str:
        """Write what is chosen as an address says it."""
        return f"?week={self.week or 'all'}" + (f"&athlete={self.athlete}" if self.athlete else "")


def _desk(request: Request, squad: SquadCard, card: ProgrammeCard) -> _Desk:
    document = read_programme(request.actor, squad.key, card.id)
    written = for_eyes(request.actor, squad.key, log(request.actor, squad.key, card.id))
    weeks = {str(week.number) for own in document.programmes for week in own.weeks}
    wanted, athlete = request.GET.get("week", ""), request.GET.get("athlete")
    known = {own.athlete for own in document.programmes}
    week = int(wanted) if wanted in weeks else week_to_review(document, written, today=localdate())
    return _Desk(
        document,
        written,
        week=None if wanted == "all" else week,
        athlete=athlete if athlete in known else None,
    )


@needs("review")
def reviews_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Go to the review of the newest programme, or say how one comes about."""
    newest = programmes(request.actor, squad.key, most=1)
    if newest:
        return HttpResponseRedirect(reverse("review", args=[squad.key, newest[0].id]))
    return render(request, "review/none.html", {"squad": squad})


@needs("review")
def review_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Show the week planned beside done, for the squad or for one athlete."""
    desk = _desk(request, squad, programme)
    shown = review_shown(
        desk.review(),
        desk.document,
        athlete=desk.athlete,
        catalogue=desk.books[1],
        units=units_of(request.actor),
    )
    context = {
        "squad": squad,
        "card": programme,
        "shown": shown,
        "weeks": week_choices(desk.document, desk.week),
        "week": desk.week,
        "athletes": desk.athletes(),
        "athlete": desk.athlete,
        "query": desk.query,
        "nothing": not desk.written.entries,
        "others": [one for one in programmes(request.actor, squad.key) if one.id != programme.id],
        "changes": allowed(request.actor, "change_programme", squad=squad.key),
    }
    return render(request, "review/review.html", context)


@needs("review")
def review_paper(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Give the review as a PDF."""
    desk = _desk(request, squad, programme)
    letter = request.GET.get("paper") == "us-letter"
    body = review_sheet_pdf(
        desk.review(),
        programme=desk.document,
        catalogue=desk.books[1],
        paper=Paper(localdate(), "us-letter" if letter else "a4"),
        athlete=desk.athlete,
        units=units_of(request.actor),
    )
    answer = HttpResponse(body, content_type="application/pdf")
    name = "-".join(filter(None, ("review", desk.athlete, f"week-{desk.week}" if desk.week else "")))
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer
