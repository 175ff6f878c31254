"""Why on every number: the one that matters first, in words, and every step when that is asked for."""

from __future__ import annotations

import re
from html import unescape

import pytest
from django.test import Client

import invented_briefs
from invented_squads import PASSWORD, Squads
from speedloom.store import programmes
from speedloom.training.programme import Prescription, Programme


@pytest.fixture(scope="module")
def planned() -> Programme:
    people = [invented_briefs.athlete(in_training=True, name="Ada Example")]
    data = invented_briefs.brief(*people, end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0})
    return invented_briefs.planned(data)


@pytest.fixture
def coach(squads: Squads, planned: Programme) -> Client:
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


def loaded(programme: Programme) -> Prescription:
    return next(
        line
        for week in programme.programmes[0].weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work" and line.load_kg
    )


def why(client: Client, squads: Squads, planned: Programme, ref: str, **asked: str) -> str:
    page = client.get(f"/squads/{squads.ours}/programmes/{planned.id}/why/{ref}/", asked)
    return unescape(page.content.decode())


def test_the_load_comes_first_and_no_refs_are_said(coach: Client, squads: Squads, planned: Programme) -> None:
    line = loaded(planned)
    page = why(coach, squads, planned, line.ref)
    told = page.partition('id="why"')[2]
    first = re.search(r"<summary><span>(.+?)</span> <strong>(.+?)</strong>", told)
    assert first
    assert first[1] == "Load"
    assert first[2] == f"{line.load_kg:g} kg"
    assert f"{line.ref}." not in told
    assert "--all" not in told
    assert "<ol><li>" in told


def test_every_step_tells_more(coach: Client, squads: Squads, planned: Programme) -> None:
    line = loaded(planned)
    short = why(coach, squads, planned, f"{line.ref}.load_kg")
    whole = why(coach, squads, planned, f"{line.ref}.load_kg", all="1")
    assert short.count("<li>") < whole.count("<li>")
    assert "Every step" in short
    assert "?all=1" not in whole


def test_a_coachs_pounds_are_in_the_answer(coach: Client, squads: Squads, planned: Programme) -> None:
    coach.post("/account/", {"mass": "lb", "length": "m"})
    page = why(coach, squads, planned, loaded(planned).ref)
    assert re.search(r"<span>Load</span> <strong>[\d.]+ lb</strong>", page)


def test_a_week_is_named_and_told(coach: Client, squads: Squads, planned: Programme) -> None:
    page = why(coach, squads, planned, "ada-w2")
    assert "Week 2" in page
    assert "Plyometric, asked for" in page


def test_a_number_that_is_none_is_not_there(coach: Client, squads: Squads, planned: Programme) -> None:
    where = f"/squads/{squads.ours}/programmes/{planned.id}/why/ada-9999/"
    assert coach.get(where).status_code == 404
