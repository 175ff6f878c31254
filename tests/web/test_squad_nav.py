"""The way about in a squad: five links in sight, the rest under headings; what is open is marked."""

from __future__ import annotations

import re

import pytest
from django.test import Client

from invented_squads import Squads
from web.test_squad_and_athlete import as_

LINK = re.compile(r'<a href="[^"]+"( aria-current="page")?>([^<]+)</a>')
HEADING = re.compile(r"<summary( class=\"here\")?>(.*?)</summary>(.*?)</details>", re.DOTALL)


def nav(client: Client, squads: Squads, page: str = "") -> str:
    shown = client.get(f"/squads/{squads.ours}/{page}").content.decode()
    return shown.partition('<nav class="about"')[2].partition("</nav>")[0]


def under(bar: str) -> dict[str, list[str]]:
    """Give the headings, each with what its links say."""
    return {
        re.sub("<[^>]+>", "", label): [said for _, said in LINK.findall(links)]
        for _, label, links in HEADING.findall(bar)
    }


def test_five_links_are_in_sight_and_the_rest_stands_under_headings(squads: Squads) -> None:
    bar = nav(as_(squads, "owner"), squads)
    in_sight = [said for _, said in LINK.findall(HEADING.sub("", bar))]
    assert in_sight == ["Squad", "Programmes", "Calendar", "Tests", "Review"]
    assert under(bar) == {
        "Plan": ["New programme", "Exercises", "Rules"],
        "Train": ["Restrictions", "Retest"],
        "Set up": ["Places and kit", "People", "Data"],
    }
    assert bar.count('name="about"') == 3, "one heading is open at a time, also without JavaScript"


@pytest.mark.parametrize(
    ("page", "heading", "link"),
    [("rules/", "Plan: Rules", "Rules"), ("restrictions/", "Train: Restrictions", "Restrictions")],
)
def test_a_heading_says_which_of_its_pages_is_open(
    squads: Squads, page: str, heading: str, link: str
) -> None:
    bar = nav(as_(squads, "coach"), squads, page)
    assert heading in under(bar)
    assert [said for here, said in LINK.findall(bar) if here] == [link]
    assert bar.count('class="here"') == 1


def test_the_open_page_of_the_bar_is_marked_and_no_heading_is(squads: Squads) -> None:
    bar = nav(as_(squads, "coach"), squads, "calendar/")
    assert [said for here, said in LINK.findall(bar) if here] == ["Calendar"]
    assert 'class="here"' not in bar


def test_a_heading_holds_only_what_the_person_may_see(squads: Squads) -> None:
    held = under(nav(as_(squads, "viewer"), squads))
    assert held == {"Plan": ["Exercises", "Rules"], "Train": ["Retest"], "Set up": ["Places and kit"]}
