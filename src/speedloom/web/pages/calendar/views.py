"""The calendar: looked at by month or season; events and absences added, changed and removed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.athletes import athletes, change_athlete
from speedloom.store.briefs import brief
from speedloom.store.cards import AthleteCard, BriefRevision, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.programmes import save_programme
from speedloom.store.refusals import ConflictError
from speedloom.training.calendar import Event
from speedloom.web.access import Request, needs
from speedloom.web.pages.calendar.days import (
    CalendarBook,
    beside,
    chosen_month,
    event_title,
    month_shown,
    month_title,
    season_shown,
)
from speedloom.web.pages.calendar.forms import EventForm, away_forms, away_of
from speedloom.web.pages.calendar.moved import Change, Moved, moved
from speedloom.web.squad_brief import keep, shown_revision
from speedloom.wording.dates import span

UNPROCESSABLE = 422
NOT_TYPED = ("csrfmiddlewaretoken", "do", "programme")


@needs("see_calendar")
def calendar_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show a month, or the whole season."""
    was = brief(request.actor, squad.key)
    people = athletes(request.actor, squad.key)
    book = CalendarBook(was.brief, people, localdate())
    first = chosen_month(request.GET.get("month"), book)
    season = request.GET.get("view") == "season"
    context = {
        "squad": squad,
        "season": season_shown(book) if season else (),
        "weeks": () if season else month_shown(book, first),
        "title": month_title(first),
        "earlier": beside(first, months=-1),
        "later": beside(first, months=1),
        "here": beside(first, months=0),
        "dates": (was.brief.start, was.brief.end),
        "people": people,
        "changes": allowed(request.actor, "change_squad", squad=squad.key),
    }
    return render(request, "calendar/calendar.html", context)


@needs("change_squad", change="change_squad")
def event_page(request: Request, squad: SquadCard, number: int | None = None) -> HttpResponse:
    """Add, change or remove an event; what that would move is said first."""
    was = brief(request.actor, squad.key)
    _not_older(request, was)
    before = _event(was, number)
    removes = "remove" in request.POST
    typed = request.POST if request.method == "POST" and not removes else None
    form = EventForm(typed, initial=before.model_dump() if before else {})
    context = {
        "squad": squad,
        "form": form,
        "name": event_title(before) if before else None,
        "after": shown_revision(request, was),
    }
    if request.method != "POST" or "again" in request.POST.get("do", ""):
        return render(request, "calendar/event.html", context)
    if not removes and not form.is_valid():
        return render(request, "calendar/event.html", context, status=UNPROCESSABLE)
    new = None if removes else form.event()
    change = _event_change(was, before, new)

    def save() -> None:
        changed = was.brief.model_copy(update={"events": change.events or ()})
        keep(request, squad, was, changed, reason=change.reason)

    return _told_or_saved(request, squad, change, save=save, at=(new or before))


def _not_older(request: Request, was: BriefRevision) -> None:
    """Refuse what an older page sends: the numbers of its events may be those of others by now."""
    if request.method == "POST" and shown_revision(request, was) != was.number:
        raise ConflictError(_("Somebody changed this meanwhile. Look at the new state and do it again."))


def _event(was: BriefRevision, number: int | None) -> Event | None:
    if number is None:
        return None
    if not 1 <= number <= len(was.brief.events):
        raise Http404(_("There is no such event any more."))
    return was.brief.events[number - 1]


def _event_change(was: BriefRevision, before: Event | None, new: Event | None) -> Change:
    events = [event for event in was.brief.events if event != before] + ([new] if new else [])
    those = [event for event in (before, new) if event is not None]
    said = _("%s removed") if new is None else _("%s changed") if before else _("%s added")
    return Change(
        days=tuple((one.date, one.until or one.date) for one in those),
        reason=said % event_title(those[-1]),
        events=tuple(sorted(events, key=lambda one: (one.date, one.title))),
    )


@needs("see_calendar", change="change_athlete")
def absences_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Show one athlete's absences, and change them; what that would move is said first."""
    one = athlete.athlete
    rows = away_forms(one.away, request.POST if request.method == "POST" else None)
    context = {
        "squad": squad,
        "athlete": athlete,
        "rows": rows,
        "spans": [span(away.date, away.until or away.date) for away in one.away],
        "changes": allowed(request.actor, "change_athlete", squad=squad.key, athlete=one.ref),
    }
    if request.method != "POST" or "again" in request.POST.get("do", ""):
        return render(request, "calendar/absences.html", context)
    if not _valid(rows):
        return render(request, "calendar/absences.html", context, status=UNPROCESSABLE)
    away = away_of(rows)
    gone = tuple(each for each in one.away if each not in away)
    come = tuple(each for each in away if each not in one.away)
    if not gone and not come:
        messages.info(request, _("Nothing was changed."))
        return _back(squad, None)
    days = tuple((each.date, each.until or each.date) for each in (*gone, *come))
    reason = _("absences changed")  # kept with the revision: whose they are, the brief says
    change = Change(days, reason, athlete=one.ref, gone=gone, come=come)

    def save() -> None:
        change_athlete(request.actor, squad.key, one.model_copy(update={"away": away}))

    return _told_or_saved(request, squad, change, save=save, at=days[-1][0])


def _valid(rows: Sequence[forms.Form]) -> bool:
    return all([row.is_valid() for row in rows])  # noqa: C419 - every row is looked at, so that all faults show


def _told_or_saved(
    request: Request, squad: SquadCard, change: Change, *, save: Callable[[], None], at: Event | date | None
) -> HttpResponse:
    """Say what a change would move, or save it when that was said or nothing is concerned."""
    do, day = request.POST.get("do"), at.date if isinstance(at, Event) else at
    if do == "save":
        save()
        messages.success(request, _("The calendar is saved; the programme stays as it is."))
        return _back(squad, day)
    found = moved(request.actor, squad.key, change, today=localdate())
    if found is None:
        save()
        messages.success(request, _("The calendar is saved. No programme lies on these days."))
        return _back(squad, day)
    if do == "accept" and found.made is not None and request.POST.get("programme") == found.card.digest:
        with transaction.atomic():
            save()
            save_programme(request.actor, squad.key, found.made, after=found.card.digest)
        messages.success(request, _("The calendar is saved, and the programme has a new revision."))
        return HttpResponseRedirect(reverse("programme", args=[squad.key, found.card.id]))
    return _told(request, squad, change, found)


def _told(request: Request, squad: SquadCard, change: Change, found: Moved) -> HttpResponse:
    typed = [(name, text) for name, text in request.POST.items() if name not in NOT_TYPED]
    context = {
        "squad": squad,
        "change": change,
        "found": found,
        "typed": typed,
        "meanwhile": request.POST.get("do") == "accept",
    }
    return render(request, "calendar/moved.html", context)


def _back(squad: SquadCard, day: date | None) -> HttpResponse:
    month = f"?month={day:%Y-%m}" if day else ""
    return HttpResponseRedirect(reverse("calendar", args=[squad.key]) + month)
