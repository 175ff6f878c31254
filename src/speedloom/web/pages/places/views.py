"""Places and kit: listed, added, changed, removed; what is in use stays."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.briefs import brief
from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.store.permissions import allowed
from speedloom.training.brief import Brief
from speedloom.training.kit import Kit, Place
from speedloom.web.access import Request, needs
from speedloom.web.pages.places.forms import (
    KitForm,
    PlaceForm,
    first_kit,
    pieces_forms,
    pieces_of,
)
from speedloom.web.pages.places.shown import places_shown, uses_of_kit, uses_of_place
from speedloom.web.squad_brief import in_words, keep, shown_revision
from speedloom.wording.names import place_name
from speedloom.wording.units import Units

UNPROCESSABLE = 422


def _units(request: Request) -> Units:
    return Units(mass=request.actor.mass_unit, length=request.actor.length_unit)


@needs("see_kit")
def places_page(request: Request, squad: SquadCard) -> HttpResponse:
    """List the places, each with what stands there."""
    was = brief(request.actor, squad.key)
    context = {
        "squad": squad,
        "places": places_shown(was.brief, units=_units(request)),
        "changes": allowed(request.actor, "change_squad", squad=squad.key),
    }
    return render(request, "places/places.html", context)


@needs("change_squad", change="change_squad")
def place_page(request: Request, squad: SquadCard, place: str | None = None) -> HttpResponse:
    """Add, change or remove a place."""
    was = brief(request.actor, squad.key)
    one = next((each for each in was.brief.places if each.ref == place), None)
    if place is not None and one is None:
        raise Http404(_("There is no such place any more."))
    if one is not None and "remove" in request.POST:
        return _remove_place(request, squad, was, one)
    form = PlaceForm(
        request.POST if request.method == "POST" else None,
        initial=one.model_dump() if one else {},
        units=_units(request),
        known={each.ref for each in was.brief.places},
        ref=place,
    )
    if form.is_bound and form.is_valid():
        changed = _with_place(was.brief, form.place(), before=one)
        faults = keep(request, squad, was, changed, reason=_("place %s") % form.place().ref)
        if not faults:
            return _back(request, squad, _("%s is saved.") % place_name(form.place().ref).capitalize())
        for fault in faults:
            form.add_error(None, in_words(fault))
    return _page(request, squad, was, form=form, one=one, kind="place")


def _with_place(whole: Brief, new: Place, *, before: Place | None) -> Brief:
    if before is None:
        return whole.model_copy(update={"places": (*whole.places, new)})
    return whole.model_copy(update={"places": tuple(new if one == before else one for one in whole.places)})


def _remove_place(request: Request, squad: SquadCard, was: BriefRevision, one: Place) -> HttpResponse:
    uses = uses_of_place(request.actor, squad.key, was.brief, one.ref, today=localdate())
    if not uses:
        rest = tuple(each for each in was.brief.places if each != one)
        changed = was.brief.model_copy(update={"places": rest})
        if rest:
            keep(request, squad, was, changed, reason=_("place %s removed") % one.ref)
            return _back(request, squad, _("%s is removed.") % place_name(one.ref).capitalize())
        uses = [_("It is the only place: add another first, or change this one.")]
    form = PlaceForm(initial=one.model_dump(), units=_units(request), known=(), ref=one.ref)
    return _page(request, squad, was, form=form, one=one, kind="place", uses=uses)


@needs("change_squad", change="change_squad")
def kit_page(request: Request, squad: SquadCard, kit: str | None = None) -> HttpResponse:
    """Add, change or remove kit."""
    was = brief(request.actor, squad.key)
    one = next((each for each in was.brief.kit if each.ref == kit), None)
    if kit is not None and one is None:
        raise Http404(_("There is no such kit any more."))
    if one is not None and "remove" in request.POST:
        return _remove_kit(request, squad, was, one)
    form = _kit_form(request, was, one)
    rows = pieces_forms(one, request.POST if form.is_bound else None, units=_units(request))
    if form.is_bound and all([form.is_valid(), *(row.is_valid() for row in rows)]):
        new = form.kit(pieces_of(rows), before=one)
        kept = tuple(new if each == one else each for each in was.brief.kit)
        changed = was.brief.model_copy(update={"kit": kept if one else (*kept, new)})
        faults = keep(request, squad, was, changed, reason=_("kit %s") % new.ref)
        if not faults:
            return _back(request, squad, _("%s is saved.") % place_name(new.ref).capitalize())
        for fault in faults:
            form.add_error(None, in_words(fault))
    return _page(request, squad, was, form=form, one=one, kind="kit", rows=rows)


def _kit_form(request: Request, was: BriefRevision, one: Kit | None, *, typed: bool = True) -> KitForm:
    return KitForm(
        request.POST if typed and request.method == "POST" else None,
        initial=first_kit(one) if one else {"place": request.GET.get("place")},
        units=_units(request),
        known={each.ref for each in was.brief.kit},
        ref=one.ref if one else None,
        places=tuple(place.ref for place in was.brief.places),
    )


def _remove_kit(request: Request, squad: SquadCard, was: BriefRevision, one: Kit) -> HttpResponse:
    uses = uses_of_kit(request.actor, squad.key, one.ref, today=localdate())
    if not uses:
        rest = tuple(each for each in was.brief.kit if each != one)
        changed = was.brief.model_copy(update={"kit": rest})
        keep(request, squad, was, changed, reason=_("kit %s removed") % one.ref)
        return _back(request, squad, _("%s is removed.") % place_name(one.ref).capitalize())
    form = _kit_form(request, was, one, typed=False)
    rows = pieces_forms(one, None, units=_units(request))
    return _page(request, squad, was, form=form, one=one, kind="kit", rows=rows, uses=uses)


def _page(
    request: Request,
    squad: SquadCard,
    was: BriefRevision,
    *,
    one: Place | Kit | None,
    kind: str,
    **more: object,
) -> HttpResponse:
    context = {
        "squad": squad,
        "kind": kind,
        "name": place_name(one.ref) if one else None,
        "after": shown_revision(request, was),
        "no_place": not was.brief.places,
        **more,
    }
    status = UNPROCESSABLE if request.method == "POST" else 200
    return render(request, "places/change.html", context, status=status)


def _back(request: Request, squad: SquadCard, said: str) -> HttpResponse:
    messages.success(request, said)
    asked_by = "new_programme" if request.GET.get("back") == "new-programme" else "places"
    return HttpResponseRedirect(reverse(asked_by, args=[squad.key]))
