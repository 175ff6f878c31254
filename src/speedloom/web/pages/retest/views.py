"""The retest: what changed between two tests, for the squad, and for one athlete in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.dateparse import parse_date
from django.utils.timezone import localdate

from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.retest_athlete import RetestPeople, retest_athlete_pdf
from speedloom.report.sheets.retest_colleagues import retest_colleagues_pdf
from speedloom.store.athletes import athletes
from speedloom.store.cards import Actor, AthleteCard, SquadCard
from speedloom.store.logs import log
from speedloom.store.permissions import allowed
from speedloom.store.programmes import programmes, read_programme
from speedloom.store.retested import SquadTests, squad_tests
from speedloom.store.tested import measured_days
from speedloom.training.exercise import load_catalogue
from speedloom.training.kept import of_people
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.retest.shown import RetestBook, own_shown, retest_shown
from speedloom.wording.books import books_of
from speedloom.workflows.done_between import DoneBetween, done_by_athlete
from speedloom.workflows.retest import Retest, retest
from speedloom.workflows.retest_part import retest_of
from speedloom.workflows.standing_log import standing_log

PDF = "application/pdf"


@dataclass(frozen=True)
class _Asked:
    """What is compared: a squad's tests between two days, known by all that the comparison rests on.

    Found by the squad, and then held against the tests themselves: rows that stand are the same in memory.
    """

    squad: str
    tests: SquadTests = field(hash=False)
    since: date | None
    until: date | None


@of_people
@lru_cache(maxsize=16)
def _compared(asked: _Asked) -> Retest:
    tests = asked.tests
    return retest(
        tests.measurements,
        trial_rule=tests.brief.trial,
        rulebook=load_rulebook().with_changes(tests.brief.rules),
        people={one.ref: one for one in tests.people},
        since=asked.since,
        until=asked.until,
    )


@dataclass(frozen=True)
class _Desk:
    """A comparison cut to the person's eyes, with what its words need."""

    found: Retest
    book: RetestBook

    @property
    def people(self) -> RetestPeople:
        """Who is who, as the papers ask for it."""
        return RetestPeople(self.book.names, self.book.goal_m, self.book.done)


def _desk(request: Request, squad: SquadCard, *, athlete: str | None = None) -> _Desk:
    actor, asked = request.actor, request.GET
    tests = squad_tests(actor, squad.key, athlete=athlete)
    whole = _compared(_Asked(squad.key, tests, _day(asked.get("since")), _day(asked.get("until"))))
    seen = {card.ref: card.name for card in athletes(actor, squad.key)}
    # One athlete's words need to know how many were tested, and show nobody else.
    found = whole if athlete else retest_of(whole, set(seen))
    book = RetestBook(
        names={ref: name for ref, name in seen.items() if athlete in {None, ref}},
        done=_done(actor, squad.key, found, {athlete} if athlete else set(seen)),
        goal_m=tests.brief.goal.distance_m,
        catalogue=load_catalogue(),
        rulebook=load_rulebook().with_changes(tests.brief.rules),
        units=units_of(actor),
    )
    return _Desk(found, book)


def _done(actor: Actor, squad: str, found: Retest, refs: set[str]) -> Mapping[str, DoneBetween]:
    """Count what was written down in between, of the newest programme."""
    newest = programmes(actor, squad, most=1)
    if not newest:
        return {}
    document = read_programme(actor, squad, newest[0].id)
    known = {own.athlete for own in document.programmes} & refs
    days = ((ref, *found.days(ref)) for ref in found.athletes if ref in known)
    book, catalogue = books_of(document)
    standing = standing_log(log(actor, squad, newest[0].id), document)
    return done_by_athlete(standing, days, rulebook=book, catalogue=catalogue)


def _day(text: str | None) -> date | None:
    try:
        return parse_date(text or "")
    except ValueError:
        return None


def _query(request: Request) -> str:
    chosen = {name: _day(request.GET.get(name)) for name in ("since", "until")}
    return "&".join(f"{name}={day}" for name, day in chosen.items() if day)


@needs("see_tests")
def retest_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show what changed for everybody this person may see."""
    desk = _desk(request, squad)
    context = {
        "squad": squad,
        "shown": retest_shown(desk.found, desk.book),
        "days": [one.day.isoformat() for one in measured_days(request.actor, squad.key)][::-1],
        "since": request.GET.get("since", ""),
        "until": request.GET.get("until", ""),
        "query": _query(request),
        "writes": allowed(request.actor, "write_tests", squad=squad.key),
    }
    return render(request, "retest/retest.html", context)


@needs("see_tests")
def retest_paper(request: Request, squad: SquadCard) -> HttpResponse:
    """Give the pages for colleagues as a PDF."""
    desk = _desk(request, squad)
    if not desk.found.panels:
        return HttpResponseRedirect(reverse("retest", args=[squad.key]))
    body = retest_colleagues_pdf(
        desk.found,
        people=desk.people,
        catalogue=desk.book.catalogue,
        rulebook=desk.book.rulebook,
        paper=_paper(request),
        units=desk.book.units,
    )
    return _pdf(body, "retest-colleagues")


@needs("see_tests")
def own_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Show one athlete what changed, in plain words."""
    desk = _desk(request, squad, athlete=athlete.ref)
    context = {
        "squad": squad,
        "card": athlete,
        "shown": own_shown(desk.found, athlete.ref, desk.book),
        "query": _query(request),
        "sees_squad": allowed(request.actor, "see_tests", squad=squad.key),
    }
    return render(request, "retest/own.html", context)


@needs("see_tests")
def own_paper(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Give one athlete's page as a PDF."""
    desk = _desk(request, squad, athlete=athlete.ref)
    if athlete.ref not in desk.found.athletes:
        return HttpResponseRedirect(reverse("retest_own", args=[squad.key, athlete.ref]))
    body = retest_athlete_pdf(
        desk.found,
        people=desk.people,
        catalogue=desk.book.catalogue,
        paper=_paper(request),
        athletes=(athlete.ref,),
        units=desk.book.units,
    )
    return _pdf(body, f"retest-{athlete.ref}")


def _paper(request: Request) -> Paper:
    return Paper(localdate(), "us-letter" if request.GET.get("paper") == "us-letter" else "a4")


def _pdf(body: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(body, content_type=PDF)
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer
