"""Undo and redo: what it would change is said, and then it is a new revision like any other."""

from __future__ import annotations

from typing import cast
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.errors import EditError
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.programmes import read_programme, revisions, save_programme
from speedloom.store.refusals import ConflictError
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.changes_saved import news_of, told
from speedloom.web.pages.programme.hard_limits import above_limits_now
from speedloom.web.pages.programme.steps import Step, Way, steps
from speedloom.wording.books import books_of
from speedloom.wording.differences import NOTHING, differences_text
from speedloom.workflows.compare import compare
from speedloom.workflows.restore import restore

UNPROCESSABLE = 422


@needs("change_programme", change="change_programme")
def step_page(request: Request, squad: SquadCard, programme: ProgrammeCard, way: str) -> HttpResponse:
    """Say what undo or redo would change, and do it when that is asked for."""
    step = steps(revisions(request.actor, squad.key, programme.id)).get(cast("Way", way))
    context: dict[str, object] = {"squad": squad, "card": programme, "way": way, "step": step}
    context["where"] = where(request)
    if step is None:
        return render(request, "programme/step.html", context)
    latest = read_programme(request.actor, squad.key, programme.id)
    try:
        made = _made(request, squad, latest, step)
    except EditError as error:
        context["fault"] = str(error)
        return render(request, "programme/step.html", context, status=UNPROCESSABLE)
    lines = changes_in_words(latest, made)
    if request.method != "POST":
        return render(request, "programme/step.html", {**context, "lines": lines})
    if request.POST.get("after") != programme.digest:
        raise ConflictError(_("Somebody changed the programme meanwhile. Look at it and do it again."))
    faults = forbidden(request, squad, latest, made)
    if faults:
        context |= {"lines": lines, "fault": " ".join(faults)}
        return render(request, "programme/step.html", context, status=UNPROCESSABLE)
    save_programme(request.actor, squad.key, made, after=programme.digest)
    for line in lines:
        messages.success(request, line)
    return HttpResponseRedirect(f"{reverse('programme', args=[squad.key, programme.id])}?{where(request)}")


def forbidden(request: Request, squad: SquadCard, latest: Programme, made: Programme) -> list[str]:
    """Say what a hard rule or a limit in force now has against bringing earlier work back."""
    hard = news_of(latest, made).hard or above_limits_now(request.actor, squad.key, latest, made)
    last = _("A hard rule or a limit that holds now does not allow this; nothing was saved.")
    return [*told(made, hard), last] if hard else []


def where(request: Request) -> str:
    """Write which athlete and week were open, as an address does."""
    return urlencode({name: request.GET[name] for name in ("athlete", "week") if name in request.GET})


def _made(request: Request, squad: SquadCard, latest: Programme, step: Step) -> Programme:
    earlier = read_programme(request.actor, squad.key, latest.id, number=step.back)
    return restore(latest, earlier, reason=step.reason, rulebook=load_rulebook())


def changes_in_words(before: Programme, made: Programme) -> list[str]:
    """Say what differs between two revisions; a difference that is no number is said to be one."""
    _book, catalogue = books_of(made)
    text = differences_text(compare(before, made), programme=made, catalogue=catalogue)
    if text == NOTHING:
        return [_("No session and no number changes; a cue, a lock or a reason may.")]
    return text.strip().splitlines()
