"""The session page: what is done today by whom, and what came of it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date as Date  # noqa: N812 - `date` is a part of the address
from datetime import datetime
from uuid import uuid4

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from speedloom.exchange.zone import zone_of
from speedloom.report.sheets.squad import SquadSession, squad_sessions
from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.store.limits_now import with_people_now
from speedloom.store.log_of_day import written_on
from speedloom.store.permissions import allowed
from speedloom.store.programmes import read_programme
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.above import above_limits
from speedloom.web.pages.session.choosing import chosen_entries, differences_shown
from speedloom.web.pages.session.days import Days, days_of
from speedloom.web.pages.session.head import head_of
from speedloom.web.pages.session.pen import Pen
from speedloom.web.pages.session.saying import say, say_left_out
from speedloom.web.pages.session.shown import StepShown, steps_shown
from speedloom.web.pages.session.taking import take
from speedloom.web.pages.session.writing import Sheet, Typed, after, as_written, from_boxes, otherwise
from speedloom.wording.books import books_of
from speedloom.wording.dates import clock
from speedloom.wording.names import place_name
from speedloom.workflows.two_accounts import differing, last_entries

UNUSABLE = 422


@dataclass(frozen=True)
class Open:
    """A day's training as it was opened, with what is written of it."""

    document: Programme
    catalogue: Catalogue
    days: Days
    sessions: tuple[SquadSession, ...]
    session: SquadSession | None
    entries: tuple[LogEntry, ...]

    @property
    def day(self) -> Date:
        """The day it is planned for."""
        return self.days.planned

    def sheet(self, request: Request) -> Sheet:
        """Take up the pen.

        Raises:
            Http404: there is no training on this day.
        """
        if self.session is None:
            raise Http404(_("Nobody trains on this day."))
        now: datetime = timezone.now().astimezone(zone_of(self.document))
        nonce = request.POST.get("nonce", "")[:40]
        revision = self.document.revision.number
        pen = Pen(request.actor.login, now, revision, nonce or str(uuid4()), self.days.on)
        units = units_of(request.actor)
        limits = above_limits(self.document, self.session, units=units)
        return Sheet(self.session, self.entries, pen, self.catalogue, units, limits)


def opened(
    request: Request,
    squad: SquadCard,
    programme: ProgrammeCard,
    date: str,
    athlete: AthleteCard | None,
    *,
    past_is_planned: bool = False,
) -> Open:
    """Open the training of a day: the one that is named, else the first.

    Args:
        request: the call.
        squad: the squad.
        programme: the programme.
        date: the day it is planned for.
        athlete: whose session alone it is; None for the squad's.
        past_is_planned: as `days_of` has it.

    Raises:
        Http404: that is no day.
    """
    try:
        day = Date.fromisoformat(date)
    except ValueError as error:
        raise Http404(_("Expected a day as 2026-01-12 in the address.")) from error
    stored = read_programme(request.actor, squad.key, programme.id)
    document = with_people_now(request.actor, squad.key, stored)
    _book, catalogue = books_of(document)
    only = (athlete.ref,) if athlete else None
    sessions = squad_sessions(document, first=day, last=day, athletes=only)
    wanted = (request.GET.get("start"), request.GET.get("place"))
    named = (
        one for one in sessions if wanted[0] in {None, clock(one.start)} and wanted[1] in {None, one.place}
    )
    session = next(named, None)
    here = {one.athlete for one in session.present} if session else set()
    may = allowed(request.actor, "see_log", squad=squad.key, athlete=athlete.ref if athlete else None)
    days = days_of(request, document, day, past_is_planned=past_is_planned)
    refs = [one.session.ref for one in session.present] if session and may else []
    entries = (
        written_on(request.actor, squad.key, programme.id, day, sessions=refs, trained_on=days.on)
        if refs
        else ()
    )
    those = tuple(one for one in entries if one.athlete in here)
    return Open(document, catalogue, days, sessions, session, those)


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
