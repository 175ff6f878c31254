"""The page that makes a programme: it asks what a careful coach asks, plans, or says what clashes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.planning.clash import Clash
from speedloom.store.athletes import athletes, change_athlete, record_screening
from speedloom.store.briefs import brief, brief_to_plan, save_brief
from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.store.programmes import programmes, save_programme
from speedloom.store.screenings import not_cleared
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.faults import Stated
from speedloom.web.pages.new_programme.first_days import proposed
from speedloom.web.pages.new_programme.forms import ProgrammeForm, SlotForm, first_values, slot_forms
from speedloom.web.pages.new_programme.people import CHOICES, LEVELS, Asked, asked
from speedloom.wording.clashes import clash_text, repair_text
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.repair import apply, needs_people, repairs
from speedloom.workflows.resolve_brief import resolve_brief

UNPROCESSABLE = 422


@dataclass(frozen=True)
class _Page:
    """The form under way: everything typed, read once."""

    request: Request
    squad: SquadCard
    was: BriefRevision
    form: ProgrammeForm
    slots: Sequence[SlotForm]
    people: Sequence[Asked]

    def answer(self, *, status: int = 200, **more: object) -> HttpResponse:
        """Show the form, with what was typed."""
        context = {
            "squad": self.squad,
            "form": self.form,
            "slots": self.slots,
            "people": self.people,
            "levels": LEVELS,
            "after": self.request.POST.get("after", self.was.number),
            "all_well": "all_well" in self.request.POST,
            "places": self.was.brief.places,
            **more,
        }
        return render(self.request, "new_programme/new_programme.html", context, status=status)

    @property
    def sound(self) -> bool:
        """Whether all that was typed can be used."""
        forms = [self.form.is_valid(), *(slot.is_valid() for slot in self.slots)]
        people = [one for one in self.people if one.taken]
        return all(forms) and self.names_days and bool(people) and not any(one.faults for one in people)

    @property
    def names_days(self) -> bool:
        """Whether any day that can be trained on was named."""
        return any(slot.is_valid() and slot.cleaned_data.get("day") for slot in self.slots)

    @property
    def stated(self) -> list[Stated]:
        """Say what stands against what belongs to no form: days, and what was asked of each athlete."""
        found = [one for person in self.people for one in person.faults]
        if not self.names_days:
            no_day = _("Expected at least one, with its start, minutes and place.")
            found.insert(0, Stated(_("Days that can be trained on"), no_day, "days"))
        if not any(one.taken for one in self.people):
            found.append(Stated(_("Who takes part"), _("Tick at least one athlete."), "people"))
        return found

    def wanted(self) -> Brief:
        """Give the brief with what was typed."""
        changed = self.form.changed(self.was.brief)
        rows = (slot.slot(self.was.brief, place) for place, slot in enumerate(self.slots, 1))
        return changed.model_copy(update={"slots": tuple(slot for slot in rows if slot is not None)})


@needs("make_programme", change="make_programme")
def new_programme_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Ask, plan, and open the programme; or say what is missing, or what clashes and what would help."""
    page = _page(request, squad, request.POST if request.method == "POST" else None)
    if request.method != "POST" or request.POST.get("choose") in CHOICES:
        return page.answer()
    if not page.sound:
        return page.answer(status=UNPROCESSABLE, stated=page.stated, no_days=not page.names_days)
    resolved = _resolved(page)
    number = request.POST.get("repair", "")
    outcome = _plan(resolved)
    if isinstance(outcome, Clash) and number.isdigit():
        resolved, outcome = _repaired(resolved, outcome, int(number))
    if isinstance(outcome, Clash):
        return page.answer(status=UNPROCESSABLE, **_clash(outcome, resolved))
    card = save_programme(request.actor, squad.key, outcome, name=page.form.cleaned_data["name"])
    messages.success(request, _("The programme is made. Look at the table, and at what the check says."))
    return HttpResponseRedirect(reverse("programme", args=[squad.key, card.id]))


def _page(request: Request, squad: SquadCard, data: QueryDict | None) -> _Page:
    was = brief(request.actor, squad.key)
    cards = athletes(request.actor, squad.key)
    names = {card.name for card in programmes(request.actor, squad.key)} if data is None else ()
    wanted = request.GET.get("athlete")
    alone = next((card.ref for card in cards if card.ref == wanted), None)
    days = proposed(request.actor, squad.key, was.brief, today=localdate(), alone=alone)
    form = ProgrammeForm(data, initial=first_values(was.brief, days, names=names))
    form.fields["start"].help_text = days.why
    people = asked(cards, data, alone=alone, not_cleared=not_cleared(request.actor, squad.key))
    return _Page(request, squad, was, form, slot_forms(was.brief, data), people)


@transaction.atomic
def _resolved(page: _Page) -> ResolvedBrief:
    """Keep what was answered, and give the brief of those who take part, ready to be planned."""
    actor, squad = page.request.actor, page.squad.key
    for one in page.people:
        if one.taken:
            record_screening(actor, squad, one.ref, one.screening(localdate()))
            if one.athlete() != one.card.athlete:
                change_athlete(actor, squad, one.athlete())
    after = page.request.POST.get("after", "")
    number = int(after) if after.isdigit() else page.was.number
    save_brief(actor, squad, page.wanted(), after=number, reason=_("new programme"))
    whole, measured = brief_to_plan(actor, squad)
    taken = {one.ref for one in page.people if one.taken}
    part = whole.model_copy(update={"athletes": tuple(one for one in whole.athletes if one.ref in taken)})
    book = load_rulebook().with_changes(part.rules)
    return resolve_brief(part, measured, rulebook=book, catalogue=load_catalogue())


def _plan(resolved: ResolvedBrief) -> Programme | Clash:
    return plan_programme(resolved, rulebook=load_rulebook(), catalogue=load_catalogue())


def _repaired(resolved: ResolvedBrief, clash: Clash, number: int) -> tuple[ResolvedBrief, Programme | Clash]:
    """Try a repair; one that is for people to do is not tried."""
    known = repairs(clash)
    if not 1 <= number <= len(known) or needs_people(known[number - 1]):
        return resolved, clash
    changed = apply(resolved, known[number - 1])
    return changed, _plan(changed)


def _clash(clash: Clash, resolved: ResolvedBrief) -> dict[str, object]:
    found = [
        {"number": number, "text": repair_text(one), "can_try": not needs_people(one)}
        for number, one in enumerate(repairs(clash), 1)
    ]
    return {"clash": clash_text(clash, brief=resolved), "repairs": found}
