"""The first page after signing in: the person's squads and their programmes; and a new squad."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from speedloom.store.programmes import programmes
from speedloom.store.refusals import RefusedError
from speedloom.store.squads import make_squad, my_squads
from speedloom.web.access import Request, needs, signed_in
from speedloom.web.pages.today.first_brief import first_brief, zone_here
from speedloom.web.pages.today.forms import NewSquadForm

SHOWN = 3
"""Programmes of a squad on the first page; the others are one step away [count]."""
UNUSABLE = 422


@signed_in
def today(request: Request) -> HttpResponse:
    """Show the person's squads, each with its newest programmes; an athlete comes to their own page."""
    own = [one for one in request.actor.memberships if one.athlete]
    if own and len(own) == len(request.actor.memberships) and not request.actor.keeper:
        return redirect("mine", own[0].squad, own[0].athlete)
    squads = [(squad, programmes(request.actor, squad.key, most=SHOWN)) for squad in my_squads(request.actor)]
    return render(request, "today/today.html", {"squads": squads})


@needs("make_squad", change="make_squad")
def new_squad(request: Request) -> HttpResponse:
    """Make a squad with a first brief, and go to it."""
    form = NewSquadForm(request.POST or None, initial={"zone": zone_here()})
    if request.method == "POST" and form.is_valid():
        name, zone = form.cleaned_data["name"], form.cleaned_data["zone"]
        brief = first_brief(name, zone=zone, today=timezone.localdate())
        try:
            return redirect("squad", make_squad(request.actor, name=name, brief=brief))
        except RefusedError as error:
            form.add_error("name", str(error))
    status = UNUSABLE if request.method == "POST" else 200
    return render(request, "today/new_squad.html", {"form": form}, status=status)
