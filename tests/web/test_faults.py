"""A form that is refused says so at the top of its page: a link to each field, and nothing is lost."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from django.test import Client

from invented_squads import Squads
from living_site import LivingSite
from season_on_pages import form_with
from web.test_squad_and_athlete import as_

REFUSED: dict[str, tuple[Mapping[str, str], str]] = {
    "{squad}new-programme/": ({"name": "Autumn", "start": "soon", "slots": "1"}, "Autumn"),
    "{squad}places/add-place/": ({"name": "Hall two", "kind": "hall", "straight_m": "far"}, "far"),
    "{squad}places/add-kit/": ({"name": "Bar two", "kind": "barbell", "count": "many"}, "many"),
    "{squad}people/": ({"role": "king", "for_name": "Somebody"}, "Somebody"),
    "{squad}add/": ({"name": "", "mass_kg": "heavy"}, "heavy"),
    "{squad}athletes/mila/about/": ({"name": "Mila", "mass_kg": "heavy"}, "heavy"),
    "{squad}calendar/add-event/": ({"kind": "match", "date": "soon", "title": "Cup"}, "Cup"),
}  # fmt: skip
LINK = re.compile(r'<a href="#([^"]+)">([^<]+)</a>')


def summary(page: str) -> str:
    found = re.search(r'<section class="card faults"([^>]*)>(.*?)</section>', page, re.DOTALL)
    assert found, "no summary"
    for said in ('role="alert"', 'tabindex="-1"', "autofocus"):
        assert said in found[1], said
    return found[2]


@pytest.mark.parametrize("path", REFUSED)
def test_a_refused_form_names_its_fields_at_the_top(squads: Squads, path: str) -> None:
    typed, kept = REFUSED[path]
    client = as_(squads, "owner")
    answer = client.post(path.format(squad=f"/squads/{squads.ours}/"), typed)
    assert answer.status_code == 422, answer.status_code
    page = answer.content.decode()
    links = LINK.findall(summary(page))
    assert links
    for anchor, label in links:
        assert label.strip(), anchor
        assert re.search(rf'\bid="{re.escape(anchor)}"', page), f"{anchor} is nowhere on the page"
    assert page.index('class="card faults"') < page.index("<h1"), "it stands at the top"
    assert kept in page, "what was typed is kept"


def test_a_page_that_nobody_has_sent_says_nothing(squads: Squads) -> None:
    page = as_(squads, "owner").get(f"/squads/{squads.ours}/new-programme/").content.decode()
    assert "faults" not in page


def test_what_was_asked_of_an_athlete_leads_to_the_box_of_that_athlete(lived: LivingSite) -> None:
    where = f"{lived.squad}new-programme/"
    form = form_with(lived.page(where), "slots")
    client: Client = lived.people["coach"]
    page = client.post(where, {**form, "mila-years": "ages"}).content.decode()
    said = dict(LINK.findall(summary(page)))
    assert said["mila-years"] == said["mila-pain"] == "Mila Verhoeve"
    assert 'id="mila-years"' in page
    assert page.count("Expected a number of years.") == 2, "at the top and at the field"
