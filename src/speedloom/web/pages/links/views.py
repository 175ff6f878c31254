"""Links made, listed and taken back, by those who may: for the squad, or by an athlete for themselves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from speedloom.store.cards import AthleteCard, LinkCard, ProgrammeCard, SquadCard
from speedloom.store.links import links, make_link, revoke_link
from speedloom.store.permissions import allowed, within
from speedloom.store.programmes import read_programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.links.forms import KINDS, Kind, LinkForm
from speedloom.web.pages.people.views import near, square
from speedloom.wording.names import athlete_name

UNPROCESSABLE = 422


@dataclass(frozen=True)
class LinkShown:
    """One link in the list."""

    card: LinkCard
    shows: str
    whom: str


@dataclass(frozen=True)
class _Page:
    """The page for a squad's links, or for those of one athlete."""

    request: Request
    squad: SquadCard
    card: ProgrammeCard
    people: Sequence[tuple[str, str]]
    back: str
    home: str
    whole: bool

    def answer(self) -> HttpResponse:
        """Show the links; make one, or take one back."""
        if "take_back" in self.request.POST:
            return self._taken_back()
        form = self._form()
        if form.is_bound and form.is_valid():
            return self._made(*form.given)
        context = {
            "squad": self.squad,
            "card": self.card,
            "form": form,
            "links": self._links(),
            "home": self.home,
            "near": near(self.request),
        }
        status = UNPROCESSABLE if form.is_bound else 200
        return render(self.request, "links/links.html", context, status=status)

    def _form(self) -> LinkForm:
        asked = self.request.GET.get("athlete", "")
        names = [ref for ref, _name in self.people]
        first = asked if asked in names else "" if self.whole or not names else names[0]
        typed = self.request.POST if self.request.method == "POST" else None
        initial = {"kind": "sheet" if first else "feed", "athlete": first}
        return LinkForm(typed, people=self.people, squad=self.whole, initial=initial)

    def _links(self) -> list[LinkShown]:
        names = dict(self.people)
        return [
            LinkShown(card, str(KINDS[card.kind]), names.get(card.athlete or "", _("the whole squad")))
            for card in links(self.request.actor, self.squad.key, self.card.id)
            if card.revoked_at is None and (card.athlete in names or self.whole)
        ]

    def _made(self, kind: Kind, athlete: str | None) -> HttpResponse:
        actor, squad = self.request.actor, self.squad.key
        _link, secret = make_link(actor, squad, self.card.id, kind=kind, athlete=athlete)
        address = self.request.build_absolute_uri(reverse(kind, args=[secret]))
        context = {
            "squad": self.squad,
            "kind": kind,
            "whom": dict(self.people).get(athlete or "", _("the whole squad")),
            "link": address,
            "square": square(address),
            "back": self.back,
            "near": near(self.request),
        }
        return render(self.request, "links/made.html", context)

    def _taken_back(self) -> HttpResponse:
        number = self.request.POST.get("take_back", "")
        mine = {str(one.card.id) for one in self._links()}
        if number in mine:
            revoke_link(self.request.actor, self.squad.key, int(number))
        messages.success(self.request, _("The link is taken back: it shows nothing any more."))
        return HttpResponseRedirect(self.back)


@needs("share_link", change="share_link")
@never_cache
def links_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """Show the links to a programme and its athletes' sheets; make and take back."""
    document = read_programme(request.actor, squad.key, programme.id)
    reach = within(request.actor, "share_link", squad=squad.key)
    people = [
        (own.athlete, athlete_name(document, own.athlete))
        for own in document.programmes
        if reach is None or own.athlete in reach
    ]
    back = reverse("links", args=[squad.key, programme.id])
    home = reverse("programme", args=[squad.key, programme.id])
    whole = allowed(request.actor, "share_link", squad=squad.key)
    return _Page(request, squad, programme, people, back, home, whole).answer()


@needs("share_link", change="share_link")
@never_cache
def own_links_page(
    request: Request, squad: SquadCard, programme: ProgrammeCard, athlete: AthleteCard
) -> HttpResponse:
    """Show the links to one athlete's part of a programme; an athlete makes and takes back their own."""
    back = reverse("own_links", args=[squad.key, programme.id, athlete.ref])
    people = [(athlete.ref, athlete.name)]
    # An athlete's programme stands on a page of their own.
    looks = allowed(request.actor, "see_programme", squad=squad.key)
    own = reverse("mine", args=[squad.key, athlete.ref])
    home = reverse("programme", args=[squad.key, programme.id]) if looks else own
    return _Page(request, squad, programme, people, back, home, whole=False).answer()
