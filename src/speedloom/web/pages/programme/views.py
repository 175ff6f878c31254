"""The programme page and its parts: what it shows, what the check says, why a number is what it is."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.errors import UnknownNumberError
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.programmes import programmes, read_programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.found import everybody, found_in_words
from speedloom.web.pages.programme.handed_out import printing
from speedloom.web.pages.programme.newer_limits import newer_limits
from speedloom.web.pages.programme.shown import chosen, chosen_week, programme_shown, units_of
from speedloom.web.pages.programme.steps import ways
from speedloom.web.pages.programme.why_shown import about, answers
from speedloom.wording.books import books_of
from speedloom.workflows.explain import explain, explain_all


@needs("see_programme")
def programmes_page(request: Request, squad: SquadCard) -> HttpResponse:
    """List the squad's programmes."""
    found = programmes(request.actor, squad.key)
    makes = allowed(request.actor, "make_programme", squad=squad.key)
    return render(request, "programme/programmes.html", {"squad": squad, "programmes": found, "makes": makes})


@needs("see_programme")
def programme_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Show one athlete's programme with one week open; a part of it when the page asks for a part."""
    document = read_programme(request.actor, squad.key, programme.id)
    own = chosen(document, request.GET.get("athlete"))
    if not own.weeks:
        raise Http404(_("This programme has no weeks for this athlete."))
    _book, catalogue = books_of(document)
    shown = programme_shown(
        document,
        own,
        chosen_week(own, request.GET.get("week"), today=localdate()),
        catalogue=catalogue,
        units=units_of(request.actor),
        changeable=allowed(request.actor, "change_programme", squad=squad.key),
    )
    context = {
        "squad": squad,
        "card": programme,
        "revision": document.revision,
        "shown": shown,
        "hands_out": allowed(request.actor, "hand_out", squad=squad.key),
        "changes": allowed(request.actor, "change_programme", squad=squad.key),
        "reviews": allowed(request.actor, "review", squad=squad.key),
        "writes": allowed(request.actor, "write_log", squad=squad.key),
        "links": allowed(request.actor, "share_link", squad=squad.key),
        "printing": printing(request, squad.key),
        **ways(document.revision),
    }
    part = "programme/week.html" if request.headers.get("HX-Target") == "week" else "programme/programme.html"
    return render(request, part, context)


@needs("see_programme")
def check_part(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Say what the check finds for one athlete, or for all."""
    document = read_programme(request.actor, squad.key, programme.id)
    people = everybody(document)
    those = people & {request.GET.get("athlete", "")} or people
    groups = found_in_words(document, those)
    newer = newer_limits(request.actor, squad.key, document, those)
    to_look_at = len(newer) + sum(group.count for group in groups if group.weight != "advice")
    context = {
        "squad": squad,
        "card": programme,
        "groups": groups,
        "newer": newer,
        "to_look_at": to_look_at,
        "plans": allowed(request.actor, "change_programme", squad=squad.key),
    }
    return render(request, "programme/check.html", context)


@needs("see_programme")
def why_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Say how the numbers of a line, a session or a week came about."""
    document = read_programme(request.actor, squad.key, programme.id)
    try:
        explanations = (explain(document, ref),) if "." in ref else explain_all(document, ref)
    except UnknownNumberError as error:
        raise Http404(str(error)) from error
    _book, catalogue = books_of(document)
    every_step = "all" in request.GET
    context = {
        "squad": squad,
        "card": programme,
        "ref": ref,
        "title": about(document, ref, catalogue=catalogue),
        "answers": answers(explanations, document, every=every_step, units=units_of(request.actor)),
        "every_step": every_step,
    }
    part = "programme/why.html" if request.htmx else "programme/why_page.html"
    return render(request, part, context)
