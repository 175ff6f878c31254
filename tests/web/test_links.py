"""Links without an account: a feed or one athlete's sheet shows its part only, until taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

import pytest
from django.test import Client
from icalendar import Calendar

from invented_squads import CANARY, PASSWORD, PROGRAMME, Squads
from speedloom.store import links, programmes
from speedloom.store.cards import Actor
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
