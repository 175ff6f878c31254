"""How a change is answered: refused with everything typed kept, or saved with what it did."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.checking.finding import Finding
from speedloom.errors import EditError, SpeedloomError
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.programmes import read_programme, revisions, save_programme
from speedloom.training.programme import Programme
from speedloom.web.access import Request
from speedloom.web.pages.programme.found import found_of
from speedloom.web.pages.programme.hard_limits import above_limits_now
from speedloom.wording.books import books_of
from speedloom.wording.differences import FIELDS, differences_text
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.wording.names import word
from speedloom.workflows.check_news import CheckNews, check_news
from speedloom.workflows.compare import compare
from speedloom.workflows.group import Found, found
from speedloom.workflows.locked import locks_of

UNPROCESSABLE = 422
CONFLICT = 409


def find(programme: Programme, ref: str) -> Found:
    """Find a line or a session by its ref.

    Raises:
        Http404: there is none of that name.
    """
    one = next((place for name, place in found(programme) if name == ref), None)
    if one is None:
        raise Http404(_("There is nothing of that name in this programme."))
    return one


@dataclass(frozen=True)
class Place:
    """Where a change is made: whose week it goes back to, and what is changed of it, if one thing is."""

    athlete: str
    week: int
    ref: str = ""


@dataclass(frozen=True)
class Desk:
    """One change under way; whatever is wrong, what was typed comes back.

    `part` is the template with the form; `context` what it needs beside what every form has.
    """

    request: Request
    squad: SquadCard
    card: ProgrammeCard
    document: Programme
    place: Place
    part: str
    context: dict[str, object] = field(default_factory=dict)

    def page(self, *, faults: tuple[str, ...] = (), status: int = 200) -> HttpResponse:
        """Answer with the form: in the page beside the week, or as a page of its own."""
        typed = self.request.POST
        context = {
            "squad": self.squad,
            "card": self.card,
            "place": self.place,
            "reason": typed.get("reason", ""),
            "group": "group" in typed,
            "unlock": "unlock" in typed,
            "locks": list(self._locks()),
            "after": typed.get("after", self.card.digest),
            "faults": faults,
            "part": self.part,
            **self.context,
        }
        template = self.part if self.request.htmx else "programme/change_page.html"
        return render(self.request, template, context, status=status)

    def sent(self, make: Callable[[], Programme | tuple[Programme, tuple[str, ...]]]) -> HttpResponse:
        """Make the change, ask the check, and save it; or give the form back.

        `make` gives the changed programme, and what else there is to say of it.
        """
        if self.request.POST.get("after") != self.card.digest:
            fault = _(
                "Somebody changed the programme meanwhile. Look at it; what you typed still stands here."
            )
            return self.page(faults=(fault,), status=CONFLICT)
        try:
            outcome = make()
        except (EditError, ValueError, SpeedloomError) as error:
            return self.page(faults=tuple(str(error).splitlines()), status=UNPROCESSABLE)
        made, also = outcome if isinstance(outcome, tuple) else (outcome, ())
        news = news_of(self.document, made)
        forbidden = news.hard or above_limits_now(self.request.actor, self.squad.key, self.document, made)
        if forbidden:
            hard = told(made, forbidden)
            last = _("A hard rule does not allow this; nothing was saved.")
            return self.page(faults=(*hard, last), status=UNPROCESSABLE)
        return saved(self.request, self.card, (self.document, made), at=self.place, news=news, also=also)

    def _locks(self) -> Iterator[str]:
        """Say what is locked here, why, and by whom."""
        locks = locks_of(self.document, self.place.ref) if self.place.ref else ()
        if not locks:
            return
        people = {
            one.reason: one.by
            for one in reversed(revisions(self.request.actor, self.squad.key, self.card.id))
        }
        for name, reason in locks:
            what = FIELDS.get(name, word(name)) if name else _("the whole session")
            who = people.get(reason, "")
            why = ", ".join(filter(None, (f"“{reason}”" if reason else "", who)))
            yield f"{what} ({why})" if why else what


def news_of(before: Programme, made: Programme) -> CheckNews:
    """Give what the check finds otherwise about the athletes whose weeks have changed."""
    old = {own.athlete: own for own in before.programmes}
    athletes = frozenset(own.athlete for own in made.programmes if old.get(own.athlete) != own)
    if not athletes:
        return CheckNews((), ())
    known = athletes.intersection(old)
    return check_news(found_of(before, known) if known else (), found_of(made, athletes))


def told(programme: Programme, findings: tuple[Finding, ...]) -> list[str]:
    """Write findings as sentences."""
    rulebook, catalogue = books_of(programme)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=programme)
    return [finding_sentence(one, book=book) for one in findings]


def saved(
    request: Request,
    card: ProgrammeCard,
    both: tuple[Programme, Programme],
    *,
    at: Place,
    news: CheckNews | None = None,
    also: tuple[str, ...] = (),
) -> HttpResponse:
    """Save a revision, say what changed and what the check says, and go back to the week.

    Args:
        request: the request.
        card: the programme as it was when the page was read.
        both: the document before and after.
        at: the week to go back to.
        news: what the check finds otherwise.
        also: what else there is to say.
    """
    before, made = both
    if made is not before:
        save_programme(request.actor, card.squad, made, after=card.digest)
    _say(request, both, news=news or CheckNews((), ()), also=also)
    where = reverse("programme", args=[card.squad, made.id])
    # The revision makes it another address: a browser does not load the same one anew for its fragment.
    back = f"{where}?athlete={at.athlete}&week={at.week}&revision={made.revision.number}#week"
    if not request.htmx:
        return HttpResponseRedirect(back)
    answer = HttpResponse(status=204)
    answer["HX-Redirect"] = back
    return answer


def _say(
    request: Request, both: tuple[Programme, Programme], *, news: CheckNews, also: tuple[str, ...]
) -> None:
    """Say what changed, and what the check says of it."""
    before, made = both
    _book, catalogue = books_of(made)
    text = differences_text(compare(before, made), programme=made, catalogue=catalogue)
    for line in text.strip().splitlines():
        messages.success(request, line)
    for line in told(made, news.to_look_at):
        messages.warning(request, _("Now also to look at: %(finding)s") % {"finding": line})
    for line in told(before, news.gone):
        messages.success(request, _("No longer: %(finding)s") % {"finding": line})
    for line in also:
        messages.warning(request, line)


def opened(request: Request, squad: SquadCard, card: ProgrammeCard) -> Programme:
    """Read the newest revision."""
    return read_programme(request.actor, squad.key, card.id)
