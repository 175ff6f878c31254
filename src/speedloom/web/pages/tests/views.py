"""The tests page: type, paste or choose a file, look at it, keep it; and strike out what is wrong."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.core.paginator import Paginator
from django.db import transaction
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.pasted_cells import Grid, grid_of_file, grid_of_text
from speedloom.store.athletes import add_athlete, athletes
from speedloom.store.briefs import brief
from speedloom.store.cards import AthleteCard, SquadCard
from speedloom.store.measurements import add_measurements, bring_back_measurement, strike_measurement
from speedloom.store.permissions import allowed
from speedloom.store.refusals import RefusedError
from speedloom.store.tested import measured_days, measured_on, newest_tests
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.squad.fits import Reading, profiles_of
from speedloom.web.pages.squad.numbers import ProfileShown, profile_shown
from speedloom.web.pages.tests.how_form import HowForm, holds_runs, how_form
from speedloom.web.pages.tests.look import Look, look_at, said
from speedloom.web.pages.tests.shown import counting, jumps_and_lifts, tables_shown

UNPROCESSABLE = 422
A_PAGE = 150
"""Rows of a day that stand on one page [count]."""


@dataclass(frozen=True)
class _Page:
    """The page under way."""

    request: Request
    squad: SquadCard
    brief: Brief
    cards: Sequence[AthleteCard]
    form: HowForm

    @property
    def names(self) -> dict[str, str]:
        return {card.ref: card.name for card in self.cards}

    def profiles(self, tested: Measurements, *, look: Look | None = None) -> tuple[ProfileShown, ...]:
        """Fit what was measured, with the squad's people and those who are new."""
        people = {card.ref: card.athlete for card in self.cards}
        people |= {one.ref: one for one in look.people} if look else {}
        reading = Reading(self.brief.trial, self.brief.rules)
        found = profiles_of(tested, people=people, reading=reading)
        return tuple(
            profile_shown(one, name=people[one.athlete].title) for one in found if one.athlete in people
        )

    def jumps_and_lifts(self, look: Look) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Say which jumps and lifts would be kept."""
        names = self.names | {one.ref: one.title for one in look.people}
        units = units_of(self.request.actor)
        return jumps_and_lifts(look.to_keep, names=names, catalogue=load_catalogue(), units=units)

    def answer(self, *, status: int = 200, **more: object) -> HttpResponse:
        """Show the page with what was typed."""
        actor, key = self.request.actor, self.squad.key
        context = {
            "squad": self.squad,
            "form": self.form,
            "writes": allowed(actor, "write_tests", squad=key),
            "strikes": allowed(actor, "strike_test", squad=key),
            "plans": allowed(actor, "make_programme", squad=key),
            **self._day(),
            **more,
        }
        return render(self.request, "tests/tests.html", context, status=status)

    def _day(self) -> dict[str, object]:
        """Give the day that is open: the one asked for, else the newest."""
        actor, key = self.request.actor, self.squad.key
        days = measured_days(actor, key)
        asked = self.request.GET.get("day", "")
        day = next((one.day for one in days if one.day.isoformat() == asked), days[0].day if days else None)
        if day is None:
            return {"days": ()}
        rows = Paginator(measured_on(actor, key, day), A_PAGE).get_page(self.request.GET.get("page"))
        units = units_of(actor)
        tables = tables_shown(list(rows), names=self.names, catalogue=load_catalogue(), units=units)
        found = self.profiles(counting(rows.object_list))
        return {"days": days, "day": day, "tables": tables, "rows": rows, "profiles": found}


@needs("see_tests", change="write_tests")
def tests_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show what was measured; look at what was sent, and keep it when it was looked at before."""
    page = _page(request, squad)
    if request.method != "POST":
        return page.answer()
    text, grid, faults = _sent(request)
    page.form.holds_runs = holds_runs(grid.header)
    if faults or not page.form.is_valid():
        typed = grid.text if grid.header else text
        return page.answer(status=UNPROCESSABLE, text=typed, file_faults=faults, wrong=True)
    look = look_at(
        request.actor, squad.key, grid, all_rows=page.form.all_rows(), cards=page.cards, data=request.POST
    )
    if "save" in request.POST and look.sound and request.POST.get("stamp") == look.stamp:
        return _kept(page, look)
    changed = "save" in request.POST and look.sound
    found = page.profiles(look.to_keep, look=look) if look.compared else ()
    return page.answer(
        status=200 if look.sound else UNPROCESSABLE,
        text=grid.text,
        look=look,
        look_profiles=found,
        look_strength=page.jumps_and_lifts(look),
        changed=changed,
    )


