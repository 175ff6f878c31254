"""Sharper numbers: what was logged may move a number; the coach says which, and sees first what it moves."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from hashlib import sha256

from django.http import HttpResponse
from django.utils.dateparse import parse_date
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.logs import log
from speedloom.store.plan_now import to_plan_again
from speedloom.store.programmes import read_programme
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.kept import of_people
from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.proposals.shown import proposals_shown
from speedloom.web.pages.replan.answers import UNPROCESSABLE, Desk
from speedloom.web.pages.replan.under_way import Job, Outcome, Report, under_way
from speedloom.wording.books import books_of
from speedloom.wording.proposals import ProposalBook, why_text
from speedloom.workflows.accept_proposals import accept_proposals
from speedloom.workflows.sharpen import proposals
from speedloom.workflows.sharpen_proposal import Proposal

TEMPLATE = "proposals/proposals.html"


@dataclass(frozen=True)
class _Asked:
    """A day's log of a revision, by what it is: the same gives the same proposals."""

    key: str
    document: Programme
    written: Log
    on: date
    now: ResolvedBrief | None
    """The brief with everybody's limits and clearances of now; what is proposed does not ask for them."""

    def __hash__(self) -> int:
        """Know it by its key: the documents are named in it."""
        return hash(self.key)

    def __eq__(self, other: object) -> bool:
        """Know it by its key."""
        return isinstance(other, _Asked) and other.key == self.key


@of_people
@lru_cache(maxsize=32)
def _found(asked: _Asked) -> tuple[Proposal, ...]:
    _book, catalogue = books_of(asked.document)
    return proposals(
        asked.document, asked.written, on=asked.on, rulebook=load_rulebook(), catalogue=catalogue
    )


def _job(asked: _Asked, chosen: tuple[Proposal, ...]) -> Job:
    """Begin to write what is chosen into a revision, or find it begun."""
    now = canonical(asked.now) if asked.now else ""
    key = sha256("\n".join([asked.key, now, *(one.id for one in chosen)]).encode()).hexdigest()

    def make(report: Report) -> Outcome:
        return accept_proposals(
            asked.document,
            chosen,
            on=asked.on,
            why=why_text,
            brief=asked.now,
            rulebook=load_rulebook(),
            catalogue=load_catalogue(),
            progress=report,
        )

    return under_way(key, make)


@needs("change_programme", change="change_programme")
def proposals_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """List what the log would move; show what accepting some of it changes; save it when it is accepted."""
    typed = request.POST if request.method == "POST" else request.GET
    day = _day(typed["on"]) if "on" in typed else localdate() - timedelta(days=1)
    asked = _asked(request, squad, programme, day or localdate())
    found = _found(asked)
    taken = {one.id for one in found} if "all" in typed else set(typed.getlist("take"))
    chosen = tuple(one for one in found if one.id in taken and one.acceptable)
    rulebook, catalogue = books_of(asked.document)
    book = ProposalBook(asked.document, catalogue, rulebook)
    context: dict[str, object] = {
        "found": proposals_shown(found, book=book, taken=taken),
        "on": typed.get("on", asked.on.isoformat()),
        "day_wrong": day is None,
        "kept": [("on", asked.on.isoformat()), *(("take", one.id) for one in chosen), ("look", "1")],
        "nothing": not asked.written.entries,
    }
    since = asked.on + timedelta(days=1)
    desk = Desk(request, squad, programme, asked.document, since, TEMPLATE, context)
    return _answer(desk, asked, chosen, looks=bool({"look", "all"} & set(typed)))


def _asked(request: Request, squad: SquadCard, card: ProgrammeCard, on: date) -> _Asked:
    document = read_programme(request.actor, squad.key, card.id)
    written = log(request.actor, squad.key, card.id)
    ids = "\n".join(entry.id for entry in written.entries)
    now = to_plan_again(request.actor, squad.key, document).brief.content
    return _Asked(f"{card.digest} {on} {sha256(ids.encode()).hexdigest()}", document, written, on, now)


def _answer(desk: Desk, asked: _Asked, chosen: tuple[Proposal, ...], *, looks: bool) -> HttpResponse:
    sent = desk.request.method == "POST"
    if desk.context["day_wrong"]:
        return desk.page(status=UNPROCESSABLE)
    if not sent and not looks:
        return desk.page()
    if not chosen:
        return desk.page(status=UNPROCESSABLE, faults=[_("Tick at least one number to accept.")])
    job = _job(asked, chosen)
    return desk.accepted(job) if sent else desk.looked(job)


def _day(text: str | None) -> date | None:
    try:
        return parse_date(text or "")
    except ValueError:
        return None
