"""Restrictions of a squad and of one athlete: set, lifted, kept in view; clearances recorded."""

from __future__ import annotations

from dataclasses import dataclass, field

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.athletes import athletes
from speedloom.store.cards import AthleteCard, RestrictionCard, SquadCard
from speedloom.store.clearances import clearances, record_clearance, take_back_clearance
from speedloom.store.permissions import allowed
from speedloom.store.refusals import RefusedError
from speedloom.store.restrictions import lift_restriction, lifters, restrictions, set_restriction
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.restrictions.asked import answered, asked_form, asked_shown
from speedloom.web.pages.restrictions.forms import ClearanceForm, RestrictionForm, ScreeningForm
from speedloom.web.pages.restrictions.news import news_of
from speedloom.web.pages.restrictions.shown import clearances_shown, restrictions_shown
from speedloom.wording.athlete_restrictions import NO_CLINICIAN, NOBODY_LIFTS, RULE

UNPROCESSABLE = 422


@needs("see_health")
def squad_page(request: Request, squad: SquadCard) -> HttpResponse:
    """List the squad's restrictions: in force, and those of before; and its clearances."""
    actor, key = request.actor, squad.key
    people = athletes(actor, key)
    wanted = request.GET.get("athlete")
    if any(card.ref == wanted for card in people):
        return HttpResponseRedirect(reverse("athlete_restrictions", args=[key, wanted]) + "#set")
    names = {card.ref: card.name for card in people}
    cards = restrictions(actor, key, lifted=True)
    may = lifters(actor, key, cards)
    shown = restrictions_shown(
        actor,
        key,
        cards,
        names=names,
        units=units_of(actor),
        today=localdate(),
        nobody=may.nobody,
    )
    context = {
        "squad": squad,
        "in_force": [one for one in shown if one.in_force],
        "before": [one for one in shown if not one.in_force],
        "clearances": clearances_shown(clearances(actor, key), names=names),
        "people": [card for card in people if allowed(actor, "set_restriction", squad=key, athlete=card.ref)],
        "rule": RULE,
        "no_clinician": "" if may.clinician else NO_CLINICIAN,
        "nobody_lifts": NOBODY_LIFTS,
        "manages": allowed(actor, "manage_people", squad=key),
    }
    return render(request, "restrictions/squad.html", context)


@dataclass(frozen=True)
class _Page:
    """One athlete's page, with the forms as they were sent."""

    request: Request
    squad: SquadCard
    card: AthleteCard
    form: RestrictionForm | None = None
    clearance: ClearanceForm | None = None
    asked: ScreeningForm | None = None
    lift_fault: tuple[int, str] | None = None
    typed: dict[str, str] = field(default_factory=dict)

    def answer(self) -> HttpResponse:
        """Show the page; 422 where a form on it is not right."""
        actor, key, ref, today = self.request.actor, self.squad.key, self.card.ref, localdate()
        cards = restrictions(actor, key, lifted=True, athlete=ref)
        names, may = {ref: self.card.name}, lifters(actor, key, cards)
        shown = restrictions_shown(
            actor, key, cards, names=names, units=units_of(actor), today=today, nobody=may.nobody
        )
        records = allowed(actor, "record_clearance", squad=key, athlete=ref)
        asked = (
            asked_shown(actor, self.squad, self.card, self.asked, clinician_here=may.clinician)
            if records
            else {}
        )
        context = {
            "squad": self.squad,
            "card": self.card,
            "in_force": [one for one in shown if one.in_force],
            "before": [one for one in shown if not one.in_force],
            "clearances": clearances_shown(clearances(actor, key, athlete=ref), names=names),
            "form": self.form or RestrictionForm(units=units_of(actor), today=today),
            "clearance": (self.clearance or ClearanceForm(initial={"written_on": today}))
            if records
            else None,
            **asked,
            "lift_fault": self.lift_fault,
            "news": news_of(self.request, self.squad, ref, cards),
            "rule": RULE,
            "no_clinician": "" if may.clinician else NO_CLINICIAN,
            "nobody_lifts": NOBODY_LIFTS,
            "own": self.squad.role == "athlete",
        }
        wrong = any((self.form, self.clearance, self.asked, self.lift_fault))
        status = UNPROCESSABLE if wrong else 200
        return render(self.request, "restrictions/athlete.html", context, status=status)


@needs("see_health", change="set_restriction")
def athlete_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Show one athlete's restrictions, and set one."""
    if request.method != "POST":
        return _Page(request, squad, athlete).answer()
    actor, key, ref = request.actor, squad.key, athlete.ref
    form = RestrictionForm(request.POST, units=units_of(actor), today=localdate())
    if not form.is_valid():
        return _Page(request, squad, athlete, form=form).answer()
    taken = [one.restriction.ref for one in restrictions(actor, key, lifted=True, athlete=ref)]
    new = form.restriction(actor=actor, clinician=squad.role == "clinician", taken=taken)
    try:
        card = set_restriction(actor, key, ref, new)
    except RefusedError as error:
        form.add_error(None, str(error))
        return _Page(request, squad, athlete, form=form).answer()
    messages.success(request, _("Set. A programme that was made before does not know it."))
    return _to(squad, athlete, card)


@needs(None, change="lift_restriction")
def lift(request: Request, squad: SquadCard, athlete: AthleteCard, number: int) -> HttpResponse:
    """Lift a restriction, with a reason; its name and date are those of the person and of the day."""
    try:
        card = lift_restriction(
            request.actor, squad.key, athlete.ref, number, reason=request.POST.get("reason", "")
        )
    except RefusedError as error:
        return _Page(request, squad, athlete, lift_fault=(number, str(error))).answer()
    messages.success(request, _("Lifted, with your name, today's date and your reason."))
    return _to(squad, athlete, card)


@needs(None, change="record_clearance")
def clearance(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Record a written clearance that was seen; it lifts nothing by itself."""
    form = ClearanceForm(request.POST)
    if form.is_valid():
        try:
            record_clearance(request.actor, squad.key, athlete.ref, **form.cleaned_data)
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, _("Recorded. Restrictions stay until somebody lifts them."))
            return _to(squad, athlete)
    return _Page(request, squad, athlete, clearance=form).answer()


@needs(None, change="record_clearance")
def take_back(request: Request, squad: SquadCard, athlete: AthleteCard, number: int) -> HttpResponse:
    """Hide a clearance that was recorded by mistake."""
    take_back_clearance(request.actor, squad.key, athlete.ref, number)
    messages.success(request, _("The clearance is taken back."))
    return _to(squad, athlete)


@needs(None, change="record_clearance")
def asked(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Keep what was asked before hard work."""
    form = asked_form(request.actor, squad, athlete, request.POST)
    if not form.is_valid() or not answered(request.actor, squad, athlete, form, today=localdate()):
        return _Page(request, squad, athlete, asked=form).answer()
    messages.success(request, _("Kept. The next programme takes it into account."))
    return _to(squad, athlete)


def _to(squad: SquadCard, athlete: AthleteCard, card: RestrictionCard | None = None) -> HttpResponse:
    where = reverse("athlete_restrictions", args=[squad.key, athlete.ref])
    return HttpResponseRedirect(f"{where}?news={card.id}" if card else where)
