"""One athlete's page, and the form for what is known of the person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.report.charts.profile_curve import curve_from_profile, profile_curve_svg
from speedloom.store.athletes import change_athlete
from speedloom.store.briefs import brief
from speedloom.store.cards import AthleteCard, SquadCard
from speedloom.store.daily import add_note, notes, take_back_note, wellness
from speedloom.store.measurements import measurements
from speedloom.store.permissions import allowed
from speedloom.store.refusals import ConflictError, RefusedError
from speedloom.store.restrictions import restrictions
from speedloom.store.training_now import programmes_of_athletes
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.athlete.changes import changes_shown, jumps_and_lifts, over_time
from speedloom.web.pages.athlete.level_form import LevelForm
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.restrictions.shown import RestrictionShown, restrictions_shown
from speedloom.web.pages.squad.fits import Reading, body_of, fits_of, profiles_of
from speedloom.web.pages.squad.numbers import profile_shown
from speedloom.web.pages.squad.person_form import PersonForm, first_values
from speedloom.wording.athlete_mine import SCALES
from speedloom.wording.names import METHOD_NAMES
from speedloom.wording.payoffs import payoff_text
from speedloom.workflows.profile_athlete import newest_by_athlete
from speedloom.workflows.resolve_brief import propose_level
from speedloom.workflows.what_pays import what_pays

UNPROCESSABLE = 422
ANSWERS_BACK = timedelta(days=14)
CONFLICT = 409


@dataclass(frozen=True)
class _Page:
    """The athlete's page under way."""

    request: Request
    squad: SquadCard
    card: AthleteCard
    tested: Measurements
    content: Brief | None
    """The squad's brief; None for who does not see the squad."""

    @property
    def reading(self) -> Reading:
        return Reading(self.content.trial, self.content.rules) if self.content else Reading("best")

    @property
    def profiles(self) -> tuple[Profile, ...]:
        """Profiles of all days, the newest last."""
        found = profiles_of(self.tested, people={self.card.ref: self.card.athlete}, reading=self.reading)
        return tuple(sorted(found, key=lambda one: (one.date, len(one.splits))))

    @property
    def distance_m(self) -> float | None:
        """The distance whose times are drawn: the goal's, or the longest of the last day [m]."""
        timed = sorted(
            (trial.date, split.distance_m) for trial in self.tested.trials for split in trial.splits
        )
        goal = self.content.goal.distance_m if self.content else None
        return goal if goal in {far for _day, far in timed} else timed[-1][1] if timed else None

    def speed(self) -> dict[str, object]:
        """Give the newest profile as picture and numbers."""
        profiles = self.profiles
        drawable = [one for one in profiles if one.vmax_mps and one.tau_s]
        shown = drawable[-1] if drawable else profiles[-1] if profiles else None
        if shown is None:
            return {}
        curve = curve_from_profile(shown, name=self.card.name)
        return {
            "profile": shown,
            "numbers": profile_shown(shown, name=self.card.name),
            "curve": profile_curve_svg(curve, skin="page") if curve else None,
            "pays": self._pays(shown),
        }

    def _pays(self, shown: Profile) -> str | None:
        """Say what pays, where the tests themselves show the start force."""
        if self.content is None or shown.f0_npkg is None:
            return None
        people = {self.card.ref: self.card.athlete}
        fitted = fits_of(self.tested, people=people, reading=self.reading)
        newest = newest_by_athlete(fitted, until=shown.date).get(self.card.ref)
        if newest is None:
            return None
        rulebook = load_rulebook().with_changes(self.content.rules)
        found = what_pays((newest,), goal=self.content.goal, rulebook=rulebook)
        text = payoff_text(found[0], units=units_of(self.request.actor))
        return f"{text[:1].upper()}{text[1:]}."

    def over(self) -> dict[str, object]:
        """Give changes and everything over time."""
        catalogue, units = load_catalogue(), units_of(self.request.actor)
        changes, left_out = changes_shown(
            self.tested,
            self.card.ref,
            body=body_of(self.card.athlete),
            reading=self.reading,
            catalogue=catalogue,
            units=units,
        )
        lines = over_time(
            self.tested,
            self.profiles,
            reading=self.reading,
            catalogue=catalogue,
            units=units,
            distance_m=self.distance_m,
        )
        strength = jumps_and_lifts(self.tested, reading=self.reading, catalogue=catalogue, units=units)
        return {"changes": changes, "left_out": left_out, "over_time": lines, "strength": strength}


