"""Every route says whom it takes, and every role meets what it says, in both squads."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from invented_squads import CANARY, PROGRAMME, Squads
from speedloom.store import models
from speedloom.store.cards import ROLES, Actor
from speedloom.store.permissions import ACTIONS, SITE_ACTIONS, allowed
from speedloom.web.access import Access

PART = re.compile(r"<(?:\w+:)?(\w+)>")
EXAMPLES = {
    "programme": PROGRAMME,
    "ref": "mila-203",
    "kind": "session",
    "secret": "never-made",
    "number": "1",
    "rest": "nowhere",
    "place": "hall",
    "kit": "sled",
    "rule": "sprint_gap",
    "date": "2026-01-12",
    "session": "mila-100",
    "feed": "never-made",
    "sheet": "never-made",
    "slot": "mon",
}
"""What stands for each part of an address: a page with a new part adds one that the squad has."""
OPEN = {
    "icon",
    "sign_in",
    "one_time",
    "sign_out",
    "invited",
    "health",
    "api_no_such_call",
    "feed",
    "sheet",
    "sheet_paper",
}
"""Routes without an account: each is here because it cannot be otherwise.

A calendar program has no account, and neither has an athlete who is sent their sheet: their links hold
a secret of 256 bits, show one part of one programme, and are taken back (test_links.py).
"""


Patterns = list[URLPattern | URLResolver]


def routes(patterns: Patterns | None = None, before: str = "") -> Iterator[tuple[str, URLPattern]]:
    """List every address of the site with its pattern."""
    for one in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(one, URLResolver):
            yield from routes(one.url_patterns, before + str(one.pattern))
        else:
            yield before + str(one.pattern), one


def of_api(pattern: URLPattern) -> bool:
    """Say whether an address is a call of the API: those have doors and a table of their own."""
    return getattr(pattern.callback, "of_api", False) is True


ALL = sorted((each for each in routes() if not of_api(each[1])), key=lambda each: each[0])
each_route = pytest.mark.parametrize(("route", "pattern"), ALL, ids=[route or "/" for route, _ in ALL])


def access(pattern: URLPattern) -> Access:
    found = getattr(pattern.callback, "access", None)
    assert isinstance(found, Access), "the view says nobody: @everybody, @signed_in or @needs"
    return found


def signed_in(who: Actor) -> Client:
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=who.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    return client


def address(route: str, *, squad: str, athlete: str = "mila") -> str:
    parts = EXAMPLES | {"squad": squad, "athlete": athlete}
    return "/" + PART.sub(lambda part: parts[part[1]], route)


@each_route
def test_every_route_says_whom_it_takes(route: str, pattern: URLPattern) -> None:
    found = access(pattern)
    assert (found.who == "everybody") == (pattern.name in OPEN), route
    if found.who == "permitted":
        assert {found.look, found.change} - {None} <= set(ACTIONS)
        if not {found.look, found.change} <= {None, *SITE_ACTIONS}:
            assert "<str:squad>" in route or "<slug:squad>" in route, "the squad is not in the address"


@each_route
def test_nobody_gets_in_without_an_account(route: str, pattern: URLPattern, squads: Squads) -> None:
    if access(pattern).who == "everybody":
        assert pattern.name in OPEN
        return
    client, where = Client(), address(route, squad=squads.ours)
    assert client.get(where).status_code == 302
    assert client.get(where)["Location"].startswith("/sign-in/?next=")
    assert client.post(where).status_code == 401
    assert client.get(where, headers={"HX-Request": "true"}).status_code == 401


@each_route
@pytest.mark.parametrize("role", ROLES)
def test_every_role_in_the_own_and_the_other_squad(
    role: str, route: str, pattern: URLPattern, squads: Squads
) -> None:
    found, who = access(pattern), squads.by_role[role]  # type: ignore[index]
    if found.who != "permitted":
        assert found.who in {"everybody", "signed_in"}
        return
    client = signed_in(who)
    for squad in (squads.ours, squads.theirs):
        for athlete in ("mila", "noa"):
            about, where = (
                athlete if "athlete>" in route else None,
                address(route, squad=squad, athlete=athlete),
            )
            # That another squad exists nobody learns.
            refused = {404} if squad == squads.theirs and "squad>" in route else {403}
            if found.look is not None:
                status = client.get(where).status_code
                may = allowed(who, found.look, squad=squad, athlete=about)
                assert status not in {403, 404} if may else status in refused, (where, status)
            if found.change is None:
                assert client.post(where).status_code == 405
            elif not allowed(who, found.change, squad=squad, athlete=about):
                assert client.post(where).status_code in refused


@each_route
def test_the_word_of_another_squad_is_on_no_page(route: str, pattern: URLPattern, squads: Squads) -> None:
    assert access(pattern)
    for who in squads.by_role.values():
        client = signed_in(who)
        for squad in (squads.ours, squads.theirs):
            page = client.get(address(route, squad=squad), follow=True)
            text = b"".join(page.streaming_content) if page.streaming else page.content
            assert CANARY not in text.decode(errors="replace")


def test_the_owner_of_the_other_squad_does_see_the_word(squads: Squads) -> None:
    assert CANARY in signed_in(squads.outsider).get("/").content.decode()
