"""Today: what is trained, who is limited, what waits, who stopped; in a fixed number of questions."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from html import unescape

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from invented_squads import CANARY, PROGRAMME, Squads, brief, limit, one_of, sprint
from speedloom.store import models
from speedloom.store.briefs import save_brief
from speedloom.store.cards import ROLES, Role
from speedloom.store.measurements import add_measurements
from speedloom.store.restrictions import lift_restriction, restrictions, set_restriction
from speedloom.training.calendar import Event
from speedloom.training.rule import RuleChange

MONDAY = date(2026, 1, 12)


def on(monkeypatch: pytest.MonkeyPatch, day: date) -> None:
    noon = datetime.combine(day, time(12), tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: noon)


@pytest.fixture
def monday(monkeypatch: pytest.MonkeyPatch) -> date:
    """Let the day be the first of the programme."""
    on(monkeypatch, MONDAY)
    return MONDAY


def as_(squads: Squads, role: Role) -> Client:
    client = Client()
    row = models.Person.objects.get(pk=squads.by_role[role].person)
    client.force_login(row, backend="speedloom.store.signing_in.PersonBackend")
    return client


def text(page: object) -> str:
    return unescape(re.sub(r"\s+", " ", page.content.decode()))  # type: ignore[attr-defined]


def today(squads: Squads, role: Role = "coach") -> str:
    page = as_(squads, role).get("/", follow=True)
    assert page.status_code == 200
    return text(page)


def part(said: str, title: str) -> str:
    _before, after = re.split(rf">{title}</h[23]>", said, maxsplit=1)
    return after.partition("</div>")[0]


@pytest.mark.usefixtures("monday")
def test_what_is_trained_by_whom_and_where_leads_to_the_session(squads: Squads) -> None:
    trained = part(today(squads), "Training")
    assert "18:00 · hall" in trained
    assert "Mila, Noa" in trained
    assert f"/squads/{squads.ours}/programmes/{PROGRAMME}/sessions/2026-01-12/" in trained
    assert "nothing written yet" in trained


@pytest.mark.usefixtures("monday")
def test_what_is_written_is_counted(squads: Squads) -> None:
    where = f"/squads/{squads.ours}/athletes/mila/mine/programmes/{PROGRAMME}/mila-100/"
    as_(squads, "athlete").post(where, {"do": "all"})
    assert "written of 1 of 2" in part(today(squads), "Training")


def test_a_day_without_training_names_the_next(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, MONDAY + timedelta(days=1))
    said = part(today(squads), "Training")
    assert "Nobody trains today." in said
    link = re.search(r'Next: <a class="target" href="([^"]+)">([^<]+)</a>', said)
    assert link
    assert link[2] == "Wed 14 Jan, 19:30, gym"
    assert link[1].startswith(f"/squads/{squads.ours}/programmes/{PROGRAMME}/sessions/2026-01-14/")


def test_results_that_nobody_wrote_wait(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    where = f"/squads/{squads.ours}/athletes/mila/mine/programmes/{PROGRAMME}/mila-100/"
    on(monkeypatch, MONDAY)
    as_(squads, "athlete").post(where, {"do": "all"})
    on(monkeypatch, MONDAY + timedelta(days=3))
    waits = part(today(squads), "What waits")
    assert "Mon 12 Jan, 18:00: results of 1 of 2 not written" in waits
    assert "Wed 14 Jan, 19:30: results of all not written" in waits


def test_a_retest_that_is_due_waits(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, date(2026, 2, 10))
    assert "Not tested" not in today(squads)
    on(monkeypatch, date(2026, 2, 26))
    assert "Not tested for more than 6 weeks: Mila, Noa" in today(squads)
    rules = (RuleChange(rule="retest", number="due_weeks", value=8.0, reason="we test every term"),)
    with_rule = brief().model_copy(update={"rules": rules})
    save_brief(squads.by_role["coach"], squads.ours, with_rule, after=1)
    assert "Not tested" not in today(squads), "the number is the rulebook's, and the squad may change it"
    event = Event(kind="test", title="Retest", date=date(2026, 3, 3))
    changed = brief().model_copy(update={"events": (event,)})
    save_brief(squads.by_role["coach"], squads.ours, changed, after=2)
    said = today(squads)
    assert "Retest: Tue 3 Mar" in said
    assert "Not tested" not in said
    on(monkeypatch, date(2026, 3, 5))
    add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-03-03"))
    assert "Retest of Tue 3 Mar: results of 1 of 2 are not there" in today(squads)


STOP = {"what": "mila-103", "note": "left heel"}


@pytest.mark.usefixtures("monday")
def test_a_stop_for_pain_is_told_until_somebody_lifts_it(squads: Squads) -> None:
    as_(squads, "athlete").post(f"/squads/{squads.ours}/athletes/mila/mine/stop/", STOP)
    for role in ("owner", "coach", "assistant", "clinician"):
        stopped = part(today(squads, role), "Stopped for pain")
        assert "Mila" in stopped
        assert "sled" in stopped.lower()
        assert "Mon 12 Jan" in stopped
        assert "left heel" in stopped
        assert "written by The athlete (athlete)" in stopped
    (card,) = restrictions(squads.by_role["clinician"], squads.ours)
    lift_restriction(squads.by_role["clinician"], squads.ours, "mila", card.id, reason="seen, nothing found")
    assert "Stopped for pain" not in today(squads)


@pytest.mark.usefixtures("monday")
def test_stops_are_asked_for_again_every_minute_while_the_page_is_open(squads: Squads) -> None:
    assert re.search(r'id="stops"[^>]*hx-get="/"[^>]*every 60s[^>]*hx-select="#stops"', today(squads))
    client = Client()
    answer = client.get("/", headers={"HX-Request": "true"})
    assert answer.status_code == 401, "who is signed out gets nothing swapped in"


@pytest.mark.usefixtures("monday")
def test_who_may_not_see_health_sees_no_limit_and_no_stop(squads: Squads) -> None:
    as_(squads, "athlete").post(f"/squads/{squads.ours}/athletes/mila/mine/stop/", STOP)
    set_restriction(squads.by_role["coach"], squads.ours, "noa", limit())
    assert "At most 80 % of top speed" in part(today(squads), "Restricted")
    said = today(squads, "viewer")
    for word in ("Stopped", "Restricted", "80 %", "restrictions/", "heel"):
        assert word not in said
    assert "18:00 · hall" in said


def test_an_event_that_is_newer_than_the_programme_is_a_clash(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(monkeypatch, MONDAY - timedelta(days=2))
    assert "not known to the programme" not in today(squads)
    match = Event(kind="match", title="Cup", date=MONDAY)
    changed = brief().model_copy(update={"events": (match,)})
    save_brief(squads.by_role["coach"], squads.ours, changed, after=1)
    on(monkeypatch, MONDAY)
    assert "Cup, not known to the programme: training on Mon 12 Jan" in today(squads)


@pytest.mark.usefixtures("monday")
def test_what_the_check_finds_comes_afterwards(squads: Squads) -> None:
    page = as_(squads, "coach").get(f"/squads/{squads.ours}/found/")
    assert page.status_code == 200
    assert re.search(r"Spring: \d+ hard findings? of the check|finds nothing hard", text(page))


@pytest.mark.usefixtures("monday")
@pytest.mark.parametrize("role", ROLES)
def test_nothing_of_another_squad_is_on_the_page(role: Role, squads: Squads) -> None:
    assert CANARY not in today(squads, role)


@pytest.mark.usefixtures("monday")
def test_it_takes_the_same_questions_whatever_is_stored(squads: Squads) -> None:
    client = as_(squads, "coach")
    client.get("/")
    with CaptureQueriesContext(connection) as before:
        client.get("/")
    for ref in ("mila", "noa"):
        add_measurements(squads.keeper, squads.ours, sprint(ref, day="2026-01-09"))
        set_restriction(squads.by_role["coach"], squads.ours, ref, limit())
    with CaptureQueriesContext(connection) as after:
        client.get("/")
    assert len(after) == len(before) <= 13


def test_somebody_without_a_squad_is_told_the_next_step(squads: Squads) -> None:
    models.Membership.objects.all().delete()
    assert "Ask the owner of a squad for an invitation link" in today(squads)
    keeper = Client()
    keeper.force_login(
        models.Person.objects.get(pk=squads.keeper.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    assert "Make the first one" in text(keeper.get("/"))


@pytest.mark.usefixtures("monday")
def test_somebody_limited_to_some_athletes_reads_of_those_only(squads: Squads) -> None:
    for ref in ("mila", "noa"):
        set_restriction(squads.by_role["coach"], squads.ours, ref, limit())
    limited = one_of(squads.keeper, squads.ours, "coach", name="half", only=("noa",))
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=limited.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    home = f"/squads/{squads.ours}"
    for where in ("/", f"{home}/found/", f"{home}/restrictions/"):
        assert "Mila" not in text(client.get(where)), where
    assert "Noa" in part(text(client.get("/")), "Restricted")
    sent = {"start": "stop", "first": f"{MONDAY}"}
    assert client.post(f"{home}/athletes/noa/restrictions/", sent).status_code == 302
    assert client.post(f"{home}/athletes/mila/restrictions/", sent).status_code == 403
    assert client.get(f"{home}/athletes/mila/restrictions/").status_code == 403
