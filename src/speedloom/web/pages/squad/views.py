"""The squad's page: a row an athlete, athletes side by side, and the form for somebody new."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.report.charts.profile_curve import curve_from_profile
from speedloom.report.charts.side_by_side import MOST, Named, side_by_side_svg
from speedloom.store.athletes import add_athlete, athletes
from speedloom.store.briefs import brief
from speedloom.store.cards import AthleteCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.restrictions import restrictions
from speedloom.store.tested import newest_tests
from speedloom.store.training_now import programmes_of_athletes, written_since
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.squad.fits import Reading, profiles_of
from speedloom.web.pages.squad.person_form import PersonForm, new_ref
from speedloom.web.pages.squad.rows import (
    FILTERS,
    SORTS,
    Known,
    RowShown,
    best_times,
    distances,
    filtered,
    limits_by_athlete,
    ordered,
    rows_of,
    with_speeds,
)
from speedloom.web.pages.squad.weeks import done_by, standings

UNPROCESSABLE = 422
A_PAGE = 50
"""Athletes on one page [count]."""
LATELY = timedelta(days=27)
USUAL_M = 30.0


@dataclass(frozen=True)
class _Asked:
    """What the address asks for; whatever it does not know is as if it were not said."""

    sort: str
    show: str
    name: str
    beside: tuple[str, ...]
    distance_m: float


def _asked(request: Request, measured: Sequence[float], usual_m: float | None) -> _Asked:
    sent = request.GET
    wished = (usual_m or USUAL_M, USUAL_M, *measured[-1:])
    usual = next((one for one in wished if one in measured), USUAL_M)
    wanted = next((one for one in measured if f"{one:g}" == sent.get("distance", "")), usual)
    sort, show = sent.get("sort", ""), sent.get("show", "")
    return _Asked(
        sort=sort if sort in SORTS else "name",
        show=show if show in FILTERS else "all",
        name=sent.get("name", "")[:100],
        beside=tuple(dict.fromkeys(sent.getlist("beside")))[:MOST],
        distance_m=wanted,
    )


@needs("see_squad")
def squad_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show the squad."""
    actor, key, today = request.actor, squad.key, localdate()
    cards, content = athletes(actor, key), brief(actor, key).brief
    tested = newest_tests(actor, key)
    asked = _asked(request, distances(tested), content.goal.distance_m)
    known = _known(request, squad, cards, tested, today)
    times = best_times(
        tested,
        distance_m=asked.distance_m,
        rule=content.trial,
        rulebook=load_rulebook().with_changes(content.rules),
    )
    rows = filtered(rows_of(cards, known, times, today=today), show=asked.show, name=asked.name)
    rows = rows if asked.sort == "top_speed" else ordered(rows, sort=asked.sort)
    fast = _with_speeds(rows, known.tested, content) if asked.sort == "top_speed" else rows
    page = Paginator(ordered(fast, sort="top_speed") if fast is not rows else rows, A_PAGE).get_page(
        request.GET.get("page")
    )
    context = {
        "squad": squad,
        "rows": _with_speeds(list(page), known.tested, content),
        "page": page,
        "asked": asked,
        "distances": [(f"{one:g}", one == asked.distance_m) for one in distances(tested)],
        "picture": _picture(asked, cards, known.tested, content),
        "sees_health": allowed(actor, "see_health", squad=key),
        "adds": allowed(actor, "change_athlete", squad=key),
        "writes": allowed(actor, "write_tests", squad=key),
        "plans": allowed(actor, "make_programme", squad=key),
        "most": MOST,
    }
    return render(request, "squad/squad.html", context)


def _known(
    request: Request, squad: SquadCard, cards: Sequence[AthleteCard], tested: Measurements, today: date
) -> Known:
    actor, key = request.actor, squad.key
    standing = standings(key, programmes_of_athletes(actor, key), [card.ref for card in cards], today=today)
    return Known(
        tested=tested,
        limits=limits_by_athlete(
            restrictions(actor, key), on=today, catalogue=load_catalogue(), units=units_of(actor)
        ),
        standing=standing,
        done=done_by(written_since(actor, key, today - LATELY), standing=standing),
    )


def _with_speeds(rows: Sequence[RowShown], tested: Measurements, content: Brief) -> tuple[RowShown, ...]:
    return with_speeds(rows, _profiles([row.card for row in rows], tested, content))


def _profiles(cards: Sequence[AthleteCard], tested: Measurements, content: Brief) -> tuple[Profile, ...]:
    people = {card.ref: card.athlete for card in cards}
    own = Measurements(
        trials=tuple(one for one in tested.trials if one.athlete in people),
        traces=tuple(one for one in tested.traces if one.athlete in people),
    )
    return profiles_of(own, people=people, reading=Reading(content.trial, content.rules))


def _picture(asked: _Asked, cards: Sequence[AthleteCard], tested: Measurements, content: Brief) -> str | None:
    """Draw those who were chosen side by side."""
    chosen = [card for card in cards if card.ref in asked.beside]
    newest = {one.athlete: one for one in _profiles(chosen, tested, content) if one.vmax_mps}
    reach = max((split.distance_m + 5.0 for one in newest.values() for split in one.splits), default=40.0)
    curves = [
        Named(card.name, curve)
        for card in chosen
        if card.ref in newest and (curve := curve_from_profile(newest[card.ref], reach_m=reach))
    ]
    return side_by_side_svg(curves, title=_("Speed over distance, side by side")) if curves else None


@needs("change_athlete", change="change_athlete")
def add_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Add an athlete."""
    form = PersonForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        known = (*athletes(request.actor, squad.key), *athletes(request.actor, squad.key, archived=True))
        ref = new_ref(form.cleaned_data["name"], [card.ref for card in known])
        card = add_athlete(request.actor, squad.key, form.person(ref))
        messages.success(request, _("%(name)s is in the squad.") % {"name": card.name})
        if "again" in request.POST:
            return HttpResponseRedirect(reverse("athlete_add", args=[squad.key]))
        return HttpResponseRedirect(reverse("athlete", args=[squad.key, card.ref]))
    status = UNPROCESSABLE if request.method == "POST" else 200
    return render(request, "squad/add.html", {"squad": squad, "form": form}, status=status)
