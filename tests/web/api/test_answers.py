"""What calls give and change, and how they say no: what, where, what was expected, what to do."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from django.test import Client

from briefs import EXAMPLES, planned
from invented_squads import PASSWORD, PROGRAMME, Squads, limit, sprint
from log_entries import entry, key
from speedloom.store import models
from speedloom.store.api_tokens import make_token
from speedloom.store.cards import Actor, Role
from speedloom.store.measurements import measurements
from speedloom.store.programmes import save_programme

JSON = "application/json"


class Caller:
    """A program with somebody's key."""

    def __init__(self, squads: Squads, role: Role) -> None:
        self.who: Actor = squads.by_role[role]
        self.squad = f"/api/squads/{squads.ours}"
        self.programme = f"{self.squad}/programmes/{PROGRAMME}"
        self.headers = {"Authorization": f"Bearer {make_token(self.who, title='a test')[1]}"}

    def get(self, where: str) -> Any:  # noqa: ANN401 - Django's answer
        return Client().get(where, headers=self.headers)

    def post(self, where: str, content: object) -> Any:  # noqa: ANN401 - Django's answer
        text = content if isinstance(content, str | bytes) else json.dumps(content)
        return Client().post(where, text, content_type=JSON, headers=self.headers)


@pytest.fixture
def coach(squads: Squads) -> Caller:
    return Caller(squads, "coach")


@pytest.fixture
def athlete(squads: Squads) -> Caller:
    return Caller(squads, "athlete")


def test_an_athlete_reads_of_nobody_else(athlete: Caller) -> None:
    assert [one["ref"] for one in athlete.get(f"{athlete.squad}/athletes").json()] == ["mila"]
    told = athlete.get(athlete.programme)
    assert [own["athlete"] for own in told.json()["programmes"]] == ["mila"]
    for where in ("", "/check", "/log", "/why/mila-203"):
        assert "noa" not in athlete.get(f"{athlete.programme}{where}").content.decode()
    assert athlete.get(f"{athlete.programme}/why/noa-203").status_code == 404
    assert athlete.get(f"{athlete.programme}/check?athlete=noa").status_code == 404


def test_what_was_measured_is_added_once(coach: Caller) -> None:
    new = sprint("mila", day="2026-01-10").model_dump_json()
    where = f"{coach.squad}/measurements"
    assert coach.post(where, new).json() == {"sent": 1, "new": 1}
    assert coach.post(where, new).json() == {"sent": 1, "new": 0}
    days = [one["date"] for one in coach.get(f"{where}?athlete=mila").json()["trials"]]
    assert days == ["2026-01-08", "2026-01-10"]
    assert coach.post(where, sprint("nobody").model_dump_json()).status_code == 422


def test_an_athlete_is_added_once(coach: Caller) -> None:
    added = coach.post(f"{coach.squad}/athletes", {"ref": "vera", "name": "Vera"})
    assert (added.status_code, added.json()["name"]) == (201, "Vera")
    again = coach.post(f"{coach.squad}/athletes", {"ref": "vera", "name": "Vera"})
    assert again.status_code == 422
    assert "has an athlete vera already" in again.json()["problems"][0]["what"]


def test_two_restrictions_of_one_name_are_refused(coach: Caller) -> None:
    knee = json.loads(limit().model_dump_json(by_alias=True))
    told = coach.post(f"{coach.squad}/athletes", {"ref": "vera", "restrictions": [knee, knee]})
    assert told.status_code == 422
    assert "got knee more than once" in told.json()["problems"][0]["what"]
    assert len(coach.get(f"{coach.squad}/athletes").json()) == 2


def test_a_log_answers_which_ids_can_be_forgotten(athlete: Caller) -> None:
    where = f"{athlete.programme}/log"
    mine = {"by": athlete.who.login}
    first = {"entries": [entry(1, **mine), entry(2, **mine)]}
    nothing: dict[str, list[str]] = {"refused": [], "asked": []}
    told = {"stored": [key(1), key(2)], "known": [], "clashing": [], **nothing}
    assert athlete.post(where, first).json() == told
    second = {"entries": [entry(1, **mine), entry(2, note="another", **mine), entry(3, **mine)]}
    told = {"stored": [key(3)], "known": [key(1)], "clashing": [key(2)], **nothing}
    assert athlete.post(where, second).json() == told
    assert [one["id"] for one in athlete.get(where).json()["entries"]] == [key(1), key(2), key(3)]


def test_nothing_is_written_about_others(athlete: Caller) -> None:
    mine = {"by": athlete.who.login}
    noas = {"athlete": "noa", "session": "noa-200"}
    sent = {"entries": [entry(1, **mine), entry(2, **mine, **noas)]}
    assert athlete.post(f"{athlete.programme}/log", sent).status_code == 403
    assert athlete.get(f"{athlete.programme}/log").json()["entries"] == []


def test_every_fault_is_told_with_its_place(coach: Caller) -> None:
    trial = {
        "athlete": 3,
        "date": "8 January",
        "trial": 1,
        "timing": "gates",
        "clock": "unknown",
        "splts": [],
    }
    told = coach.post(f"{coach.squad}/measurements", {"trials": [trial]})
    assert told.status_code == 422
    problems = {one["where"]: one for one in told.json()["problems"]}
    assert set(problems) == {"trials.1.athlete", "trials.1.date", "trials.1.splits", "trials.1.splts"}
    assert all(one["what"] and one["expected"] for one in problems.values())
    assert 'did you mean "splits"?' in problems["trials.1.splts"]["todo"]
    assert len(measurements(coach.who, coach.squad.rpartition("/")[2]).trials) == 2


@pytest.mark.parametrize(
    "body", ["", "{", "[]", "null", b"\xff\xfe", '{"entries": []}', '{"entries": "\\u0000"}']
)
def test_what_cannot_be_read_is_said(body: str | bytes, coach: Caller) -> None:
    told = coach.post(f"{coach.programme}/log", body)
    assert told.status_code == 422
    assert all(one["expected"] for one in told.json()["problems"])


def test_unknown_calls_and_methods_are_json_too(coach: Caller) -> None:
    assert coach.get("/api/nowhere").json()["problems"][0]["what"] == "There is no such call."
    told = coach.post(coach.programme, {})
    assert (told.status_code, told["Allow"]) == (405, "GET")
    assert told.json()["problems"][0]["what"] == "Not POST here."
    assert coach.get(f"{coach.programme}/handouts/poster").status_code == 422
    assert coach.get(f"{coach.programme}/revisions/0").status_code == 422


def test_a_page_of_another_site_cannot_change_anything(squads: Squads) -> None:
    browser = Client(enforce_csrf_checks=True)
    browser.force_login(
        models.Person.objects.get(login="coach"), backend="speedloom.store.signing_in.PersonBackend"
    )
    where = f"/api/squads/{squads.ours}/athletes"
    assert browser.get(where).status_code == 200
    assert browser.post(where, {"ref": "vera"}, content_type=JSON).status_code == 403


def test_papers_and_files(coach: Caller) -> None:
    starts = {"session": b"%PDF", "workbook": b"PK", "calendar": b"BEGIN:VCALENDAR", "table": b"\xef\xbb\xbf"}
    for kind, start in starts.items():
        answer = coach.get(f"{coach.programme}/handouts/{kind}?athlete=mila&week=1")
        assert answer.content.startswith(start), answer.content[:20]
        assert "mila-revision-1" in answer["Content-Disposition"]
    assert coach.get(f"{coach.programme}/handouts/session?week=77").status_code == 404


@pytest.fixture
def planned_for(coach: Caller) -> Caller:
    programme = planned(EXAMPLES / "short_block.toml")
    save_programme(coach.who, coach.squad.rpartition("/")[2], programme)
    coach.programme = f"{coach.squad}/programmes/{programme.id}"
    return coach


def heavy(document: dict[str, Any]) -> dict[str, Any]:
    """Give a line with a load."""
    return next(
        line
        for own in document["programmes"]
        for week in own["weeks"]
        for session in week["sessions"]
        for line in session["prescriptions"]
        if line["load_kg"] and line["method"] == "maximal_strength"
    )


def test_a_change_is_a_revision_after_another(planned_for: Caller) -> None:
    caller = planned_for
    (card,) = [one for one in caller.get(f"{caller.squad}/programmes").json() if one["id"] != PROGRAMME]
    line = heavy(caller.get(caller.programme).json())
    change = {"ref": line["ref"], "field": "load_kg", "value": line["load_kg"] - 5}
    sent = {"after": card["digest"], "reason": "Sore", "changes": [change]}
    told = caller.post(f"{caller.programme}/changes", sent).json()
    assert told["programme"]["revision"] == 2, told
    assert any("kg" in one for one in told["changed"])
    assert not any(one["weight"] == "hard" for one in told["findings"])
    assert heavy(caller.get(caller.programme).json())["load_kg"] == line["load_kg"] - 5
    assert heavy(caller.get(f"{caller.programme}/revisions/1").json())["load_kg"] == line["load_kg"]
    again = caller.post(f"{caller.programme}/changes", sent)
    assert again.status_code == 409
    assert len(caller.get(f"{caller.programme}/revisions").json()) == 2


def test_what_a_hard_rule_forbids_is_not_saved(planned_for: Caller) -> None:
    caller = planned_for
    line = heavy(caller.get(caller.programme).json())
    (card,) = [one for one in caller.get(f"{caller.squad}/programmes").json() if one["id"] != PROGRAMME]
    change = {"ref": line["ref"], "field": "load_kg", "value": 4 * line["load_kg"]}
    told = caller.post(
        f"{caller.programme}/changes", {"after": card["digest"], "reason": "More", "changes": [change]}
    )
    assert told.status_code == 422
    assert "nothing was saved" in told.json()["problems"][-1]["what"]
    assert len(caller.get(f"{caller.programme}/revisions").json()) == 1


def test_keys_are_made_shown_once_and_taken_back_on_the_page(squads: Squads) -> None:
    browser = Client()
    browser.post("/sign-in/", {"login": "coach", "password": PASSWORD})
    assert browser.post("/api/keys/", {"title": " "}).status_code == 422
    page = browser.post("/api/keys/", {"title": "Stopwatch"}).content.decode()
    secret = page.partition('id="secret" value="')[2].partition('"')[0]
    headers = {"Authorization": f"Bearer {secret}"}
    assert Client().get("/api/me", headers=headers).json()["login"] == "coach"
    page = browser.get("/api/").content.decode()
    assert "Stopwatch" in page
    assert secret not in page
    (taken_back,) = re.findall(r'action="(/api/keys/\d+/take-back/)"', page)
    browser.post(taken_back)
    assert Client().get("/api/me", headers=headers).status_code == 401
    assert squads.ours
