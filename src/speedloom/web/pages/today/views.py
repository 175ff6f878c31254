"""The first page after signing in: the person's squads and their programmes."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from speedloom.store.programmes import programmes
from speedloom.store.squads import my_squads
from speedloom.web.access import Request, signed_in


SHOWN = 3
"""Programmes of a squad on the first page; the others are one step away [count]."""


@signed_in
def today(request: Request) -> HttpResponse:
    """Show the person's squads, each with its newest programmes."""
    squads = [(squad, programmes(request.actor, squad.key, most=SHOWN)) for squad in my_squads(request.actor)]
    return render(request, "today/today.html", {"squads": squads})