@needs("see_athlete")
def athlete_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Show one athlete."""
    actor, key, ref, today = request.actor, squad.key, athlete.ref, localdate()
    content = brief(actor, key).brief if allowed(actor, "see_squad", squad=key) else None
    page = _Page(request, squad, athlete, measurements(actor, key, athlete=ref), content)
    context = {
        "squad": squad,
        "card": athlete,
        "person": athlete.athlete,
        "age": athlete.athlete.age_years(today),
        **page.speed(),
        **page.over(),
        "programmes": [one for one in programmes_of_athletes(actor, key) if ref in one.athletes],
        "levels_shown": [(METHOD_NAMES[method], level) for method, level in athlete.athlete.level.items()],
        "sees_health": allowed(actor, "see_health", squad=key, athlete=ref),
        "restrictions": _restrictions(request, squad, ref, today),
        "answers": _answers(request, squad, ref, today),
        "scales": SCALES,
        "changes_it": allowed(actor, "change_athlete", squad=key, athlete=ref),
        "writes": allowed(actor, "write_tests", squad=key),
        "notes": notes(actor, key, ref) if allowed(actor, "see_notes", squad=key, athlete=ref) else None,
        "writes_notes": allowed(actor, "write_notes", squad=key, athlete=ref),
        "sees_squad": content is not None,
        "plans": allowed(actor, "make_programme", squad=key),
    }
    return render(request, "athlete/athlete.html", context)


def _restrictions(request: Request, squad: SquadCard, ref: str, today: date) -> list[RestrictionShown]:
    """Give the restrictions in force; none for eyes they are not for."""
    actor = request.actor
    if not allowed(actor, "see_health", squad=squad.key, athlete=ref):
        return []
    cards = restrictions(actor, squad.key, athlete=ref)
    shown = restrictions_shown(actor, squad.key, cards, names={}, units=units_of(actor), today=today)
    return [one for one in shown if one.in_force]


def _answers(request: Request, squad: SquadCard, ref: str, today: date) -> list[tuple[date, list[int]]]:
    """Give what the athlete said of the last days, the newest first; none for eyes it is not for."""
    if not allowed(request.actor, "see_wellness", squad=squad.key, athlete=ref):
        return []
    said = wellness(request.actor, squad.key, since=today - ANSWERS_BACK)
    rows = [(one.date, [getattr(one, scale.name) for scale in SCALES]) for one in said if one.athlete == ref]
    return sorted(rows, reverse=True)


@needs("change_athlete", change="change_athlete")
@transaction.atomic
def about_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Ask what is known of the person, and the level in each method."""
    was = athlete.athlete
    data = request.POST if request.method == "POST" else None
    content = brief(request.actor, squad.key).brief
    proposed = propose_level(was, content, rulebook=load_rulebook().with_changes(content.rules))
    person = PersonForm(data, initial=first_values(was))
    levels = LevelForm(data, initial=dict(was.level), prefix="level", proposed=proposed)
    status = 200 if data is None else UNPROCESSABLE
    if data is not None and all((person.is_valid(), levels.is_valid())):
        try:
            changed = levels.changed(person.changed(was))
            change_athlete(request.actor, squad.key, changed, after=data.get("after"))
        except ConflictError as error:
            person.add_error(None, str(error))
            status = CONFLICT
        else:
            messages.success(request, _("Kept. A programme that is made from now on takes it into account."))
            return HttpResponseRedirect(reverse("athlete", args=[squad.key, athlete.ref]))
    context = {"squad": squad, "card": athlete, "form": person, "levels": levels, "after": athlete.version}
    return render(request, "athlete/about.html", context, status=status)


@needs(None, change="write_notes")
def note_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Keep a note about the athlete."""
    try:
        add_note(request.actor, squad.key, athlete.ref, text=request.POST.get("text", ""))
    except RefusedError as error:
        messages.error(request, str(error))
    return HttpResponseRedirect(reverse("athlete", args=[squad.key, athlete.ref]) + "#notes")


@needs(None, change="write_notes")
def take_back_page(request: Request, squad: SquadCard, athlete: AthleteCard, number: int) -> HttpResponse:
    """Hide a note of the person's own."""
    take_back_note(request.actor, squad.key, athlete.ref, number)
    messages.success(request, _("The note is taken back."))
    return HttpResponseRedirect(reverse("athlete", args=[squad.key, athlete.ref]) + "#notes")
