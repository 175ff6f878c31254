"""The first page after signing in: the person's squads and their programmes."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from speedloom.store.programmes import programmes
from speedloom.store.squads import my_squads
from speedloom.web.access import Request, signed_in


@signed_in
def today(request: Request) -> HttpResponse:
    """Show the person's squads, each with its programmes."""
    squads = [(squad, programmes(request.actor, squad.key)) for squad in my_squads(request.actor)]
    return render(request, "today/today.html", {"squads": squads})
