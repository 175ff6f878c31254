"""A change of the calendar under way: looked at as a whole, what it would move told, then saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.store.programmes import save_programme
from speedloom.store.refusals import ConflictError
from speedloom.web.access import Request
from speedloom.web.pages.calendar.moved import Change, Moved, moved
from speedloom.web.squad_brief import shown_revision

NOT_TYPED = ("csrfmiddlewaretoken", "do", "programme")


def not_older(request: Request, was: BriefRevision) -> None:
    """Refuse what an older page sends: what it calls by a number may be something else by now.

    Raises:
        ConflictError: somebody changed the calendar since the page was made.
    """
    if request.method == "POST" and shown_revision(request, was) != was.number:
        raise ConflictError(_("Somebody changed this meanwhile. Look at the new state and do it again."))


def only_shown(request: Request) -> bool:
    """Say whether the form is to be shown: it was asked for, or gone back to with what was typed."""
    return request.method != "POST" or "again" in request.POST.get("do", "")


def told_or_saved(
    request: Request, squad: SquadCard, change: Change, *, save: Callable[[], None], at: date | None
) -> HttpResponse:
    """Say what a change would move, or save it when that was said or nothing is concerned."""
    do = request.POST.get("do")
    if do == "save":
        save()
        messages.success(request, _("The calendar is saved; the programme stays as it is."))
        return back(squad, at)
    found = moved(request.actor, squad.key, change, today=localdate())
    if found is None:
        save()
        messages.success(request, _("The calendar is saved. No programme lies on these days."))
        return back(squad, at)
    if do == "accept" and found.made is not None and request.POST.get("programme") == found.card.digest:
        with transaction.atomic():
            save()
            save_programme(request.actor, squad.key, found.made, after=found.card.digest)
        messages.success(request, _("The calendar is saved, and the programme has a new revision."))
        return HttpResponseRedirect(reverse("programme", args=[squad.key, found.card.id]))
    return _told(request, squad, change, found)


def _told(request: Request, squad: SquadCard, change: Change, found: Moved) -> HttpResponse:
    typed = [(name, text) for name, text in request.POST.items() if name not in NOT_TYPED]
    context = {
        "squad": squad,
        "change": change,
        "found": found,
        "typed": typed,
        "meanwhile": request.POST.get("do") == "accept",
    }
    return render(request, "calendar/moved.html", context)


def back(squad: SquadCard, day: date | None) -> HttpResponse:
    """Go back to the calendar, to the month of a day."""
    month = f"?month={day:%Y-%m}" if day else ""
    return HttpResponseRedirect(reverse("calendar", args=[squad.key]) + month)
