"""Days that can be trained on and peaks, changed on the calendar; what that would move is said first."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from speedloom.exchange.brief_changed import new_faults
from speedloom.store.briefs import brief
from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.training.brief import Brief
from speedloom.training.calendar import Slot
from speedloom.web.access import Request, needs
from speedloom.web.pages.calendar.days import slot_title
from speedloom.web.pages.calendar.forms import SlotForm, peak_forms, peaks_of
from speedloom.web.pages.calendar.moved import Change, NewSlot
from speedloom.web.pages.calendar.telling import back, not_older, only_shown, told_or_saved
from speedloom.web.squad_brief import in_words, keep, shown_revision
from speedloom.wording.dates import day_month, listing

UNPROCESSABLE = 422


@needs("change_squad", change="change_squad")
def slot_page(request: Request, squad: SquadCard, slot: str | None = None) -> HttpResponse:
    """Add, change or remove a day that can be trained on; what that would move is said first."""
    was = brief(request.actor, squad.key)
    not_older(request, was)
    before = _slot(was, slot)
    removes = "remove" in request.POST
    typed = request.POST if request.method == "POST" and not removes else None
    places = [place.ref for place in was.brief.places]
    form = SlotForm(typed, places=places, initial=before.model_dump() if before else {"minutes": 75})
    context = {
        "squad": squad,
        "form": form,
        "name": slot_title(before) if before else None,
        "after": shown_revision(request, was),
        "places": places,
    }
    if only_shown(request):
        return render(request, "calendar/slot.html", context)
    if not removes and not form.is_valid():
        return render(request, "calendar/slot.html", context, status=UNPROCESSABLE)
    new = None if removes else form.slot(before.ref if before else _new_ref(was.brief, form))
    changed = _with_slot(was.brief, before, new)
    faults = new_faults(was.brief, changed)
    if faults:
        context["faults"] = [in_words(fault) for fault in faults]
        return render(request, "calendar/slot.html", context, status=UNPROCESSABLE)
    change = _slot_change(was.brief, before, new)

    def save() -> None:
        keep(request, squad, was, changed, reason=change.reason)

    return told_or_saved(request, squad, change, save=save, at=None)


def _slot(was: BriefRevision, ref: str | None) -> Slot | None:
    if ref is None:
        return None
    found = next((one for one in was.brief.slots if one.ref == ref), None)
    if found is None:
        raise Http404(_("There is no such day any more."))
    return found


def _new_ref(whole: Brief, form: SlotForm) -> str:
    known = {slot.ref for slot in whole.slots}
    name = f"{form.cleaned_data['day'][:3]}_{form.cleaned_data['place']}"[:36]
    return next(ref for number in range(1, len(known) + 2) if (ref := f"{name}_{number}") not in known)


def _with_slot(whole: Brief, before: Slot | None, new: Slot | None) -> Brief:
    kept = [new if slot == before else slot for slot in whole.slots]
    if before is None:
        kept.append(new)
    return whole.model_copy(update={"slots": tuple(slot for slot in kept if slot is not None)})


def _slot_change(whole: Brief, before: Slot | None, new: Slot | None) -> Change:
    those = [slot for slot in (before, new) if slot is not None]
    said = _("%s removed") if new is None else _("%s changed") if before else _("%s added")
    place = next((one for one in whole.places if new and one.ref == new.place), None)
    return Change(
        days=tuple((one.from_ or whole.start, one.until or whole.end) for one in those),
        reason=said % slot_title(those[-1]),
        slot=NewSlot(
            ref=those[-1].ref,
            slot=new,
            place=place,
            kit=tuple(one for one in whole.kit if place and one.place == place.ref),
        ),
    )


@needs("change_squad", change="change_squad")
def peaks_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Change the days to be fast on; what that would move is said first."""
    was = brief(request.actor, squad.key)
    not_older(request, was)
    before = was.brief.goal.peaks
    rows = peak_forms(before, request.POST if request.method == "POST" else None)
    context = {
        "squad": squad,
        "rows": rows,
        "after": shown_revision(request, was),
        "taper_days": was.brief.phases.taper_days,
    }
    if only_shown(request):
        return render(request, "calendar/peaks.html", context)
    if not all([row.is_valid() for row in rows]):  # noqa: C419 - every row is looked at: all faults show
        return render(request, "calendar/peaks.html", context, status=UNPROCESSABLE)
    peaks = peaks_of(rows)
    if peaks == before:
        messages.info(request, _("Nothing was changed."))
        return back(squad, None)
    changed = was.brief.model_copy(update={"goal": was.brief.goal.model_copy(update={"peaks": peaks})})
    faults = new_faults(was.brief, changed)
    if faults:
        context["faults"] = [in_words(fault) for fault in faults]
        return render(request, "calendar/peaks.html", context, status=UNPROCESSABLE)
    days = sorted({one.date for one in {*before, *peaks} if (one in before) != (one in peaks)})
    change = Change(tuple((day, day) for day in days), _reason([one.date for one in peaks]), peaks=peaks)

    def save() -> None:
        keep(request, squad, was, changed, reason=change.reason)

    return told_or_saved(request, squad, change, save=save, at=days[0])


def _reason(days: list[date]) -> str:
    return _("peaks on %s") % listing(day_month(day) for day in days) if days else _("no peak")
