"""An athlete's own page: their day, results, answers and limits; nothing of anybody else's."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from html import unescape

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from invented_squads import PASSWORD, PROGRAMME, Squads, limit, sprint
from speedloom.store import athletes, daily, invitations, models
from speedloom.store.cards import ROLES, Role
from speedloom.store.logs import log
from speedloom.store.measurements import add_measurements
from speedloom.store.programmes import save_programme
from speedloom.store.restrictions import restrictions, set_restriction
from speedloom.training.athlete import Athlete, Limit
from unit.report.sample import programme

MONDAY = date(2026, 1, 12)
SCALES = ("fatigue", "sleep", "soreness", "stress", "mood")


@pytest.fixture
def monday(monkeypatch: pytest.MonkeyPatch) -> date:
    """Let the day be the first of the programme."""
    return on(monkeypatch, MONDAY)


def on(monkeypatch: pytest.MonkeyPatch, day: date, *, hour: int = 12) -> date:
    then = datetime.combine(day, time(hour), tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: then)
    return day


def as_(squads: Squads, role: Role = "athlete") -> Client:
    client = Client()
    row = models.Person.objects.get(pk=squads.by_role[role].person)
    client.force_login(row, backend="speedloom.store.signing_in.PersonBackend")
    return client


def text(page: object) -> str:
    return unescape(re.sub(r"\s+", " ", page.content.decode()))  # type: ignore[attr-defined]


def here(squads: Squads, rest: str = "", ref: str = "mila") -> str:
    return f"/squads/{squads.ours}/athletes/{ref}/mine/{rest}"


def mine(squads: Squads) -> str:
    page = as_(squads).get(here(squads))
    assert page.status_code == 200
    return text(page)


@pytest.mark.usefixtures("monday")
def test_an_athlete_lands_on_their_own_page_with_todays_session(squads: Squads) -> None:
    page = as_(squads).get("/", follow=True)
    assert page.redirect_chain[-1][0] == here(squads)
    said = text(page)
    assert "Today: Mon 12 Jan, 18:00" in said
    assert "20 kg" in said
    assert "3.48 s (3.36–3.61)" in said
    assert "Wed 14 Jan, 19:30" in said


def test_a_coach_does_not_land_there(squads: Squads) -> None:
    assert as_(squads, "coach").get("/").status_code == 200


@pytest.mark.parametrize("role", ROLES)
def test_nobody_but_the_athlete_opens_it(role: Role, squads: Squads) -> None:
    client = as_(squads, role)
    for ref in ("mila", "noa"):
        for rest in ("", "stop/", "sheet/", f"programmes/{PROGRAMME}/{ref}-100/"):
            status = client.get(here(squads, rest, ref)).status_code
            assert status == (200 if role == "athlete" and ref == "mila" else 403), (ref, rest)
        sent = client.post(here(squads, "answers/", ref), dict.fromkeys(SCALES, "4")).status_code
        assert sent == (302 if role == "athlete" and ref == "mila" else 403)


def test_nothing_of_another_athlete_is_on_any_of_the_pages(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    day = on(monkeypatch, MONDAY)
    owner = squads.by_role["owner"]
    athletes.change_athlete(owner, squads.ours, Athlete(ref="noa", name="Zwaluw"))
    set_restriction(squads.by_role["coach"], squads.ours, "noa", limit(said="Zwaluw"))
    add_measurements(owner, squads.ours, sprint("noa", last=4.123))
    _, secret = invitations.invite(owner, squads.ours, role="athlete", athlete="noa")
    noa = invitations.accept_with_new_account(secret, login="zwaluw", name="Zwaluw", password=PASSWORD)
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=noa.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    client.post(here(squads, "answers/", "noa"), dict.fromkeys(SCALES, "1"))
    written = here(squads, f"programmes/{PROGRAMME}/noa-100/", "noa")
    client.post(written, {"do": "all", "effort": "9", "minutes": "61", "note": "Zwaluw was here"})
    assert "Zwaluw was here" in text(client.get(here(squads, "", "noa")))
    pages = ("", "stop/", f"programmes/{PROGRAMME}/mila-100/")
    for one in [
        *(here(squads, rest) for rest in pages),
        f"/squads/{squads.ours}/athletes/mila/restrictions/",
    ]:
        said = text(as_(squads).get(one))
        for canary in ("Zwaluw", "noa", "Noa", "4.123", "4.12 s"):
            assert canary not in said, (one, canary, day)


def test_all_done_as_written_is_one_tap(squads: Squads, monday: date) -> None:
    where = here(squads, f"programmes/{PROGRAMME}/mila-100/")
    page = as_(squads).post(where, {"do": "all", "nonce": "one"}, follow=True)
    assert "Written down." in text(page)
    entries = log(squads.by_role["coach"], squads.ours, PROGRAMME).entries
    assert {one.athlete for one in entries} == {"mila"}
    assert {one.line for one in entries} == {"mila-102", "mila-103", "mila-104"}
    assert {one.by for one in entries} == {"athlete"}
    assert all(one.date == monday and one.status == "done" for one in entries)
    as_(squads).post(where, {"do": "all", "nonce": "one"})
    assert log(squads.by_role["coach"], squads.ours, PROGRAMME).entries == entries


def test_a_time_effort_minutes_and_own_words_are_kept_and_shown(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(monkeypatch, MONDAY)
    where = here(squads, f"programmes/{PROGRAMME}/mila-100/")
    typed = {"box:mila-103.1.1": "3,51", "effort": "6", "minutes": "64", "note": "heavy legs, good sled"}
    as_(squads).post(where, typed)
    said = mine(squads)
    assert "10 m in 3.51 s with 20 kg" in said
    assert "effort 6 of 10, 64 min" in said
    assert "heavy legs, good sled" in said
    assert 'value="3.51"' in text(as_(squads).get(where))
    on(monkeypatch, MONDAY, hour=13)
    as_(squads).post(where, {"effort": "7", "minutes": "64", "note": "heavy legs"})
    whole = [one for one in log(squads.by_role["coach"], squads.ours, PROGRAMME).entries if not one.line]
    assert [(one.effort, one.replaces) for one in whole] == [(6, None), (7, whole[0].id)]
    assert "heavy legs, good sled" not in mine(squads)


@pytest.mark.usefixtures("monday")
def test_a_strange_time_is_asked_about_and_kept_marked(squads: Squads) -> None:
    where = here(squads, f"programmes/{PROGRAMME}/mila-100/")
    page = as_(squads).post(where, {"box:mila-103.1.1": "35.1"}, follow=True)
    assert "marked unusual" in text(page)
    (entry,) = log(squads.by_role["coach"], squads.ours, PROGRAMME).entries
    assert [(one.time_s, one.mark) for one in entry.results] == [(35.1, "unusual")]


@pytest.mark.usefixtures("monday")
def test_what_cannot_be_read_stays_and_nothing_is_stored(squads: Squads) -> None:
    where = here(squads, f"programmes/{PROGRAMME}/mila-100/")
    for wrong in ({"box:mila-103.1.1": "fast"}, {"effort": "12"}):
        page = as_(squads).post(where, {"note": "good sled", **wrong})
        assert page.status_code == 422
        assert "good sled" in text(page)
        assert f'value="{next(iter(wrong.values()))}"' in text(page)
    assert log(squads.by_role["coach"], squads.ours, PROGRAMME).entries == ()


def test_a_session_to_come_is_not_written_yet(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, MONDAY - timedelta(days=1))
    where = here(squads, f"programmes/{PROGRAMME}/mila-100/")
    page = as_(squads).post(where, {"do": "all"})
    assert "still to come" in text(page)
    assert f"/programmes/{PROGRAMME}/sessions/2026-01-12/?on=2026-01-11" in text(page), "it was trained today"
    assert here(squads) in text(page)
    assert log(squads.by_role["coach"], squads.ours, PROGRAMME).entries == ()


def test_sessions_nobody_wrote_down_are_named(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, MONDAY + timedelta(days=3))
    as_(squads).post(here(squads, f"programmes/{PROGRAMME}/mila-100/"), {"do": "all"})
    said = mine(squads)
    waiting = said.partition("Not written down yet")[2].partition("</section>")[0]
    assert "Wed 14 Jan, 19:30" in waiting
    assert "Mon 12 Jan" not in waiting


@pytest.mark.usefixtures("monday")
def test_five_answers_have_both_ends_in_words_and_no_total(squads: Squads) -> None:
    said = mine(squads)
    for end in ("1 worn out", "5 fresh", "1 badly", "5 very well", "1 very sore", "5 not sore"):
        assert end in said
    as_(squads).post(here(squads, "answers/"), dict.fromkeys(SCALES, "4") | {"mood": "2"})
    (kept,) = daily.wellness(squads.by_role["coach"], squads.ours)
    assert (kept.fatigue, kept.mood, kept.date) == (4, 2, MONDAY)
    said = mine(squads)
    assert "Answered today" in said
    assert "18" not in said.partition("How I feel today")[2].partition("</form>")[0]


@pytest.mark.usefixtures("monday")
def test_skipping_the_answers_is_fine_and_half_of_them_is_asked_about(squads: Squads) -> None:
    client = as_(squads)
    assert client.post(here(squads, "answers/"), {}).status_code == 302
    half = client.post(here(squads, "answers/"), {"sleep": "3"})
    assert half.status_code == 422
    assert "or send none of them" in text(half)
    assert daily.wellness(squads.by_role["coach"], squads.ours) == ()


@pytest.mark.usefixtures("monday")
def test_stop_this_hurts_stops_one_exercise_and_the_coach_lifts_it(squads: Squads) -> None:
    client = as_(squads)
    assert "Sled" in text(client.get(here(squads, "stop/")))
    page = client.post(here(squads, "stop/"), {"what": "mila-103", "note": "left calf"}, follow=True)
    said = text(page)
    assert "Stopped." in said
    assert "Any coach or a clinician lifts it" in said
    (entry,) = log(squads.by_role["coach"], squads.ours, PROGRAMME).entries
    assert (entry.status, entry.reason, entry.line, entry.note) == (
        "stopped",
        "pain",
        "mila-103",
        "left calf",
    )
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    assert [(one.what, one.at_most, one.exercise) for one in card.restriction.limits] == [
        ("sets", 0, "sled_sprint")
    ]
    assert card.set_in == "athlete"


def test_stop_everything_holds_on_a_day_without_training_too(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(monkeypatch, MONDAY + timedelta(days=1))
    as_(squads).post(here(squads, "stop/"), {"what": "all"})
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    assert [(one.what, one.at_most, one.exercise) for one in card.restriction.limits] == [("sets", 0, None)]


@pytest.mark.usefixtures("monday")
def test_a_limit_in_force_stands_on_top_with_who_may_lift_it(squads: Squads) -> None:
    assert "What I may not do now" not in mine(squads)
    set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    top = mine(squads).partition("What I may not do now")[2].partition("</section>")[0]
    assert "At most 80 % of top speed" in top
    assert "It is lifted by the coach or a clinician" in top


@pytest.mark.usefixtures("monday")
def test_a_limit_newer_than_the_programme_is_said_at_the_line(squads: Squads) -> None:
    owner = squads.by_role["owner"]
    athletes.add_athlete(owner, squads.ours, Athlete(ref="ada", name="Ada"))
    save_programme(owner, squads.ours, programme(3, 4).model_copy(update={"id": "0123456789ab"}))
    _, secret = invitations.invite(owner, squads.ours, role="athlete", athlete="ada")
    ada = invitations.accept_with_new_account(secret, login="ada", name="Ada", password=PASSWORD)
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=ada.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    where = here(squads, "", "ada")
    assert "above a limit that holds" not in text(client.get(where))
    no_runs = limit().model_copy(update={"limits": (Limit(what="share_vmax", at_most=0.0),)})
    set_restriction(squads.by_role["assistant"], squads.ours, "ada", no_runs)
    said = text(client.get(where))
    assert "above a limit that holds for you now. Ask your coach" in said
    assert "Brit" not in said


@pytest.mark.usefixtures("monday")
def test_the_page_takes_the_same_questions_whatever_is_written(squads: Squads) -> None:
    client = as_(squads)
    client.get(here(squads))
    with CaptureQueriesContext(connection) as before:
        client.get(here(squads))
    client.post(here(squads, f"programmes/{PROGRAMME}/mila-100/"), {"do": "all"})
    add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-01-10"))
    client.get(here(squads))
    with CaptureQueriesContext(connection) as after:
        client.get(here(squads))
    assert len(after) == len(before) <= 22


@pytest.mark.usefixtures("monday")
def test_own_bests_stand_there_with_their_days(squads: Squads) -> None:
    add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-01-10", last=4.30))
    best = mine(squads).partition("My best so far")[2].partition("</ul>")[0]
    assert "4.30 s" in best
    assert "4.41" not in best


@pytest.mark.usefixtures("monday")
def test_the_own_sheet_is_a_paper_of_the_week(squads: Squads) -> None:
    page = as_(squads).get(here(squads, "sheet/"))
    assert page["Content-Type"] == "application/pdf"
    assert page.content.startswith(b"%PDF")


def test_without_a_programme_the_page_says_what_will_stand_there(squads: Squads) -> None:
    newcomer = Athlete(ref="zoe", name="Zoe")
    athletes.add_athlete(squads.by_role["owner"], squads.ours, newcomer)
    _, secret = invitations.invite(squads.by_role["owner"], squads.ours, role="athlete", athlete="zoe")
    zoe = invitations.accept_with_new_account(secret, login="zoe", name="Zoe", password=PASSWORD)
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=zoe.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    said = text(client.get("/", follow=True))
    assert "You are in no programme yet" in said
    assert "No test of yours is stored yet" in said
    assert client.get(here(squads, "stop/", "zoe")).status_code == 200
    assert client.get(here(squads, "sheet/", "zoe")).status_code == 404


def test_the_clock_is_the_sites(squads: Squads) -> None:
    assert f"{timezone.localdate():%-d %B}" in mine(squads)
