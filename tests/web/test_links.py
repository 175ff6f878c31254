"""Links without an account: a feed or one athlete's sheet shows its part only, until taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection
from django.test import Client
from icalendar import Calendar

from invented_squads import CANARY, PASSWORD, PROGRAMME, Squads
from speedloom.store import accounts, invitations, links, models, people, programmes
from speedloom.store.cards import Actor, Role
from speedloom.store.squads import audit
from speedloom.training.document import digest
from speedloom.web.brake import Brake
from speedloom.web.pages.links import opened

LINK = re.compile(r"http://testserver(/(?:feed|sheet)/[\w-]+/(?:training\.ics)?)")


@pytest.fixture(autouse=True)
def fresh_brakes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opened, "OF_A_PLACE", Brake(most=240, seconds=600))
    monkeypatch.setattr(opened, "OF_STRANGERS", Brake(most=20, seconds=600))


def client_of(who: Actor) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": who.login, "password": PASSWORD})
    return client


@pytest.fixture
def coach(squads: Squads) -> Client:
    return client_of(squads.by_role["coach"])


def where(squads: Squads, athlete: str = "") -> str:
    return f"/squads/{squads.ours}/programmes/{PROGRAMME}/links/{f'{athlete}/' if athlete else ''}"


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def made(client: Client, address: str, **typed: str) -> str:
    """Make a link on the page, and give where it leads."""
    page = client.post(address, typed)
    found = LINK.search(words(page))
    assert found, words(page)
    return found[1]


def events(body: bytes) -> Iterator[tuple[str, int, str]]:
    for event in Calendar.from_ical(body).walk("VEVENT"):
        yield str(event["uid"]), int(event["sequence"]), str(event["summary"])


def test_a_feed_is_read_without_an_account_and_hidden(coach: Client, squads: Squads) -> None:
    feed = made(coach, where(squads), kind="feed", athlete="mila")
    answer = Client().get(feed)
    assert answer.status_code == 200
    assert answer["Content-Type"].startswith("text/calendar")
    assert answer["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer["X-Robots-Tag"]
    assert "no-store" in answer["Cache-Control"]
    found = list(events(answer.content))
    assert found
    assert all(uid.startswith(f"{PROGRAMME}.mila-") for uid, _, _ in found)
    for word in ("noa", "Noa", CANARY, "Ours"):
        assert word.encode() not in answer.content


def test_an_event_keeps_its_name_and_counts_up_with_the_revision(coach: Client, squads: Squads) -> None:
    feed = made(coach, where(squads), kind="feed", athlete="mila")
    before = list(events(Client().get(feed).content))
    document = programmes.read_programme(squads.keeper, squads.ours, PROGRAMME)
    number = document.revision.number + 1
    revision = document.revision.model_copy(
        update={"number": number, "parent": digest(document), "cause": "edit", "reason": "later"}
    )
    later = document.model_copy(update={"revision": revision})
    programmes.save_programme(squads.keeper, squads.ours, later, after=digest(document))
    after = list(events(Client().get(feed).content))
    assert [uid for uid, _, _ in after] == [uid for uid, _, _ in before]
    assert {sequence for _, sequence, _ in after} == {number}


def test_the_squads_feed_names_everybody_of_this_squad_only(coach: Client, squads: Squads) -> None:
    answer = Client().get(made(coach, where(squads), kind="feed", athlete=""))
    names = {summary.partition(":")[0] for _, _, summary in events(answer.content)}
    assert len(names) == 2
    assert CANARY.encode() not in answer.content


def test_a_sheet_shows_one_athletes_week_and_no_way_on(coach: Client, squads: Squads) -> None:
    sheet = made(coach, where(squads), kind="sheet", athlete="mila")
    answer = Client().get(sheet)
    page = words(answer)
    assert answer.status_code == 200
    assert answer["Referrer-Policy"] == "no-referrer"
    assert "Mila" in page
    assert "Week 1 of" in page
    for word in ("noa", "Noa", CANARY, "/squads/", "Sign in", "keeper"):
        assert word not in page
    paper = Client().get(f"{sheet}paper/?week=1")
    assert paper.content.startswith(b"%PDF")
    assert paper["X-Robots-Tag"].startswith("noindex")


def test_who_is_signed_in_sees_no_more_of_a_sheet(coach: Client, squads: Squads) -> None:
    sheet = made(coach, where(squads), kind="sheet", athlete="mila")
    page = words(coach.get(sheet))
    assert "Sign out" not in page
    assert "/squads/" not in page


@pytest.mark.parametrize("kind", ["feed", "sheet"])
def test_a_link_taken_back_is_gone(kind: str, coach: Client, squads: Squads) -> None:
    link = made(coach, where(squads), kind=kind, athlete="mila")
    listed = words(coach.get(where(squads)))
    assert link not in listed  # its secret is never shown again
    number = re.search(r'name="take_back" value="(\d+)"', listed)
    assert number
    coach.post(where(squads), {"take_back": number[1]})
    answer = Client().get(link)
    assert answer.status_code == 410
    assert "noindex" in answer["X-Robots-Tag"]
    assert "take_back" not in words(coach.get(where(squads)))
    if kind == "sheet":
        assert Client().get(f"{link}paper/").status_code == 410


def test_a_feeds_secret_opens_no_sheet(coach: Client, squads: Squads) -> None:
    feed = made(coach, where(squads), kind="feed", athlete="mila")
    secret = feed.split("/")[2]
    assert Client().get(f"/sheet/{secret}/").status_code == 410


def test_guessing_is_braked_and_a_club_is_not(squads: Squads) -> None:
    statuses = [Client().get(f"/feed/guess-{one}/training.ics").status_code for one in range(25)]
    assert statuses == [410] * 20 + [429] * 5
    assert Client().get("/sheet/another/")["Retry-After"] == "600"
    assert squads.ours


def test_one_place_may_call_so_often_and_no_more(
    coach: Client, squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = made(coach, where(squads), kind="sheet", athlete="mila")
    monkeypatch.setattr(opened, "OF_A_PLACE", Brake(most=3, seconds=600))
    assert [Client().get(sheet).status_code for _ in range(5)] == [200, 200, 200, 429, 429]


def test_the_brake_lets_go_after_its_time_and_forgets() -> None:
    brake = Brake(most=2, seconds=10)
    assert [brake.passes("a", now=float(now)) for now in (0, 1, 2, 9, 10, 11, 12)] == [
        True, True, False, False, True, True, False,
    ]  # fmt: skip
    assert brake.passes("b", now=2.0)


def test_a_sheet_of_the_whole_squad_is_refused_at_its_field(coach: Client, squads: Squads) -> None:
    page = coach.post(where(squads), {"kind": "sheet", "athlete": ""})
    assert page.status_code == 422
    assert "Expected one athlete" in words(page)
    assert links.links(squads.keeper, squads.ours, PROGRAMME) == ()


def test_an_athlete_makes_and_takes_back_their_own_and_no_other(coach: Client, squads: Squads) -> None:
    mila = client_of(squads.by_role["athlete"])
    made(coach, where(squads), kind="sheet", athlete="noa")
    assert mila.get(where(squads)).status_code == 403
    assert mila.get(where(squads, "noa")).status_code in {403, 404}
    page = words(mila.get(where(squads, "mila")))
    assert "the whole squad" not in page
    assert "Noa" not in page
    home = re.search(r'href="([^"]+)">Back to the programme', page)
    assert home
    assert mila.get(home[1]).status_code == 200
    sheet = made(mila, where(squads, "mila"), kind="sheet", athlete="mila")
    assert Client().get(sheet).status_code == 200
    other = next(one for one in links.links(squads.keeper, squads.ours, PROGRAMME) if one.athlete == "noa")
    mila.post(where(squads, "mila"), {"take_back": str(other.id)})
    left = [one for one in links.links(squads.keeper, squads.ours, PROGRAMME) if one.revoked_at is None]
    assert {one.athlete for one in left} == {"mila", "noa"}
    assert mila.post(where(squads, "mila"), {"kind": "sheet", "athlete": "noa"}).status_code == 422


@pytest.mark.parametrize("role", ["assistant", "clinician", "viewer"])
def test_others_make_no_links(role: str, squads: Squads) -> None:
    client = client_of(squads.by_role[role])  # type: ignore[index]
    assert client.get(where(squads)).status_code == 403
    assert client.post(where(squads), {"kind": "feed", "athlete": "mila"}).status_code == 403
    assert links.links(squads.keeper, squads.ours, PROGRAMME) == ()


MAKERS = ("owner", "coach", "athlete")
"""The roles that share; an athlete their own."""


def made_by(squads: Squads, role: Role) -> str:
    """Let somebody of a role make a link, and give its address."""
    link = links.make_link(squads.by_role[role], squads.ours, PROGRAMME, kind="sheet", athlete="mila")
    return f"/sheet/{link[1]}/"


@pytest.mark.parametrize("role", MAKERS)
def test_a_link_ends_when_its_maker_leaves_the_squad(squads: Squads, role: Role) -> None:
    who, link = squads.by_role[role], made_by(squads, role)
    assert Client().get(link).status_code == 200
    owner = client_of(squads.keeper)
    page = words(owner.get(f"/squads/{squads.ours}/people/change/?person={who.person}"))
    assert "1 link ends too" in page
    people.remove_member(squads.keeper, squads.ours, who.person)
    assert Client().get(link).status_code == 410
    _card, secret = invitations.invite(squads.keeper, squads.ours, role="coach")
    invitations.accept(people.again(who), secret)
    assert Client().get(link).status_code == 410, "it does not come back with its maker"


@pytest.mark.parametrize("role", ["assistant", "clinician", "viewer"])
@pytest.mark.parametrize("maker", ["owner", "coach"])
def test_a_link_ends_when_its_maker_gets_a_role_that_does_not_share(
    squads: Squads, maker: Role, role: Role
) -> None:
    who, link = squads.by_role[maker], made_by(squads, maker)
    people.change_member(squads.keeper, squads.ours, who.person, role=role)
    assert Client().get(link).status_code == 410
    people.change_member(squads.keeper, squads.ours, who.person, role="coach")
    assert Client().get(link).status_code == 410
    told = [one.detail for one in audit(squads.keeper, squads.ours) if one.action == "manage_people"]
    assert f"role {role}; links ended: 1" in told


def test_a_link_stays_while_its_maker_may_share_it(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    of_mila = made_by(squads, "coach")
    _card, secret = links.make_link(coach, squads.ours, PROGRAMME, kind="feed", athlete=None)
    of_all = f"/feed/{secret}/training.ics"
    people.change_member(squads.keeper, squads.ours, coach.person, role="owner")
    assert [Client().get(one).status_code for one in (of_mila, of_all)] == [200, 200]
    people.change_member(squads.keeper, squads.ours, coach.person, role="coach", only=("mila",))
    assert [Client().get(one).status_code for one in (of_mila, of_all)] == [200, 410]


def test_a_link_ends_with_its_makers_account(squads: Squads) -> None:
    link = made_by(squads, "coach")
    accounts.close_account(squads.keeper, squads.by_role["coach"].person)
    assert Client().get(link).status_code == 410
    accounts.close_account(squads.keeper, squads.by_role["coach"].person, back=True)
    assert Client().get(link).status_code == 410


def test_the_page_of_links_says_how_long_they_live(coach: Client, squads: Squads) -> None:
    assert "when they leave the squad" in words(coach.get(where(squads)))


def test_an_update_of_the_tables_finds_the_makers(squads: Squads) -> None:
    link = made_by(squads, "coach")
    models.ShareLink.objects.update(maker=None)
    assert Client().get(link).status_code == 410
    step = import_module("speedloom.store.migrations.0006_link_makers")
    step.find_makers(apps, SimpleNamespace(connection=connection))
    assert Client().get(link).status_code == 200
