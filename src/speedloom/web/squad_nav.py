"""The way about in a squad: its pages that are there and that the person may see."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from speedloom.store.cards import Actor
from speedloom.store.permissions import Action, allowed
from speedloom.web.access import person

Page = tuple[str, Promise, Action]
"""Name of the address, what the link says, and what it takes; one that has no address yet is left out."""
BAR: tuple[Page, ...] = (
    ("squad", _("Squad"), "see_squad"),
    ("programmes", _("Programmes"), "see_programme"),
    ("calendar", _("Calendar"), "see_calendar"),
    ("tests", _("Tests"), "see_tests"),
    ("reviews", _("Review"), "review"),
)
"""What a week of training asks for; always in sight."""
GROUPS: tuple[tuple[Promise, tuple[Page, ...]], ...] = (
    (
        _("Plan"),
        (
            ("new_programme", _("New programme"), "make_programme"),
            ("exercises", _("Exercises"), "see_rules"),
            ("rules", _("Rules"), "see_rules"),
        ),
    ),
    (_("Train"), (("restrictions", _("Restrictions"), "see_health"), ("retest", _("Retest"), "see_tests"))),
    (
        _("Set up"),
        (
            ("places", _("Places and kit"), "see_kit"),
            ("people", _("People"), "see_people"),
            ("data", _("Data"), "export_squad"),
        ),
    ),
)
"""The rest, under a heading that is opened."""


@dataclass(frozen=True)
class NavLink:
    """One link of the way about."""

    label: str
    address: str
    here: bool


@dataclass(frozen=True)
class NavGroup:
    """Links under a heading; the heading says which of them is open."""

    label: str
    links: tuple[NavLink, ...]

    @property
    def here(self) -> str:
        """What the link of the open page says, or nothing where it is none of these."""
        return next((link.label for link in self.links if link.here), "")


def squad_nav(request: HttpRequest) -> dict[str, object]:
    """Give templates of a squad's pages the links as `squad_links` and `squad_groups`; else none."""
    match, actor = getattr(request, "resolver_match", None), person(request)
    key = match.kwargs.get("squad") if match else None
    if match is None or not isinstance(key, str) or actor is None or actor.of(key) is None:
        return {"squad_links": (), "squad_groups": ()}
    found = (
        NavGroup(str(label), _links(pages, actor, squad=key, now=match.url_name)) for label, pages in GROUPS
    )
    return {
        "squad_links": _links(BAR, actor, squad=key, now=match.url_name),
        "squad_groups": tuple(group for group in found if group.links),
    }


def _links(pages: Iterable[Page], actor: Actor, *, squad: str, now: str | None) -> tuple[NavLink, ...]:
    """Give the links that the person may follow."""
    found = (
        _link(name, str(label), squad, now)
        for name, label, action in pages
        if allowed(actor, action, squad=squad)
    )
    return tuple(link for link in found if link)


def _link(name: str, label: str, squad: str, now: str | None) -> NavLink | None:
    try:
        return NavLink(label, reverse(name, args=[squad]), now == name)
    except NoReverseMatch:
        return None
