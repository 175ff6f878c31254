"""The rest solved again around what is locked: asked for, looked at, and then saved.

Planning takes longer than a page may, so the page that opens plans nothing yet.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from django.http import HttpResponse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.errors import EditError, SpeedloomError
from speedloom.planning.clash import Clash
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.plan_now import to_plan_again
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import Beside
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.changes_copies import clash_told
from speedloom.web.pages.programme.changes_saved import UNPROCESSABLE, Desk, Place, opened
from speedloom.web.pages.programme.shown import chosen, chosen_week
from speedloom.wording.replanned import replanned_lines
from speedloom.workflows.replan import replan

LOOK = "look"


@dataclass(frozen=True)
class _Solved:
    """What was planned last from a revision, with all that it rests on."""

    since: date
    brief: ResolvedBrief | None
    made: Programme


_SOLVED = Beside[_Solved]()
"""One a revision, so that saving what was looked at does not plan it anew."""


@needs("change_programme", change="change_programme")
def again_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Ask first; show what solving the rest again would change when that is asked for; save it on a word."""
    document = opened(request, squad, programme)
    typed = request.POST if request.method == "POST" else request.GET
    own = chosen(document, typed.get("athlete"))
    frozen = document.revision.frozen_until
    since = localdate() if frozen is None else max(localdate(), frozen + timedelta(days=1))
    reason = typed.get("reason", "").strip() or _("Solved again around what is locked")
    context: dict[str, object] = {"since": since, "reason": reason, "looked": False}
    week = chosen_week(own, typed.get("week"), today=localdate()).number if own.weeks else 1
    place = Place(own.athlete, week)
    desk = Desk(request, squad, programme, document, place, "programme/again.html", context)
    if request.method != "POST":
        return desk.page()
    if LOOK not in typed:
        return desk.sent(lambda: _again(request, squad, document, since, reason=reason))
    try:
        made = _again(request, squad, document, since, reason=reason)
    except SpeedloomError as error:
        return desk.page(faults=tuple(str(error).splitlines()), status=UNPROCESSABLE)
    context |= {
        "looked": True,
        "same": made is document,
        "lines": replanned_lines(document, made, since=since),
    }
    return desk.page()


def _again(request: Request, squad: SquadCard, document: Programme, since: date, *, reason: str) -> Programme:
    """Give the rest planned again, by everybody's health of now; the document where nothing is new."""
    brief = to_plan_again(request.actor, squad.key, document).brief.content
    kept = _SOLVED.get(document)
    if kept is None or (kept.since, kept.brief) != (since, brief):
        kept = _SOLVED.keep(document, _Solved(since, brief, _planned(document, since, brief)))
    if kept.made is document:
        return document
    revision = kept.made.revision.model_copy(update={"reason": reason})
    return kept.made.model_copy(update={"revision": revision})


def _planned(document: Programme, since: date, brief: ResolvedBrief | None) -> Programme:
    outcome = replan(
        document,
        since=since,
        brief=brief,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
        reason="",
    )
    if isinstance(outcome, Clash):
        raise EditError(clash_told(outcome, document))
    return outcome
