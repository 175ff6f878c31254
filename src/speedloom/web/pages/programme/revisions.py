"""The line of revisions: what each changed, and an earlier one brought back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.programmes import read_programme, revisions, save_programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.wording.books import books_of
from speedloom.wording.differences import differences_text
from speedloom.workflows.compare import compare
from speedloom.workflows.restore import restore


@needs("see_programme")
def revisions_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """List the revisions, newest first: number, who, when, why."""
    context = {
        "squad": squad,
        "card": programme,
        "revisions": revisions(request.actor, squad.key, programme.id),
        "changes": allowed(request.actor, "change_programme", squad=squad.key),
    }
    return render(request, "programme/revisions.html", context)


@needs("see_programme", change="change_programme")
def restore_page(request: Request, squad: SquadCard, programme: ProgrammeCard, number: int) -> HttpResponse:
    """Show what a revision is beside the newest, and bring it back when that is asked for."""
    latest = read_programme(request.actor, squad.key, programme.id)
    earlier = read_programme(request.actor, squad.key, programme.id, number=number)
    if request.method == "POST":
        reason = request.POST.get("reason") or _("Revision %(number)s again") % {"number": number}
        made = restore(latest, earlier, reason=reason, rulebook=load_rulebook())
        save_programme(request.actor, squad.key, made, after=programme.digest)
        messages.success(request, _("Revision %(number)s is back, as a new one.") % {"number": number})
        return HttpResponseRedirect(reverse("programme", args=[squad.key, programme.id]))
    _book, catalogue = books_of(latest)
    text = differences_text(compare(earlier, latest), programme=latest, catalogue=catalogue)
    context = {
        "squad": squad,
        "card": programme,
        "number": number,
        "newest": latest.revision.number == number,
        "lines": text.strip().splitlines(),
        "changes": allowed(request.actor, "change_programme", squad=squad.key),
    }
    return render(request, "programme/revision.html", context)
