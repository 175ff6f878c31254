"""The first programme of a new squad: a place first, then days, and never a fault of the program."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from invented_squads import PASSWORD, Squads
from season_on_pages import form_with
from speedloom.store import people
from speedloom.store.athletes import add_athlete
from speedloom.store.squads import my_squads
from speedloom.training.athlete import Athlete


@pytest.fixture
def address(client: Client, squads: Squads) -> str:
    client.post("/sign-in/", {"login": "keeper", "password": PASSWORD})
    client.post("/squads/new/", {"name": "Harbour", "zone": "Europe/Lisbon"})
    keeper = people.again(squads.keeper)
    key = next(card.key for card in my_squads(keeper) if card.name == "Harbour")
    add_athlete(keeper, key, Athlete(ref="ilse", name="Ilse Brandsma"))
    return f"/squads/{key}/"


def read(client: Client, where: str) -> str:
    return client.get(where).content.decode()


def filled(client: Client, address: str, **more: str) -> dict[str, Any]:
    form = form_with(read(client, f"{address}new-programme/"), "slots")
    return {**form, "all_well": "on", "ilse-years": "2", **more}


def test_a_new_squad_is_sent_to_a_place_first_and_comes_back(client: Client, address: str) -> None:
    where = f"{address}new-programme/"
    link = f"{address}places/add-place/?back=new-programme"
    assert link in read(client, where)
    place = {"name": "track", "ref": "track", "kind": "track", "surface": "tartan", "straight_m": "110"}
    added = client.post(link, {**form_with(read(client, link), "after"), **place})
    assert added.status_code == 302, added.content.decode()
    assert added["Location"] == where
    assert "First a place" not in read(client, where)


def test_a_programme_without_a_day_asks_for_one_and_keeps_what_was_typed(
    client: Client, address: str
) -> None:
    sent = client.post(f"{address}new-programme/", filled(client, address, name="Ilse alone"))
    page = sent.content.decode()
    assert sent.status_code == 422
    assert "Expected at least one day that can be trained on" in page
    assert 'value="Ilse alone"' in page


def test_there_are_rows_for_a_week_of_training(client: Client, address: str) -> None:
    assert read(client, f"{address}new-programme/").count('-minutes"') >= 4
