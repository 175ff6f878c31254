"""What a link shows to whoever holds it: no account, no other page, found by no search, told to no site."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from time import monotonic

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.handouts.files import calendar_of
from speedloom.handouts.papers import Order, athlete_sheets
from speedloom.report.sheets.paper import PaperSize
from speedloom.store.links import followed
from speedloom.store.refusals import ExpiredError
from speedloom.training.programme import AthleteProgramme, Programme
from speedloom.web import refused
from speedloom.web.access import everybody
from speedloom.web.brake import Brake
from speedloom.web.pages.links.sheet import OwnSheet, own_sheet
from speedloom.web.pages.programme.shown import chosen_week

GONE, TOO_MANY = 410, 429
A_WHILE_S = 600
OF_A_PLACE = Brake(most=240, seconds=A_WHILE_S)
"""Calls from one place: a club behind one address whose phones and calendars all look."""
OF_STRANGERS = Brake(most=20, seconds=A_WHILE_S)
"""Calls from one place by links that open nothing."""
HIDDEN = {"Referrer-Policy": "no-referrer", "X-Robots-Tag": "noindex, nofollow, noarchive"}
View = Callable[[HttpRequest, str], HttpResponse]


def linked(view: View) -> View:
    """Answer a link: braked, and hidden from searches and from the sites one goes to afterwards."""

    @wraps(view)
    def inner(request: HttpRequest, **parts: str) -> HttpResponse:
        answer = _braked(view, request, *parts.values())
        for name, value in HIDDEN.items():
            answer[name] = value
        return answer

    return everybody(inner)  # type: ignore[return-value]


def _braked(view: View, request: HttpRequest, secret: str) -> HttpResponse:
    place = str(request.META.get("REMOTE_ADDR", ""))
    try:
        if OF_A_PLACE.passes(place, now=monotonic()):
            return view(request, secret)
    except ExpiredError as error:
        if OF_STRANGERS.passes(place, now=monotonic()):
            return refused.page(request, status=GONE, why=str(error))
    answer = refused.page(request, status=TOO_MANY, why=_("Too many calls from here; wait ten minutes."))
    answer["Retry-After"] = str(A_WHILE_S)
    return answer


@linked
def feed(request: HttpRequest, secret: str) -> HttpResponse:  # noqa: ARG001 - every view is given it
    """Give a programme, or one athlete's part of it, as a calendar that a calendar program reads again."""
    card, document = followed(secret, kind="feed")
    body = calendar_of(document, Order(athlete=card.athlete))
    answer = HttpResponse(body, content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'inline; filename="training.ics"'
    return answer


@linked
def sheet_page(request: HttpRequest, secret: str) -> HttpResponse:
    """Show one athlete's week, and nothing else."""
    document, own = _own(secret)
    week = request.GET.get("week")
    found: OwnSheet | None = None
    if own is not None and own.weeks:
        found = own_sheet(document, own, chosen_week(own, week, today=localdate()))
    return render(request, "links/sheet.html", {"sheet": found, "secret": secret})


@linked
def sheet_paper(request: HttpRequest, secret: str) -> HttpResponse:
    """Give one athlete's week on paper."""
    document, own = _own(secret)
    if own is None or not own.weeks:
        raise ExpiredError(_("There is no week for you in this programme now; ask your coach."))
    week = chosen_week(own, request.GET.get("week"), today=localdate())
    size: PaperSize = "us-letter" if request.GET.get("paper") == "us-letter" else "a4"
    body = athlete_sheets(document, Order(athlete=own.athlete, week=week.number, size=size))
    answer = HttpResponse(body, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="week-{week.number}.pdf"'
    return answer


def _own(secret: str) -> tuple[Programme, AthleteProgramme | None]:
    card, document = followed(secret, kind="sheet")
    return document, next((own for own in document.programmes if own.athlete == card.athlete), None)
