"""The line of revisions: what each changed, two beside each other, and an earlier one brought back."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.errors import EditError
from speedloom.store.cards import ProgrammeCard, RevisionCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.programmes import read_programme, revisions, save_programme
from speedloom.store.refusals import ConflictError
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.undoing import UNPROCESSABLE, changes_in_words, forbidden
from speedloom.wording.beside import beside_rows
from speedloom.wording.books import books_of
from speedloom.workflows.compare import compare
from speedloom.workflows.restore import restore

MOST_ROWS = 300
CAUSES = {
    "plan": gettext_lazy("planned"),
    "replan": gettext_lazy("planned again"),
    "edit": gettext_lazy("changed by hand"),
    "restore": gettext_lazy("brought back"),
    "template": gettext_lazy("from a template"),
}


@needs("see_programme")
def revisions_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """List the revisions, newest first: number, who, when, why."""
    found = _spoken(revisions(request.actor, squad.key, programme.id))
    one, other = _both(request, found)
    context = {"squad": squad, "card": programme, "revisions": found, "one": one, "other": other}
    return render(request, "programme/revisions.html", context)


@needs("see_programme")
def compare_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Show two revisions beside each other: what differs, as it is in the one and in the other."""
    found = _spoken(revisions(request.actor, squad.key, programme.id))
    one, other = _both(request, found)
    first, second = (
        read_programme(request.actor, squad.key, programme.id, number=card.number) for card in (one, other)
    )
    _book, catalogue = books_of(second)
    rows = beside_rows(compare(first, second), programme=second, catalogue=catalogue)
    context = {
        "squad": squad,
        "card": programme,
        "revisions": found,
        "one": one,
        "other": other,
        "rows": rows[:MOST_ROWS],
        "more": max(len(rows) - MOST_ROWS, 0),
    }
    return render(request, "programme/compare.html", context)


def _spoken(found: Sequence[RevisionCard]) -> tuple[RevisionCard, ...]:
    """Put into words what made each revision."""
    return tuple(card.model_copy(update={"cause": str(CAUSES.get(card.cause, card.cause))}) for card in found)


def _both(request: Request, found: Sequence[RevisionCard]) -> tuple[RevisionCard, RevisionCard]:
    """Give the two revisions that were chosen; else the newest and the one before it."""
    by_number = {str(card.number): card for card in found}
    before = found[1] if len(found) > 1 else found[0]
    one, other = request.GET.get("one", ""), request.GET.get("other", "")
    return by_number.get(one, before), by_number.get(other, found[0])


@needs("see_programme", change="change_programme")
def restore_page(request: Request, squad: SquadCard, programme: ProgrammeCard, number: int) -> HttpResponse:
    """Show what bringing a revision back would change, and bring it back when that is asked for."""
    latest = read_programme(request.actor, squad.key, programme.id)
    context: dict[str, object] = {
        "squad": squad,
        "card": programme,
        "number": number,
        "reason": request.POST.get("reason", ""),
        "newest": latest.revision.number == number,
        "changes": allowed(request.actor, "change_programme", squad=squad.key),
    }
    try:
        made = _restored(request, squad, latest, number)
    except EditError as error:
        context["fault"] = str(error)
        return render(request, "programme/revision.html", context, status=UNPROCESSABLE)
    if request.method != "POST":
        context["lines"] = changes_in_words(latest, made)
        return render(request, "programme/revision.html", context)
    if request.POST.get("after", programme.digest) != programme.digest:
        raise ConflictError(_("Somebody changed the programme meanwhile. Look at it and do it again."))
    faults = forbidden(request, squad, latest, made)
    if faults:
        context |= {"lines": changes_in_words(latest, made), "fault": " ".join(faults)}
        return render(request, "programme/revision.html", context, status=UNPROCESSABLE)
    save_programme(request.actor, squad.key, made, after=programme.digest)
    messages.success(request, _("Revision %(number)s is back, as a new one.") % {"number": number})
    return HttpResponseRedirect(reverse("programme", args=[squad.key, programme.id]))


def _restored(request: Request, squad: SquadCard, latest: Programme, number: int) -> Programme:
    earlier = read_programme(request.actor, squad.key, latest.id, number=number)
    reason = request.POST.get("reason") or _("Revision %(number)s again") % {"number": number}
    return restore(latest, earlier, reason=reason, rulebook=load_rulebook())
