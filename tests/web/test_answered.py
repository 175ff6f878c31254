"""A form that comes back is a page to a browser, and 422 to a program (decision 11)."""

from __future__ import annotations

import pytest
from django.test import Client

from invented_squads import PASSWORD, Squads

FAULTY = {"kind": "match", "date": "soon"}


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


@pytest.mark.parametrize(
    ("said", "status", "header"),
    [
        ({}, 422, None),
        ({"HX-Request": "true"}, 200, "422"),
        ({"Sec-Fetch-Mode": "navigate"}, 200, "422"),
        ({"Sec-Fetch-Mode": "cors"}, 422, None),
    ],
)
def test_a_faulty_form(
    coach: Client, squads: Squads, said: dict[str, str], status: int, header: str | None
) -> None:
    answer = coach.post(f"/squads/{squads.ours}/calendar/add-event/", FAULTY, headers=said)
    assert answer.status_code == status
    assert answer.get("X-Not-Accepted") == header
    assert 'value="soon"' in answer.content.decode()


def test_a_conflict_keeps_its_page(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/calendar/events/1/"
    typed = {"remove": "yes", "after": "99"}
    assert coach.post(where, typed).status_code == 409
    shown = coach.post(where, typed, headers={"Sec-Fetch-Mode": "navigate"})
    assert shown.status_code == 200
    assert shown["X-Not-Accepted"] == "409"
    assert "Somebody was quicker" in shown.content.decode()


def test_what_is_refused_stays_refused(squads: Squads) -> None:
    where = f"/squads/{squads.theirs}/calendar/"
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    assert client.get(where, headers={"Sec-Fetch-Mode": "navigate"}).status_code == 404
    assert client.post("/api/squads", headers={"Sec-Fetch-Mode": "navigate"}).status_code in {401, 405}
