"""A week copied, and a programme taken over by another athlete."""

from __future__ import annotations

from datetime import date, timedelta

from django.http import Http404, HttpResponse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.errors import EditError
from speedloom.planning.clash import Clash, unscreened
from speedloom.store.briefs import brief_to_plan
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.plan_now import to_plan_again
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import AthleteProgramme, Programme, Week
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.changes_saved import Desk, Place, opened
from speedloom.web.pages.programme.shown import chosen, chosen_week
from speedloom.wording.books import books_of
from speedloom.wording.clashes import clash_text
from speedloom.wording.dates import day_month, span
from speedloom.wording.names import athlete_name
from speedloom.workflows.copy_programme import copy_programme, with_athlete
from speedloom.workflows.copy_week import copy_week

Said = tuple[Programme, tuple[str, ...]]


def _open_weeks(document: Programme, own: AthleteProgramme, source: Week) -> list[tuple[int, str]]:
    """Give the weeks that something can be copied into: those with a day ahead."""
    frozen = document.revision.frozen_until or date.min
    return [
        (week.number, f"{week.number} ({span(week.monday, week.monday + timedelta(days=6))})")
        for week in own.weeks
        if week.number != source.number and any(session.date > frozen for session in week.sessions)
    ]


@needs("change_programme", change="change_programme")
def copy_week_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Ask into which week a week's work is copied, and copy it."""
    document = opened(request, squad, programme)
    typed = request.POST if request.method == "POST" else request.GET
    own = chosen(document, typed.get("athlete"))
    if not own.weeks:
        raise Http404(_("This programme has no weeks for this athlete."))
    source = chosen_week(own, typed.get("week"), today=localdate())
    context: dict[str, object] = {
        "name": athlete_name(document, own.athlete),
        "week": source.number,
        "weeks": _open_weeks(document, own, source),
        "target": typed.get("target", str(source.number + 1)),
    }
    place = Place(own.athlete, source.number)
    desk = Desk(request, squad, programme, document, place, "programme/copy_week.html", context)
    if request.method != "POST":
        return desk.page()

    def make() -> Said:
        target = typed.get("target", "")
        if not target.isdigit():
            raise EditError(_("Choose the week that is changed."))
        copied = copy_week(
            document,
            own.athlete,
            source=source.number,
            target=int(target),
            reason=typed.get("reason", ""),
            rulebook=load_rulebook(),
            catalogue=load_catalogue(),
            unlock="unlock" in typed,
        )
        left = [day_month(one.date) for one in copied.left]
        kept = [day_month(one.date) for one in copied.kept]
        also = (
            [_("Not copied, no such day in the other week: %(days)s.") % {"days": ", ".join(left)}]
            if left
            else []
        )
        also += [_("Stands as it was: %(days)s.") % {"days": ", ".join(kept)}] if kept else []
        return copied.programme, tuple(also)

    return desk.sent(make)


@needs("change_programme", change="change_programme")
def copy_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Ask who takes an athlete's programme over, and from when; write it with the other's own numbers."""
    document = opened(request, squad, programme)
    typed = request.POST if request.method == "POST" else request.GET
    own = chosen(document, typed.get("athlete"))
    there = {one.athlete for one in document.programmes}
    people = brief_to_plan(request.actor, squad.key)[0].athletes
    frozen = document.revision.frozen_until
    first = localdate() if frozen is None else max(localdate(), frozen + timedelta(days=1))
    context: dict[str, object] = {
        "name": athlete_name(document, own.athlete),
        "inside": [(ref, athlete_name(document, ref)) for ref in sorted(there) if ref != own.athlete],
        "outside": [(one.ref, one.title) for one in people if one.ref not in there],
        "target": typed.get("target", ""),
        "since": typed.get("since", first.isoformat()),
    }
    week = chosen_week(own, typed.get("week"), today=localdate()).number if own.weeks else 1
    place = Place(own.athlete, week)
    desk = Desk(request, squad, programme, document, place, "programme/copy.html", context)
    if request.method != "POST":
        return desk.page()
    return desk.sent(lambda: _copied(request, squad, document, own.athlete))


def _copied(request: Request, squad: SquadCard, document: Programme, source: str) -> Said:
    typed = request.POST
    target = typed.get("target", "")
    if not target:
        raise EditError(_("Choose who takes the programme over."))
    try:
        since = date.fromisoformat(typed.get("since", ""))
    except ValueError:
        raise EditError(_("First day: expected a date.")) from None
    now = to_plan_again(request.actor, squad.key, document)
    barred = _barred(now, target)
    if barred is not None:
        raise EditError(clash_told(barred, now))
    joined = _joined(request, squad, now, target)
    outcome = copy_programme(
        document,
        source,
        target,
        since=since,
        brief=joined,
        reason=typed.get("reason", ""),
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    if isinstance(outcome, Clash):
        # Who joins has a name there only.
        raise EditError(clash_text(outcome, brief=joined) if joined else clash_told(outcome, document))
    _book, catalogue = books_of(outcome.programme)
    names = {one.ref: one.name for one in catalogue.exercises}
    also = [
        _("Left out on %(day)s: %(exercise)s.")
        % {"day": day_month(one.date), "exercise": names.get(one.exercise, one.exercise)}
        for one in outcome.left_out
    ]
    return outcome.programme, tuple(also)


def _barred(now: Programme, target: str) -> Clash | None:
    """Say that who takes over is of the programme and not cleared; who joins is planned, and held there."""
    people = now.brief.content.athletes if now.brief.content else ()
    barred = any(one.ref == target and one.screening and one.screening.bars for one in people)
    return unscreened((target,)) if barred else None


def _joined(request: Request, squad: SquadCard, document: Programme, target: str) -> ResolvedBrief | None:
    """Give the programme's brief with somebody in it who is not in the programme yet."""
    was = document.brief.content
    if was is None or any(one.athlete == target for one in document.programmes):
        return None
    brief, measured = brief_to_plan(request.actor, squad.key)
    person = next((one for one in brief.athletes if one.ref == target), None)
    if person is None:
        return None
    return with_athlete(was, person, measured, rulebook=load_rulebook(), catalogue=load_catalogue())


def clash_told(clash: Clash, document: Programme) -> str:
    """Say in words why nothing can be planned."""
    brief = document.brief.content
    return clash_text(clash, brief=brief) if brief else ""
