"""Data: export, erase, the list of deeds, and where everything lies."""

from __future__ import annotations

import json
from collections.abc import Mapping
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile

from django.conf import settings
from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.athletes import athletes
from speedloom.store.cards import AthleteCard, AuditCard, SquadCard
from speedloom.store.erasing import erase_athlete, erase_squad
from speedloom.store.exporting import export_athlete, export_squad
from speedloom.store.permissions import allowed
from speedloom.store.refusals import RefusedError
from speedloom.store.squads import audit
from speedloom.web.access import Request, needs
from speedloom.wording.names import word, words_in

UNPROCESSABLE = 422
MOST_DEEDS = 200


@needs("see_audit")
def data_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show what can be taken away or erased, who did what, and where everything lies."""
    database = settings.DATABASES["default"]
    people = [*athletes(request.actor, squad.key), *athletes(request.actor, squad.key, archived=True)]
    names = {one.ref: one.name for one in people}
    context = {
        "squad": squad,
        "people": people,
        "deeds": [_deed(one, names) for one in audit(request.actor, squad.key, most=MOST_DEEDS)],
        "most": MOST_DEEDS,
        "erases": allowed(request.actor, "erase_athlete", squad=squad.key),
        "one_file": "sqlite" in database["ENGINE"],
        "where": database["NAME"] if request.actor.keeper else None,
    }
    return render(request, "data/data.html", context)


def _deed(one: AuditCard, names: Mapping[str, str]) -> tuple[AuditCard, str]:
    """Give a deed in the words people read, with the athlete by name."""
    said = one.model_copy(
        update={"about": names.get(one.about, words_in(one.about)), "detail": words_in(one.detail)}
    )
    return said, word(one.action)


@needs(None, change="export_squad")
def take_squad(request: Request, squad: SquadCard) -> HttpResponse:
    """Give everything of the squad as one ZIP of JSON files, made in memory."""
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as folder:
        for name, content in export_squad(request.actor, squad.key):
            folder.writestr(name, _text(content))
    return _file(packed.getvalue(), "application/zip", f"squad-{localdate():%Y-%m-%d}.zip")


@needs(None, change="export_athlete")
def take_athlete(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Give everything of one athlete as one JSON file."""
    text = _text(export_athlete(request.actor, squad.key, athlete.ref))
    name = f"{athlete.ref}-{localdate():%Y-%m-%d}.json"
    return _file(text.encode(), "application/json; charset=utf-8", name)


def _text(content: object) -> str:
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@needs("erase_athlete", change="erase_athlete")
def erase_athlete_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Erase an athlete once their name was typed."""
    typed = request.POST.get("name", "").strip()
    if request.method == "POST" and typed == athlete.name:
        erase_athlete(request.actor, squad.key, athlete.ref)
        messages.success(request, _("All that was kept of this athlete is erased."))
        return HttpResponseRedirect(reverse("data", args=[squad.key]))
    said = _("Expected the name, %(name)s, got %(typed)s; nothing was erased.")
    fault = said % {"name": athlete.name, "typed": typed or _("nothing")}
    return _ask(request, squad, athlete.name, typed=typed, fault=fault, whole=False)


@needs("erase_squad", change="erase_squad")
def erase_squad_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Erase the whole squad once its name was typed."""
    typed, fault = request.POST.get("name", "").strip(), ""
    if request.method == "POST":
        try:
            erase_squad(request.actor, squad.key, name=typed)
        except RefusedError as error:
            fault = str(error)
        else:
            messages.success(request, _("The squad is erased."))
            return HttpResponseRedirect(reverse("today"))
    return _ask(request, squad, squad.name, typed=typed, fault=fault, whole=True)


def _ask(
    request: Request, squad: SquadCard, name: str, *, typed: str, fault: str, whole: bool
) -> HttpResponse:
    posted = request.method == "POST"
    context = {
        "squad": squad,
        "name": name,
        "typed": typed,
        "fault": fault if posted else "",
        "whole": whole,
    }
    return render(request, "data/erase.html", context, status=UNPROCESSABLE if posted else 200)
