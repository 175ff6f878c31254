"""The limits in force for a session's people, for a page that stays open beside the field."""

from __future__ import annotations

import hashlib

from django.http import HttpResponse, HttpResponseNotModified, JsonResponse
from django.utils.translation import gettext as _

from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.store.restrictions import restrictions
from speedloom.store.screenings import barred
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.above import above_limits
from speedloom.web.pages.session.head import limits_of
from speedloom.web.pages.session.opening import opened


@needs("see_programme")
def limits_now(
    request: Request,
    squad: SquadCard,
    programme: ProgrammeCard,
    date: str,
    athlete: AthleteCard | None = None,
) -> HttpResponse:
    """Give the words beside the names that are above a limit, by line, and the list of limits of the day.

    A page asks every half minute: where nothing was set or lifted since, one question to the store is all.
    """
    tag = _tag(request, squad, programme, athlete)
    if request.headers.get("If-None-Match") == tag:
        return HttpResponseNotModified(headers={"ETag": tag})
    there = opened(request, squad, programme, date, athlete)
    rows: dict[str, str] = {}
    listed: list[str] = []
    if there.session is not None:
        units = units_of(request.actor)
        above = above_limits(there.document, there.session, units=units)
        rows = {line: said_beside(limit) for line, limit in above.items()}
        listed = limits_of(there.session, catalogue=there.catalogue, units=units)
    return JsonResponse({"by": request.actor.login, "rows": rows, "listed": listed}, headers={"ETag": tag})


def said_beside(limit: str) -> str:
    """Say beside a name that what is written is above a limit."""
    return _("Not as written. Limit: %(limit)s") % {"limit": limit}


def _tag(request: Request, squad: SquadCard, programme: ProgrammeCard, athlete: AthleteCard | None) -> str:
    """Name what this person may see of the limits as it stands: another person's is another."""
    seen = restrictions(request.actor, squad.key, lifted=True, athlete=athlete.ref if athlete else None)
    parts = [
        request.get_full_path(),
        request.actor.login,
        programme.digest,
        repr(units_of(request.actor)),
        *(one.model_dump_json() for one in seen),
        *(f"{ref} {limit.model_dump_json()}" for ref, limit in barred(request.actor, squad.key).items()),
    ]
    named = hashlib.sha256("\n".join(parts).encode()).hexdigest()
    return f'"{named[:32]}"'
