"""The way about in a squad: its pages that are there and that the person may see."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from speedloom.store.permissions import Action, allowed
from speedloom.web.access import person

PAGES: tuple[tuple[str, Promise, Action], ...] = (
    ("squad", _("Squad"), "see_squad"),
    ("restrictions", _("Restrictions"), "see_health"),
    ("tests", _("Tests"), "see_tests"),
    ("programmes", _("Programmes"), "see_programme"),
    ("reviews", _("Review"), "review"),
    ("retest", _("Retest"), "see_tests"),
    ("new_programme", _("New programme"), "make_programme"),
    ("calendar", _("Calendar"), "see_calendar"),
    ("places", _("Places and kit"), "see_kit"),
    ("exercises", _("Exercises"), "see_rules"),
    ("rules", _("Rules"), "see_rules"),
    ("people", _("People"), "see_people"),
    ("data", _("Data"), "export_squad"),
)
"""Name of the address, what the link says, and what it takes; one that has no address yet is left out."""


@dataclass(frozen=True)
class NavLink:
    """One link of the way about."""

    label: str
    address: str
    here: bool


def squad_nav(request: HttpRequest) -> dict[str, object]:
    """Give templates of a squad's pages the links as `squad_links`; none on other pages."""
    match, actor = getattr(request, "resolver_match", None), person(request)
    key = match.kwargs.get("squad") if match else None
    if match is None or not isinstance(key, str) or actor is None or actor.of(key) is None:
        return {"squad_links": ()}
    links = (_link(name, str(label), key, match.url_name) for name, label, action in PAGES
             if allowed(actor, action, squad=key))  # fmt: skip
    return {"squad_links": tuple(link for link in links if link)}


def _link(name: str, label: str, squad: str, now: str) -> NavLink | None:
    try:
        return NavLink(label, reverse(name, args=[squad]), now == name)
    except NoReverseMatch:
        return None
