"""The programme page and its parts: what it shows, what the check says, why a number is what it is."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.errors import UnknownNumberError
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.programme_part import only
from speedloom.store.programmes import programmes, read_programme
from speedloom.training.formula import load_formulas
from speedloom.training.programme import Programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import chosen, chosen_week, programme_shown, units_of
from speedloom.wording.books import books_of
from speedloom.wording.findings import TITLES, WEIGHTS, FindingsBook, FindingWords, finding_words
from speedloom.wording.why import every_step_texts, why_texts
from speedloom.wording.why_inputs import WhyBook
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.explain import explain, explain_all

MOST_SHOWN = 40


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
        "links": allowed(request.actor, "share_link", squad=squad.key),
    }
    part = "programme/week.html" if request.headers.get("HX-Target") == "week" else "programme/programme.html"
    return render(request, part, context)


@needs("see_programme")
def check_part(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Say what the check finds for one athlete, or for all."""
    document = read_programme(request.actor, squad.key, programme.id)
    wanted = request.GET.get("athlete")
    if any(own.athlete == wanted for own in document.programmes):
        document = only(document, {wanted or ""})
    shown = " ".join(own.athlete for own in document.programmes)
    groups = _groups(_Revision(f"{programme.digest} {shown}", document))
    to_look_at = sum(group.count for group in groups if group.weight != "advice")
    context = {"squad": squad, "card": programme, "groups": groups, "to_look_at": to_look_at}
    return render(request, "programme/check.html", context)


@dataclass(frozen=True)
class Group:
    """Findings of one weight, the first of them in words."""

    weight: str
    title: str
    items: tuple[FindingWords, ...]
    count: int

    @property
    def more(self) -> int:
        """How many are not written out."""
        return self.count - len(self.items)


@dataclass(frozen=True)
class _Revision:
    """A revision, or a part of it, by what it is: it never changes, so what the check finds can be kept."""

    key: str
    document: Programme = field(compare=False)


@lru_cache(maxsize=256)
def _groups(revision: _Revision) -> tuple[Group, ...]:
    document = revision.document
    rulebook, catalogue = books_of(document)
    found = check_programme(document, brief=None, rulebook=rulebook, catalogue=catalogue)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=document)
    return tuple(
        Group(
            weight,
            TITLES[weight],
            tuple(finding_words(one, book=book) for one in those[:MOST_SHOWN]),
            len(those),
        )
        for weight in WEIGHTS
        if (those := [one for one in found if one.weight == weight])
    )


@needs("see_programme")
def why_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Say how the numbers of a line, a session or a week came about."""
    document = read_programme(request.actor, squad.key, programme.id)
    try:
        explanations = (explain(document, ref),) if "." in ref else explain_all(document, ref)
    except UnknownNumberError as error:
        raise Http404(str(error)) from error
    rulebook, _catalogue = books_of(document)
    book = WhyBook(programme=document, rulebook=rulebook, formulas=load_formulas())
    every_step = "all" in request.GET
    text = (every_step_texts if every_step else why_texts)(explanations, book=book)
    context = {"squad": squad, "card": programme, "ref": ref, "text": text, "every_step": every_step}
    part = "programme/why.html" if request.htmx else "programme/why_page.html"
    return render(request, part, context)
