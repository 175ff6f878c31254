"""A squad made on its page, by whoever keeps the site."""

from __future__ import annotations

from datetime import date

from django.test import Client

from invented_squads import PASSWORD, Squads
from speedloom.store import briefs, people
from speedloom.store.squads import my_squads
from speedloom.web.pages.today.first_brief import first_brief


def test_a_new_squad_is_the_makers_own_with_a_brief_to_fill_in(squads: Squads, client: Client) -> None:
    client.post("/sign-in/", {"login": "keeper", "password": PASSWORD})
    made = client.post("/squads/new/", {"name": " Harbour  sprinters ", "zone": "Europe/Lisbon"})
    keeper = people.again(squads.keeper)
    card = next(card for card in my_squads(keeper) if card.name == "Harbour sprinters")
    assert made["Location"] == f"/squads/{card.key}/"
    assert card.role == "owner"
    assert briefs.brief(keeper, card.key).brief.timezone == "Europe/Lisbon"
    assert client.get(made["Location"]).status_code == 200


def test_what_was_typed_comes_back_with_the_fault(client: Client, squads: Squads) -> None:
    assert squads.keeper.keeper
    client.post("/sign-in/", {"login": "keeper", "password": PASSWORD})
    page = client.post("/squads/new/", {"name": "Harbour", "zone": "Atlantis"})
    assert page.status_code == 422
    assert 'value="Harbour"' in page.content.decode()


def test_twelve_weeks_from_next_monday() -> None:
    brief = first_brief("Harbour", zone="Europe/Lisbon", today=date(2026, 1, 8))
    assert (brief.start, brief.end) == (date(2026, 1, 12), date(2026, 4, 5))
