"""People: invited by a link that is shown once, roles changed, access taken away; only by those who may."""

from __future__ import annotations

import re
from html import unescape

import pytest
from django.test import Client

from invented_squads import PASSWORD, PROGRAMME, Squads
from speedloom.store import invitations, people
from speedloom.web.pages.people.views import square
from web.test_squad_and_athlete import as_


def client_of(squads: Squads, role: str) -> Client:
    client = Client()
    login = squads.keeper.login if role == "keeper" else squads.by_role[role].login  # type: ignore[index]
    client.post("/sign-in/", {"login": login, "password": PASSWORD})
    return client


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


@pytest.fixture
def owner(squads: Squads) -> Client:
    return client_of(squads, "owner")


def test_a_link_is_shown_once_with_its_square_and_opens_the_squad(owner: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/people/"
    page = owner.post(where, {"for_name": "Dr Sam", "role": "clinician", "athlete": ""})
    link = re.search(r"http://testserver(/invitation/[\w-]+/)", words(page))
    assert link
    assert "<svg" in words(page)
    assert "style=" not in words(page)
    assert link[1] not in words(owner.get(where))
    assert "Dr Sam" in words(owner.get(where))
    account = {"name": "Sam", "login": "sam", "password": PASSWORD}
    assert Client().post(link[1], account).status_code == 302
    assert ("Sam", "clinician") in {
        (one.name, one.role) for one in people.members(squads.keeper, squads.ours)
    }


def test_a_square_has_no_style_of_its_own_and_stays_dark_on_white() -> None:
    drawn = square("http://testserver/invitation/abc/")
    assert drawn.startswith("<svg")
    assert "style" not in drawn
    assert "#fff" in drawn


def test_a_coach_invites_athletes_only(squads: Squads) -> None:
    coach, where = client_of(squads, "coach"), f"/squads/{squads.ours}/people/"
    assert "viewer: looks" not in words(coach.get(where)).partition("What the roles do")[0]
    page = coach.post(where, {"for_name": "Vic", "role": "viewer", "athlete": ""})
    assert page.status_code == 422
    page = coach.post(where, {"for_name": "Noa", "role": "athlete", "athlete": "noa"})
    assert "never again" in words(page)
    assert [one.athlete for one in invitations.invitations(squads.keeper, squads.ours)] == ["noa"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"role": "athlete", "athlete": ""}, "Say which athlete"),
        ({"role": "viewer", "athlete": "mila"}, "Only the role athlete"),
        ({"role": "owner", "only": "mila"}, "tick nobody"),
        ({"role": "king"}, "valid choice"),
        ({"role": "viewer", "for_name": ""}, "required"),
    ],
)
def test_what_does_not_fit_is_said_at_its_field(
    owner: Client, squads: Squads, typed: dict[str, str], said: str
) -> None:
    page = owner.post(f"/squads/{squads.ours}/people/", {"for_name": "Kim", "athlete": ""} | typed)
    assert page.status_code == 422
    assert said in words(page)
    assert invitations.invitations(squads.keeper, squads.ours) == ()


def test_an_invitation_is_taken_back(owner: Client, squads: Squads) -> None:
    card, secret = invitations.invite(squads.keeper, squads.ours, role="viewer", for_name="Kim")
    owner.post(f"/squads/{squads.ours}/people/take-back/", {"number": str(card.id)})
    assert Client().get(f"/invitation/{secret}/").status_code == 410


def test_a_role_is_changed_and_limited_to_some(owner: Client, squads: Squads) -> None:
    viewer = squads.by_role["viewer"]
    where = f"/squads/{squads.ours}/people/change/"
    assert "The viewer" in words(owner.get(f"{where}?person={viewer.person}"))
    owner.post(where, {"person": str(viewer.person), "role": "assistant", "athlete": "", "only": ["noa"]})
    one = next(one for one in people.members(squads.keeper, squads.ours) if one.person == viewer.person)
    assert (one.role, one.only) == ("assistant", ("noa",))


def test_access_is_taken_away_at_once(owner: Client, squads: Squads) -> None:
    coach = client_of(squads, "coach")
    person = str(squads.by_role["coach"].person)
    assert coach.get(f"/squads/{squads.ours}/people/").status_code == 200
    owner.post(f"/squads/{squads.ours}/people/change/", {"person": person, "remove": "yes"})
    assert coach.get(f"/squads/{squads.ours}/people/").status_code == 404


def test_the_last_owner_stays(owner: Client, squads: Squads) -> None:
    people.remove_member(squads.by_role["owner"], squads.ours, squads.keeper.person)
    mine = str(squads.by_role["owner"].person)
    where = f"/squads/{squads.ours}/people/change/"
    page = owner.post(where, {"person": mine, "role": "coach", "athlete": ""})
    assert page.status_code == 422
    assert "keeps at least one owner" in words(page)
    assert "keeps at least one owner" in words(owner.post(where, {"person": mine, "remove": "yes"}))


def test_somebody_of_another_squad_is_not_found(owner: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/people/change/?person={squads.outsider.person}"
    assert owner.get(where).status_code == 404
    assert owner.get(f"/squads/{squads.ours}/people/change/?person=me").status_code == 404


def test_before_a_link_is_made_it_is_said_that_it_opens_on_this_computer_only(squads: Squads) -> None:
    client = as_(squads, "owner")
    for path in (f"/squads/{squads.ours}/people/", f"/squads/{squads.ours}/programmes/{PROGRAMME}/links/"):
        here = client.get(path, headers={"host": "127.0.0.1:8420"}).content.decode()
        assert "The site runs on this computer only" in here, path
        there = client.get(path).content.decode()
        assert "The site runs on this computer only" not in there, path
