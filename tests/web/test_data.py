"""Data: taken away as files the tool reads, one athlete apart; erased only with the name typed."""

from __future__ import annotations

import json
from html import unescape
from io import BytesIO
from zipfile import ZipFile

import pytest
from django.test import Client

from invented_squads import CANARY, PASSWORD, PROGRAMME, Squads, two_athletes
from speedloom.store import athletes, people
from speedloom.store import squads as stored
from speedloom.training.brief import Brief
from speedloom.training.programme import Programme


def client_of(squads: Squads, role: str) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role[role].login, "password": PASSWORD})  # type: ignore[index]
    return client


@pytest.fixture
def owner(squads: Squads) -> Client:
    return client_of(squads, "owner")


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def test_a_squad_is_taken_away_as_documents_that_can_be_read_again(owner: Client, squads: Squads) -> None:
    page = owner.post(f"/squads/{squads.ours}/data/export/")
    assert page["Content-Type"] == "application/zip"
    with ZipFile(BytesIO(page.content)) as packed:
        texts = {name: packed.read(name).decode() for name in packed.namelist()}
    assert {"brief/revision_1.json", "athletes/mila.json", "athletes/noa.json", "deeds.json"} <= set(texts)
    assert Brief.model_validate_json(texts["brief/revision_1.json"]).name == "Spring"
    read = Programme.model_validate_json(texts[f"programmes/{PROGRAMME}/revision_1.json"])
    assert read == two_athletes()
    assert len(json.loads(texts["athletes/mila.json"])["measurements"]) == 1
    assert CANARY not in "".join(texts.values())
    assert ("owner", "export_squad") in {
        (one.by, one.action) for one in stored.audit(squads.keeper, squads.ours)
    }


def test_an_athlete_takes_their_own_from_the_account_and_nobody_elses(squads: Squads) -> None:
    mila = client_of(squads, "athlete")
    where = f"/squads/{squads.ours}/data/athletes/mila/export/"
    assert where in words(mila.get("/account/"))
    page = mila.post(where)
    assert json.loads(page.content)["athlete"]["ref"] == "mila"
    assert "noa" not in words(page)
    assert mila.post(where.replace("mila", "noa")).status_code == 403


@pytest.mark.parametrize("typed", ["", "mila", "Noa"])
def test_nobody_is_erased_by_a_slip(owner: Client, squads: Squads, typed: str) -> None:
    page = owner.post(f"/squads/{squads.ours}/data/athletes/mila/erase/", {"name": typed})
    assert page.status_code == 422
    assert "Expected the name, Mila" in words(page)
    assert {one.ref for one in athletes.athletes(squads.keeper, squads.ours)} == {"mila", "noa"}


def test_with_the_name_typed_an_athlete_is_erased(owner: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/data/athletes/mila/erase/"
    assert "backups and exports made before" in words(owner.get(where))
    page = owner.post(where, {"name": "Mila"}, follow=True)
    assert "is erased" in words(page)
    assert {one.ref for one in athletes.athletes(squads.keeper, squads.ours)} == {"noa"}
    assert "Mila" not in words(owner.get(f"/squads/{squads.ours}/data/"))


def test_a_squad_is_erased_with_its_name_typed(owner: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/data/erase/"
    assert owner.post(where, {"name": "Theirs"}).status_code == 422
    owner.post(where, {"name": "Ours"})
    assert people.again(squads.keeper).of(squads.ours) is None


def test_deeds_are_listed_and_the_place_is_told_to_the_keeper_only(owner: Client, squads: Squads) -> None:
    page = words(owner.get(f"/squads/{squads.ours}/data/"))
    assert "make programme" in page
    assert "speedloom backup" in page
    assert "The database is" not in page
    keeper = Client()
    keeper.post("/sign-in/", {"login": squads.keeper.login, "password": PASSWORD})
    assert "The database is" in words(keeper.get(f"/squads/{squads.ours}/data/"))


def test_a_coach_exports_and_does_not_erase(squads: Squads) -> None:
    coach = client_of(squads, "coach")
    assert "erase</a>" not in words(coach.get(f"/squads/{squads.ours}/data/"))
    assert coach.get(f"/squads/{squads.ours}/data/athletes/mila/erase/").status_code == 403
