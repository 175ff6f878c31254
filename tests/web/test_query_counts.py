"""How many questions a page asks the database, and that a larger squad is no reason to ask more.

Must show: "Query counts tested." Each page is asked for twice. Both times are held to the table; the second,
when documents are in memory, is held against its own number in a squad of two.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern, URLResolver, get_resolver

from grown_squad import grown
from invented_squads import PROGRAMME, Squads
from speedloom.store import models
from speedloom.store.cards import Actor, Role
from speedloom.store.documents_read import forget_read

PART = re.compile(r"<(?:\w+:)?(\w+)>")
PARTS = {
    "programme": PROGRAMME,
    "athlete": "mila",
    "ref": "mila-203",
    "session": "mila-100",
    "date": "2026-01-12",
    "kind": "session",
    "number": "1",
    "place": "hall",
    "kit": "sled",
    "rule": "sprint_gap",
}
MOST = {
    "absences": 6,
    "account": 5,
    "athlete": 15,
    "athlete_about": 10,
    "athlete_restrictions": 13,
    "calendar": 8,
    "data": 9,
    "exercises": 7,
    "kit": 7,
    "links": 10,
    "member": 5,
    "mine": 24,
    "new_programme": 12,
    "new_squad": 4,
    "people": 12,
    "place": 7,
    "places": 7,
    "programme": 10,
    "programme_change": 10,
    "programme_check": 11,
    "programme_compare": 14,
    "programme_hand_out": 11,
    "programme_revisions": 10,
    "programme_why": 10,
    "programmes": 6,
    "proposals": 15,
    "replan": 10,
    "restrictions": 11,
    "retest": 20,
    "retest_own": 20,
    "review": 16,
    "rule": 7,
    "rules": 7,
    "session": 15,
    "session_of": 16,
    "session_paper": 15,
    "squad": 20,
    "tests": 11,
    "today": 18,
    "written": 11,
    "written_of": 12,
}
"""The most questions of each page, who may and whose squad it is among them [count]."""
USUAL = 24
"""The most of a page that has no row yet [count]."""
OTHER_WAY = 3
"""More by as much is another way through a view; a question each would be ten more [count]."""


def pages(patterns: list[Any] | None = None, before: str = "") -> Iterator[tuple[str, URLPattern]]:
    """List every address that shows something to somebody signed in."""
    for one in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(one, URLResolver):
            yield from pages(one.url_patterns, before + str(one.pattern))
            continue
        access = getattr(one.callback, "access", None)
        if access is not None and (access.look is not None or access.who == "signed_in"):
            yield before + str(one.pattern), one


def counted(client: Client, squad: str) -> dict[str, tuple[int, int]]:
    """Give for every page how many questions it asked, the first time and the next."""
    found = {}
    for route, pattern in pages():
        where = "/" + PART.sub(lambda part: (PARTS | {"squad": squad}).get(part[1], "nowhere"), route)
        forget_read()
        times = []
        for _ in range(2):
            with CaptureQueriesContext(connection) as asked:
                page = client.get(where)
            if page.streaming:  # a file that is read to its end is closed
                list(page.streaming_content)
            times.append(len(asked))
        if page.status_code in {200, 302}:
            found[str(pattern.name)] = (times[0], times[1])
    return found


def signed_in(who: Actor) -> Client:
    client = Client()
    person = models.Person.objects.get(pk=who.person)
    client.force_login(person, backend="speedloom.store.signing_in.PersonBackend")
    return client


@pytest.mark.parametrize(("role", "answered"), [("owner", 40), ("athlete", 8)])
def test_pages_ask_few_questions_and_no_more_for_a_larger_squad(
    squads: Squads, role: Role, answered: int
) -> None:
    client = signed_in(squads.by_role[role])
    small = counted(client, squads.ours)
    grown(squads)
    large = counted(client, squads.ours)
    assert len(large) >= answered, "hardly a page answered"
    more = {
        name: (small[name][1], large[name][1])
        for name in small.keys() & large.keys()
        if large[name][1] > small[name][1] + OTHER_WAY
    }
    assert not more, "these ask again for each of twelve athletes, programmes or people"
    asked = {name: max(each) for name, each in large.items() if max(each) > MOST.get(name, USUAL)}
    assert not asked, "these ask more than their row says; is it worth it?"


def test_every_row_is_of_a_page() -> None:
    assert MOST.keys() <= {str(pattern.name) for _, pattern in pages()}
