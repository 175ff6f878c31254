"""The first page after signing in: the day of the person's squads; and a new squad."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from speedloom.store.cards import Actor, SquadCard
from speedloom.store.refusals import RefusedError
from speedloom.store.squads import make_squad, my_squads
from speedloom.web.access import Request, needs, signed_in
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.today.first_brief import first_brief, zone_here
from speedloom.web.pages.today.forms import NewSquadForm
from speedloom.web.pages.today.found import found_today
from speedloom.web.pages.today.shown import SquadToday, squad_today
from speedloom.web.zones import in_zone_of

UNUSABLE = 422


@signed_in
def today(request: Request) -> HttpResponse:
    """Show the day of each of the person's squads; an athlete comes to their own page."""
    own = [one for one in request.actor.memberships if one.athlete]
    others = [squad for squad in my_squads(request.actor) if squad.role != "athlete"]
    if own and not others and not request.actor.keeper:
        return redirect("mine", own[0].squad, own[0].athlete)
    squads = [_day_of(request.actor, squad) for squad in others]
    context = {
        "day": squads[0].day if squads else timezone.localdate(),
        "squads": squads,
        "stopped": any(squad.stops for squad in squads),
        "own": [(one.squad, one.athlete) for one in own],
        "none": not others and not own,
    }
    return render(request, "today/today.html", context)


def _day_of(actor: Actor, squad: SquadCard) -> SquadToday:
    """Gather one squad's day, of its own calendar and clock."""
    with in_zone_of(squad):
        return squad_today(actor, squad, today=timezone.localdate(), units=units_of(actor))


@needs("see_programme")
def found_part(request: Request, squad: SquadCard) -> HttpResponse:
    """Say what the check finds in the programmes that run: slow, so the first page asks for it afterwards."""
    found = found_today(request.actor, squad.key, today=timezone.localdate())
    return render(request, "today/found.html", {"squad": squad, "found": found})


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
