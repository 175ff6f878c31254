"""Typing in from paper: a grid as on the printed sheet, filled in as written, by keyboard alone."""

from __future__ import annotations

from datetime import date as Date  # noqa: N812 - `date` is a part of the address
from uuid import uuid4

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.head import head_of
from speedloom.web.pages.session.opening import opened
from speedloom.web.pages.session.saying import say
from speedloom.web.pages.session.shown import steps_shown
from speedloom.web.pages.session.taking import take
from speedloom.web.pages.session.views import UNUSABLE, after_rows, with_typed
from speedloom.web.pages.session.writing import Typed, absent_in, after, from_boxes


@needs("write_log", change="write_log")
def paper_page(request: Request, squad: SquadCard, programme: ProgrammeCard, date: str) -> HttpResponse:
    """Show the grid, and take what was typed into it: who is absent, every box, effort and minutes."""
    there = opened(request, squad, programme, date, None, past_is_planned=True)
    context: dict[str, object] = {"squad": squad, "card": programme, "day": there.day, "nonce": str(uuid4())}
    context |= {"days": there.days, "may_write": True}
    if there.session is None:
        return render(request, "session/none.html", context)
    typed = Typed()
    if request.method == "POST" and there.days.on is not None:
        sheet, form = there.sheet(request), request.POST.dict()
        away, here = absent_in(sheet, form)
        those = (away, from_boxes(sheet, here), after(sheet, here))
        typed = Typed(
            [entry for one in those for entry in one.entries],
            {name: why for one in those for name, why in one.faults.items()},
        )
        # On paper all is one sheet: while a box cannot be read nothing of it is stored.
        if not typed.faults:
            taken = take(request.actor, squad.key, programme.id, typed.entries)
            typed.faults.update({one.id: one.why for one in taken.refused})
            if not taken.refused:
                say(request, taken)
                where = reverse("session", args=[squad.key, programme.id, date])
                return redirect(where + _query(request, there.days.on))
        context["nonce"] = sheet.pen.nonce
    units = units_of(request.actor)
    steps = steps_shown(
        there.document,
        there.session,
        there.entries,
        catalogue=there.catalogue,
        units=units,
        on=there.days.on,
    )
    context |= {
        "head": head_of(
            there.document,
            there.session,
            catalogue=there.catalogue,
            units=units,
            clinician=squad.clinician,
        ),
        "steps": with_typed(steps, request, typed),
        "after": after_rows(there, request, typed),
        "faults": typed.faults,
        "query": _query(request, there.days.on),
    }
    return render(request, "session/paper.html", context, status=UNUSABLE if typed.faults else 200)


def _query(request: Request, on: Date | None) -> str:
    """Go on with the same training, and with the day that was written down."""
    said = request.GET.copy()
    if on is not None:
        said["on"] = on.isoformat()
    return f"?{said.urlencode()}" if said else ""
