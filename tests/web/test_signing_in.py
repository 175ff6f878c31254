"""Getting in: one-time links, passwords with a brake, invitations; no default password anywhere."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db.models import F, Value
from django.db.models.functions import Concat
from django.test import Client
from django.utils import timezone

from invented_squads import PASSWORD, Squads
from speedloom.cli._site import keeper
from speedloom.store import invitations, models, people, signing_in


def sign_in(client: Client, login: str, password: str, **more: str) -> int:
    return client.post("/sign-in/", {"login": login, "password": password, **more}).status_code


def test_a_one_time_link_works_once(squads: Squads) -> None:
    secret = signing_in.one_time_secret(squads.keeper)
    client = Client()
    assert client.get(f"/sign-in/{secret}/")["Location"] == "/"
    assert "The keeper" in client.get("/").content.decode()
    again = Client().get(f"/sign-in/{secret}/")
    assert again.status_code == 410
    assert "used or is too old" in again.content.decode()


def test_a_one_time_link_lives_ten_minutes(squads: Squads) -> None:
    secret = signing_in.one_time_secret(squads.keeper)
    models.OneTimeSignIn.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    assert Client().get(f"/sign-in/{secret}/").status_code == 410
    assert timedelta(minutes=10) == signing_in.LINK_LIVES


@pytest.mark.usefixtures("squads")
def test_a_password_lets_in_and_a_wrong_one_keeps_what_was_typed() -> None:
    client = Client()
    page = client.post("/sign-in/", {"login": "coach", "password": "wrong"})
    assert page.status_code == 422
    assert "do not belong together" in page.content.decode()
    assert 'value="coach"' in page.content.decode()
    assert sign_in(client, "Coach", PASSWORD) == 302
    assert "The coach" in client.get("/").content.decode()
    client.post("/sign-out/")
    assert client.get("/").status_code == 302


@pytest.mark.usefixtures("squads")
def test_five_failures_close_the_door_for_that_login_from_there() -> None:
    client = Client()
    assert [sign_in(client, "coach", "wrong") for _ in range(5)] == [422] * 5
    assert sign_in(client, "coach", PASSWORD) == 429
    assert sign_in(client, "owner", PASSWORD) == 302
    assert sign_in(Client(REMOTE_ADDR="10.0.0.9"), "coach", PASSWORD) == 302
    models.SignInFailure.objects.update(at=timezone.now() - timedelta(minutes=16))
    assert sign_in(client, "coach", PASSWORD) == 302


@pytest.mark.usefixtures("squads")
def test_many_logins_tried_from_one_place_close_that_place() -> None:
    client = Client()
    answers = [sign_in(client, f"nobody-{number}", "wrong") for number in range(31)]
    assert (answers[:30], answers[30]) == ([422] * 30, 429)


@pytest.mark.usefixtures("squads")
@pytest.mark.parametrize("elsewhere", ["https://evil.example/", "//evil.example", "javascript:alert(1)"])
def test_after_signing_in_nobody_is_sent_elsewhere(elsewhere: str) -> None:
    client = Client()
    page = client.post("/sign-in/", {"login": "coach", "password": PASSWORD, "next": elsewhere})
    assert page["Location"] == "/"
    page = client.post("/sign-in/", {"login": "coach", "password": PASSWORD, "next": "/account/"})
    assert page["Location"] == "/account/"


def test_an_invitation_makes_an_account_and_signs_it_in(squads: Squads) -> None:
    _, secret = invitations.invite(squads.keeper, squads.ours, role="athlete", athlete="noa")
    client, where = Client(), f"/invitation/{secret}/"
    assert "Take part in Ours" in client.get(where).content.decode()
    wrong = client.post(where, {"name": "Noa", "login": "noa", "password": "short"})
    assert wrong.status_code == 422
    assert 'value="Noa"' in wrong.content.decode()
    assert client.post(where, {"name": "Noa", "login": "noa", "password": PASSWORD})["Location"] == "/"
    assert "Ours" in client.get("/", follow=True).content.decode()
    assert people.find("noa").of(squads.ours).athlete == "noa"
    assert Client().get(where).status_code == 410


def test_a_changed_password_ends_the_other_sessions(squads: Squads) -> None:
    here, there = Client(), Client()
    for client in (here, there):
        assert sign_in(client, "coach", PASSWORD) == 302
    assert here.post("/account/", {"password": "short"}).status_code == 422
    assert here.post("/account/", {"password": "a kite above the harbour"}).status_code == 302
    assert (here.get("/").status_code, there.get("/").status_code) == (200, 302)
    assert people.has_password(squads.by_role["coach"])


@pytest.mark.usefixtures("squads")
def test_units_are_the_persons_own() -> None:
    client = Client()
    sign_in(client, "coach", PASSWORD)
    client.post("/account/", {"mass": "lb", "length": "yd"})
    assert (people.find("coach").mass_unit, people.find("coach").length_unit) == ("lb", "yd")
    assert people.find("owner").mass_unit == "kg"


def test_the_first_account_of_a_computer_is_the_coachs_and_is_called_otherwise_on_request(
    db: None,  # noqa: ARG001 - needed, not looked at
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    models.Person.objects.update(
        keeper=False, login=Concat(F("login"), Value("-2"))
    )  # a computer where nobody was yet
    monkeypatch.setenv("LOGNAME", "root")
    first = keeper()
    assert (first.login, first.name) == ("coach", "Coach"), "an administrator's name is nobody's"
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=first.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    page = client.get("/account/").content.decode()
    assert 'name="name" value="Coach"' in page
    assert client.post("/account/", {"name": "  Ines  Carvalhal "}).status_code == 302
    assert ">Ines Carvalhal</a>" in client.get("/account/").content.decode()
    refused = client.post("/account/", {"name": " "})
    assert refused.status_code == 422
    assert people.again(first).name == "Ines Carvalhal"
