"""A note of a day in the athlete's own words, with a session or without one."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.store.cards import AthleteCard, SquadCard
from speedloom.store.daily import add_own_note, take_back_own_note
from speedloom.web.access import Request, needs
from speedloom.web.pages.mine.forms import NoteForm
from speedloom.web.pages.mine.views import page


@needs(None, change="write_wellness")
def note(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Keep a note of today, or hide one that was written before."""
    number = request.POST.get("take_back", "")
    if number:
        take_back_own_note(request.actor, squad.key, athlete.ref, int(number) if number.isdecimal() else 0)
        messages.success(request, _("The note is taken back."))
        return _back(squad, athlete)
    form = NoteForm(request.POST)
    if not form.is_valid():
        return page(request, squad, athlete, noted=form)
    add_own_note(request.actor, squad.key, athlete.ref, text=form.cleaned_data["text"])
    messages.success(request, _("Kept with today's date."))
    return _back(squad, athlete)


def _back(squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    return HttpResponseRedirect(reverse("mine", args=[squad.key, athlete.ref]) + "#note")
