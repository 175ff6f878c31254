"""The calendar: looked at by month or season; events and absences added, changed and removed."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.exchange.brief_changed import new_faults
from speedloom.store.athletes import athletes, change_athlete
from speedloom.store.briefs import brief
from speedloom.store.cards import AthleteCard, BriefRevision, SquadCard
from speedloom.store.permissions import allowed
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
    slots_shown,
)
from speedloom.web.pages.calendar.forms import EventForm, away_forms, away_of
from speedloom.web.pages.calendar.moved import Change
from speedloom.web.pages.calendar.telling import back, not_older, only_shown, told_or_saved
from speedloom.web.squad_brief import in_words, keep, shown_revision
from speedloom.wording.dates import span

UNPROCESSABLE = 422
CONFLICT = 409


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
        "slots": slots_shown(was.brief),
        "changes": allowed(request.actor, "change_squad", squad=squad.key),
    }
    return render(request, "calendar/calendar.html", context)


@needs("change_squad", change="change_squad")
def event_page(request: Request, squad: SquadCard, number: int | None = None) -> HttpResponse:
    """Add, change or remove an event; what that would move is said first."""
    was = brief(request.actor, squad.key)
    not_older(request, was)
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
    if only_shown(request):
        return render(request, "calendar/event.html", context)
    if not removes and not form.is_valid():
        return render(request, "calendar/event.html", context, status=UNPROCESSABLE)
    new = None if removes else form.event()
    change = _event_change(was, before, new)

    changed = was.brief.model_copy(update={"events": change.events or ()})
    faults = new_faults(was.brief, changed)
    if faults and not removes:
        for fault in faults:
            form.add_error(None, in_words(fault))
        return render(request, "calendar/event.html", context, status=UNPROCESSABLE)

    def save() -> None:
        keep(request, squad, was, changed, reason=change.reason)

    return told_or_saved(request, squad, change, save=save, at=change.days[-1][0])


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
        "after": athlete.version,
        "spans": [span(away.date, away.until or away.date) for away in one.away],
        "changes": allowed(request.actor, "change_athlete", squad=squad.key, athlete=one.ref),
    }
    if only_shown(request):
        return render(request, "calendar/absences.html", context)
    if not _valid(rows):
        return render(request, "calendar/absences.html", context, status=UNPROCESSABLE)
    if request.POST.get("after", athlete.version) != athlete.version:
        context["meanwhile"] = True
        return render(request, "calendar/absences.html", context, status=CONFLICT)
    away = away_of(rows)
    gone = tuple(each for each in one.away if each not in away)
    come = tuple(each for each in away if each not in one.away)
    if not gone and not come:
        messages.info(request, _("Nothing was changed."))
        return back(squad, None)
    days = tuple((each.date, each.until or each.date) for each in (*gone, *come))
    reason = _("absences changed")  # kept with the revision: whose they are, the brief says
    change = Change(days, reason, athlete=one.ref, gone=gone, come=come)

    def save() -> None:
        changed = one.model_copy(update={"away": away})
        change_athlete(request.actor, squad.key, changed, after=request.POST.get("after"))

    return told_or_saved(request, squad, change, save=save, at=days[-1][0])


def _valid(rows: Sequence[forms.Form]) -> bool:
    return all([row.is_valid() for row in rows])  # noqa: C419 - every row is looked at, so that all faults show
