"""The session page: what is done today by whom, and what came of it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from uuid import uuid4

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.choosing import chosen_entries, differences_shown
from speedloom.web.pages.session.head import head_of
from speedloom.web.pages.session.opening import Open, opened
from speedloom.web.pages.session.saying import say, say_left_out
from speedloom.web.pages.session.shown import StepShown, steps_shown
from speedloom.web.pages.session.taking import take
from speedloom.web.pages.session.writing import Sheet, Typed, after, as_written, from_boxes, otherwise
from speedloom.wording.dates import clock
from speedloom.wording.names import place_name
from speedloom.workflows.two_accounts import differing, last_entries

UNUSABLE = 422


@needs("see_programme", change="write_log")
def session_page(
    request: Request,
    squad: SquadCard,
    programme: ProgrammeCard,
    date: str,
    athlete: AthleteCard | None = None,
) -> HttpResponse:
    """Show a training, an exercise at a time, and take what is typed without a script."""
    there = opened(request, squad, programme, date, athlete)
    typed = Typed()
    if request.method == "POST" and there.days.on is None and request.POST.get("do") != "choose":
        typed = Typed(faults={"on": _("Say first on which day it was trained; what you typed stands below.")})
    elif request.method == "POST":
        sheet = there.sheet(request)
        typed = _typed(request, sheet)
        taken = take(request.actor, squad.key, programme.id, typed.entries)
        if not typed.faults and not taken.refused:
            say(request, taken)
            say_left_out(request, typed.left_out)
            return redirect(f"{request.get_full_path()}{_anchor(request)}")
        typed.faults.update({one.id: one.why for one in taken.refused})
        there = opened(request, squad, programme, date, athlete)
    return _page(request, squad, programme, there, athlete=athlete, typed=typed)


def _typed(request: Request, sheet: Sheet) -> Typed:
    """Read the form by what its button says."""
    form = request.POST.dict()
    deed, _colon, about = form.get("do", "boxes").partition(":")
    if deed == "all":
        found = sheet.line(about)
        return as_written(sheet, [found] if found else [])
    if deed == "group":
        lines = (sheet.line(ref) for ref in about.split())
        return as_written(sheet, filter(None, lines), in_one=True)
    if deed == "else":
        return Typed([*otherwise(sheet, form)])
    if deed == "choose":
        return Typed([*chosen_entries(sheet, form)])
    if deed == "after":
        return after(sheet, form)
    return from_boxes(sheet, form)


def _anchor(request: Request) -> str:
    step = request.POST.get("step", "")
    return f"#step-{step}" if step.isdecimal() else ""


def _page(
    request: Request,
    squad: SquadCard,
    programme: ProgrammeCard,
    there: Open,
    *,
    athlete: AthleteCard | None,
    typed: Typed,
) -> HttpResponse:
    may = allowed(request.actor, "write_log", squad=squad.key, athlete=athlete.ref if athlete else None)
    said = there.days.on is not None
    context: dict[str, object] = {
        "squad": squad,
        "card": programme,
        "athlete": athlete,
        "day": there.day,
        "days": there.days,
        "may_write": may,
        "writes": may and (said or bool(typed.faults)),
        "scripted": may and said,
        "units": units_of(request.actor),
        "others": tuple(_others(there)),
        "faults": typed.faults,
        "nonce": str(uuid4()),
        "revision": there.document.revision.number,
        "zone": there.document.timezone,
    }
    if there.session is None:
        return render(request, "session/none.html", context)
    differences = differing(there.entries)
    steps = steps_shown(
        there.document,
        there.session,
        there.entries,
        catalogue=there.catalogue,
        differing=[two.place for two in differences],
        units=units_of(request.actor),
        on=there.days.on,
    )
    context |= {
        "head": head_of(
            there.document,
            there.session,
            catalogue=there.catalogue,
            units=units_of(request.actor),
            clinician=squad.clinician,
            own=athlete is not None,
        ),
        "steps": with_typed(steps, request, typed),
        "after": after_rows(there, request, typed),
        "differences": differences_shown(
            there.document, there.session, differences, units=units_of(request.actor)
        ),
        "entries": json.dumps([one.model_dump(mode="json") for one in there.entries], separators=(",", ":")),
    }
    if request.headers.get("HX-Target") == "differences":
        return render(request, "session/differences.html", context)
    status = UNUSABLE if typed.faults else 200
    return render(request, "session/session.html", context, status=status)


def with_typed(steps: Iterable[StepShown], request: Request, typed: Typed) -> tuple[StepShown, ...]:
    """Put what was typed back into its boxes where something was wrong."""
    if not typed.faults:
        return tuple(steps)
    boxes = {
        name.removeprefix("box:"): str(text) for name, text in request.POST.items() if name.startswith("box:")
    }
    return tuple(step.with_typed(boxes) for step in steps)


def after_rows(there: Open, request: Request, typed: Typed) -> tuple[dict[str, str], ...]:
    """Give effort and minutes of everybody as written last, or as typed where something was wrong."""
    rows = []
    for one in there.session.present if there.session else ():
        said = [
            entry
            for entry in reversed(last_entries(there.entries))
            if entry.athlete == one.athlete and entry.line is None and entry.session == one.session.ref
        ]
        row = {"athlete": one.athlete, "name": one.name, "session": one.session.ref}
        for field in ("effort", "minutes"):
            value = next((known for entry in said if (known := getattr(entry, field)) is not None), None)
            shown = "" if value is None else f"{value:g}"
            back = request.POST.get(f"{field}:{one.athlete}", shown) if typed.faults else shown
            row |= {field: back, f"{field}_was": shown}
        rows.append(row)
    return tuple(rows)


def _others(there: Open) -> Iterable[tuple[str, str]]:
    """Name the other trainings of the day, with what stands behind the question mark of their addresses."""
    for one in there.sessions:
        if one != there.session:
            start = clock(one.start)
            yield f"{start} {place_name(one.place)}", f"start={start}&place={one.place}"
