"""An athlete's own page. Its permission is the one that only athletes have, about themselves."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.handouts.papers import Order, athlete_sheets
from speedloom.store.cards import AthleteCard, SquadCard
from speedloom.store.daily import own_notes, record_wellness, wellness
from speedloom.store.limits_now import with_people_now
from speedloom.store.measurements import measurements
from speedloom.store.refusals import NotThereError
from speedloom.store.restrictions import restrictions
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Session
from speedloom.web.access import Request, needs
from speedloom.web.pages.athlete.changes import changes_shown
from speedloom.web.pages.mine import shown
from speedloom.web.pages.mine.forms import AnswersForm, NoteForm, StopForm
from speedloom.web.pages.mine.own import Own, running
from speedloom.web.pages.mine.stopping import offered, stop, trained_today
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.restrictions.shown import restrictions_shown
from speedloom.web.pages.squad.fits import Reading, body_of
from speedloom.wording import athlete_mine as words
from speedloom.wording.athlete_restrictions import NONE_OWN, STOP_SAID, nothing_until
from speedloom.wording.books import books_of
from speedloom.wording.units import Units

UNPROCESSABLE = 422


@needs("write_wellness")
def mine_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Show the athlete what is theirs."""
    return page(request, squad, athlete)


def page(
    request: Request,
    squad: SquadCard,
    athlete: AthleteCard,
    *,
    answers: AnswersForm | None = None,
    noted: NoteForm | None = None,
) -> HttpResponse:
    """Answer with the athlete's page, and with the forms as they were sent where one is not right."""
    actor, key, ref, today = request.actor, squad.key, athlete.ref, localdate()
    units = units_of(actor)
    one = running(actor, key, ref, today=today)
    cards = one.limits if one else restrictions(actor, key, athlete=ref)
    said = next((each for each in wellness(actor, key, since=today) if each.date == today), None)
    initial = {scale.name: str(getattr(said, scale.name)) for scale in words.SCALES} if said else {}
    limits = restrictions_shown(actor, key, cards, names={}, units=units, today=today)
    context = {
        "squad": squad,
        "card": athlete,
        "today": today,
        "others": [each for each in actor.memberships if each.athlete and each.squad != key],
        "limits": [each for each in limits if each.in_force],
        "stopped": [
            nothing_until(each.card.restriction, set_in=each.card.set_in)
            for each in limits
            if each.state == "now" and each.card.restriction.forbids_all
        ][:1],
        "answers": answers or AnswersForm(initial=initial),
        "answered": said is not None,
        "noted": noted or NoteForm(),
        "day_notes": own_notes(actor, key, ref),
        "words": words,
        "none_own": NONE_OWN,
        **(_trained(one, units=units, login=actor.login, clinician=squad.clinician) if one else {}),
        **_tested(request, squad, athlete, one, units=units),
    }
    return render(request, "mine/mine.html", context, status=UNPROCESSABLE if answers or noted else 200)


def _trained(one: Own, *, units: Units, login: str, clinician: bool) -> dict[str, object]:
    """Give what the programme and the log hold of the athlete."""
    _book, catalogue = books_of(one.document)
    days, beyond = one.days, one.beyond()
    written = shown.written_shown(one, catalogue=catalogue, units=units)

    trained = [each for each in (*days.today, *days.ahead) if not one.stopped(each.date)]

    def put(session: Session) -> shown.SessionShown:
        return shown.session_shown(
            one, session, catalogue=catalogue, units=units, beyond=beyond, clinician=clinician
        )

    return {
        "own": one,
        "sessions": [put(session) for session in days.today],
        "ahead": [put(session) for session in days.ahead],
        "unwritten": [(session, shown.title_of(session)) for session in days.unwritten],
        "targets": shown.targets_shown(trained, catalogue=catalogue, units=units),
        "written": written,
        "notes": shown.own_notes(one, login=login),
        "week": days.week,
        "weeks": len(one.own.weeks),
    }


def _tested(
    request: Request, squad: SquadCard, athlete: AthleteCard, one: Own | None, *, units: Units
) -> dict[str, object]:
    """Give what the athlete's own tests say."""
    tested = measurements(request.actor, squad.key, athlete=athlete.ref)
    content = one.document.brief.content if one else None
    reading = Reading(content.trial, content.rules) if content else Reading("best")
    catalogue = load_catalogue()
    changes, left_out = changes_shown(
        tested,
        athlete.ref,
        body=body_of(athlete.athlete),
        reading=reading,
        catalogue=catalogue,
        units=units,
    )
    bests = shown.bests_shown(tested, rule=reading.rule, catalogue=catalogue, units=units)
    return {"changes": changes, "left_out": left_out, "bests": bests}


@needs(None, change="write_wellness")
def answers(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Keep today's five answers; none of them is fine as well."""
    form = AnswersForm(request.POST)
    if not any(request.POST.get(scale.name) for scale in words.SCALES):
        messages.info(request, _("Nothing was answered; that is fine."))
    elif form.is_valid():
        record_wellness(request.actor, squad.key, form.wellness(athlete.ref, on=localdate()))
        messages.success(request, _("Kept for today."))
    else:
        return page(request, squad, athlete, answers=form)
    return HttpResponseRedirect(reverse("mine", args=[squad.key, athlete.ref]))


@needs("write_wellness", change="write_wellness")
def stop_page(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Stop: one exercise of today, or everything, by the athlete; a coach or a clinician lifts it."""
    today = localdate()
    one = running(request.actor, squad.key, athlete.ref, today=today)
    sessions = trained_today(one, today)
    catalogue = books_of(one.document)[1] if one else load_catalogue()
    form = StopForm(
        request.POST if request.method == "POST" else None,
        lines=list(offered(sessions, catalogue=catalogue)),
        written=bool(sessions),
    )
    if request.method == "POST" and form.is_valid():
        stop(request.actor, squad.key, one, sessions, athlete=athlete.ref, today=today, **form.said)
        messages.success(request, STOP_SAID)
        return HttpResponseRedirect(reverse("mine", args=[squad.key, athlete.ref]))
    status = UNPROCESSABLE if request.method == "POST" else 200
    context = {"squad": squad, "card": athlete, "form": form, "help": words.HURTS_HELP}
    return render(request, "mine/stop.html", context, status=status)


@needs("write_wellness")
def sheet(request: Request, squad: SquadCard, athlete: AthleteCard) -> HttpResponse:
    """Give the athlete's own sheet of the week as a PDF."""
    one = running(request.actor, squad.key, athlete.ref, today=localdate())
    if one is None or not one.own.weeks:
        raise NotThereError(words.NO_PROGRAMME)
    week = one.days.week or one.own.weeks[0]
    order = Order(
        athlete=athlete.ref, week=week.number, units=units_of(request.actor), clinician=squad.clinician
    )
    document = with_people_now(request.actor, squad.key, one.document)
    answer = HttpResponse(athlete_sheets(document, order), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="week-{week.number}.pdf"'
    return answer
