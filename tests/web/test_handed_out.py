"""What is chosen for papers holds for that paper, and is remembered for the squad's next one."""

from __future__ import annotations

from html import unescape

import pytest
from django.test import Client

from invented_squads import PASSWORD, PROGRAMME, Squads
from speedloom.handouts.papers import Order
from speedloom.web.pages.programme import handed_out


@pytest.fixture
def orders(monkeypatch: pytest.MonkeyPatch) -> list[Order]:
    """Keep what is ordered; the paper is made all the same."""
    found: list[Order] = []
    make, content, ending = handed_out.KINDS["session"]

    def kept(programme, order):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202 - as the maker
        found.append(order)
        return make(programme, order)

    monkeypatch.setattr(handed_out, "KINDS", {**handed_out.KINDS, "session": (kept, content, ending)})
    return found


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


def test_kilograms_and_paper_are_chosen_and_remembered(
    coach: Client, squads: Squads, orders: list[Order]
) -> None:
    programme = f"/squads/{squads.ours}/programmes/{PROGRAMME}/"
    sheets = f"{programme}hand-out/session/"
    assert coach.get(sheets, {"week": "1"}).content.startswith(b"%PDF")
    coach.get(sheets, {"week": "1", "kilograms": "no", "paper": "us-letter"})
    coach.get(sheets, {"week": "1"})
    assert [(order.kilograms, order.size) for order in orders] == [
        (True, "a4"),
        (False, "us-letter"),
        (False, "us-letter"),
    ]
    page = unescape(coach.get(programme).content.decode())
    assert '<option value="no" selected>left out</option>' in page
    assert '<option value="us-letter" selected>' in page
    coach.get(sheets, {"week": "1", "kilograms": "yes"})
    assert orders[-1].kilograms
    assert orders[-1].size == "us-letter"


def test_somebody_else_chooses_for_themselves(coach: Client, squads: Squads, orders: list[Order]) -> None:
    sheets = f"/squads/{squads.ours}/programmes/{PROGRAMME}/hand-out/session/"
    coach.get(sheets, {"week": "1", "kilograms": "no"})
    helper = Client()
    helper.post("/sign-in/", {"login": squads.by_role["assistant"].login, "password": PASSWORD})
    helper.get(sheets, {"week": "1"})
    assert [order.kilograms for order in orders] == [False, True]