def _page(request: Request, squad: SquadCard) -> _Page:
    cards = athletes(request.actor, squad.key)
    content = brief(request.actor, squad.key).brief
    trials = newest_tests(request.actor, squad.key).trials
    last = max(trials, key=lambda one: one.date, default=None)
    data = request.POST if request.method == "POST" else None
    form = how_form(data, places=content.places, last=last, today=localdate())
    return _Page(request, squad, content, cards, form)


def _sent(request: Request) -> tuple[str, Grid, tuple[str, ...]]:
    """Give the text, the table and what makes it unreadable; a file stands before what was typed."""
    text, upload = request.POST.get("table", ""), request.FILES.get("file")
    try:
        grid = _of_upload(upload) if isinstance(upload, UploadedFile) else grid_of_text(text)
    except UnusableFileError as error:
        return (
            text,
            Grid(),
            tuple(_where(fault.row, fault.column) + said(fault, cell=True) for fault in error.faults),
        )
    return text, grid, ()


def _where(row: int | None, column: str) -> str:
    parts = (f"{_('row')} {row}" if row else "", column)
    found = ", ".join(filter(None, parts))
    return f"{found}: " if found else ""


def _of_upload(upload: UploadedFile) -> Grid:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"tests{Path(upload.name or '').suffix.lower()[:8]}"
        path.write_bytes(upload.read())
        return grid_of_file(path)


@transaction.atomic
def _kept(page: _Page, look: Look) -> HttpResponse:
    actor, key = page.request.actor, page.squad.key
    for one in look.people:
        add_athlete(actor, key, one)
    count = add_measurements(actor, key, look.to_keep)
    said_rows = ngettext("%(n)d row is kept.", "%(n)d rows are kept.", count) % {"n": count}
    new = len(look.people)
    said_new = ngettext(" %(n)d athlete is new.", " %(n)d athletes are new.", new) % {"n": new} if new else ""
    messages.success(page.request, said_rows + said_new)
    day = _newest_day(look.to_keep)
    return HttpResponseRedirect(_address(key, day))


def _newest_day(those: Measurements) -> date | None:
    rows: list[date] = [
        row.date for kind in (those.trials, those.jumps, those.lifts, those.traces) for row in kind
    ]
    return max(rows, default=None)


def _address(squad: str, day: date | None) -> str:
    return reverse("tests", args=[squad]) + (f"?day={day.isoformat()}#measured" if day else "")


@needs(None, change="strike_test")
def strike(request: Request, squad: SquadCard, number: int) -> HttpResponse:
    """Strike a row out, with the reason that was typed."""
    try:
        card = strike_measurement(request.actor, squad.key, number, reason=request.POST.get("reason", ""))
    except RefusedError as error:
        messages.error(request, str(error))
        return HttpResponseRedirect(_back(request, squad))
    messages.success(request, _("The row is struck out; it stays to be seen and is used for nothing."))
    return HttpResponseRedirect(_address(squad.key, date.fromisoformat(card.document["date"])))


@needs(None, change="strike_test")
def bring_back(request: Request, squad: SquadCard, number: int) -> HttpResponse:
    """Let a struck row count again."""
    card = bring_back_measurement(request.actor, squad.key, number)
    messages.success(request, _("The row counts again."))
    return HttpResponseRedirect(_address(squad.key, date.fromisoformat(card.document["date"])))


def _back(request: Request, squad: SquadCard) -> str:
    day = request.POST.get("day", "")
    try:
        return _address(squad.key, date.fromisoformat(day))
    except ValueError:
        return _address(squad.key, None)
