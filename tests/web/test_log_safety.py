"""What a log may not do, by whatever door: lend a hand, look into health, stand before corrections."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from field_entries import DAY, client, entry, here, run, sent, stored
from invented_squads import PROGRAMME, Squads
from speedloom.store import models
from speedloom.store.api_tokens import make_token
from speedloom.store.cards import Actor

PAIN = {"status": "stopped", "reason": "pain", "note": "zwaluw"}


def by_api(squads: Squads, who: Actor, *entries: dict[str, Any]) -> dict[str, Any]:
    key = {"Authorization": f"Bearer {make_token(who, title='a test')[1]}"}
    where = f"/api/squads/{squads.ours}/programmes/{PROGRAMME}/log"
    answer = Client().post(where, {"entries": entries}, content_type="application/json", headers=key)
    assert answer.status_code == 200
    body: dict[str, Any] = answer.json()
    return body


def test_a_stop_for_pain_by_the_api_limits_at_once(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    by_api(squads, who, entry(1, who, **PAIN))
    assert models.Restriction.objects.filter(athlete__ref="mila", ref__startswith="stop_").count() == 1


def test_the_api_takes_nobodys_hand_and_nobodys_line(squads: Squads) -> None:
    who, other = squads.by_role["assistant"], squads.by_role["coach"]
    those = [entry(1, other), entry(2, who, line="noa-203", session="noa-200"), entry(3, who, revision=77)]
    body = by_api(squads, who, *those)
    assert {one["id"] for one in body["refused"]} == {one["id"] for one in those}
    assert stored(squads) == ()


def test_the_api_marks_and_asks_about_what_is_strange(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    body = by_api(squads, who, entry(1, who, results=[run(1, 0.9)]))
    assert "?" in body["asked"][0]["why"]
    assert stored(squads)[0].results[0].mark == "unusual"


def test_a_viewer_reads_no_reasons_of_health_and_no_notes(squads: Squads) -> None:
    who, viewer = squads.by_role["assistant"], squads.by_role["viewer"]
    sent(client(who), squads, [entry(1, who, **PAIN)])
    key = {"Authorization": f"Bearer {make_token(viewer, title='a test')[1]}"}
    seen = [
        client(viewer).get(here(squads, f"written/?date={DAY}")),
        client(viewer).get(here(squads)),
        Client().get(f"/api/squads/{squads.ours}/programmes/{PROGRAMME}/log", headers=key),
    ]
    assert [one.status_code for one in seen] == [200, 200, 200]
    assert ["zwaluw" in one.content.decode() for one in seen] == [False, False, False]
    assert '"reason": "pain"' not in seen[0].content.decode()
    assert "zwaluw" in client(squads.by_role["athlete"]).get(own(squads)).content.decode()


def own(squads: Squads) -> str:
    return f"/squads/{squads.ours}/athletes/mila/programmes/{PROGRAMME}/written/?date={DAY}"


def test_an_entry_from_the_future_stands_before_no_correction(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    answer = sent(client(who), squads, [entry(1, who, at="2099-01-01T00:00:00+00:00")], status=422)
    assert "clock" in answer["refused"][0]["why"]
    assert stored(squads) == ()


def test_a_note_has_an_end(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    answer = sent(client(who), squads, [entry(1, who, note="x" * 2001)], status=422)
    assert "2000 characters" in answer["refused"][0]["why"]


@pytest.mark.parametrize("body", ["[" * 200_000, '{"entries":' + "[" * 100_000])
def test_what_is_nested_without_end_is_refused(squads: Squads, body: str) -> None:
    found = client(squads.by_role["athlete"])
    answer = found.post(own(squads), body, content_type="application/json")
    assert answer.status_code == 422
    assert "entries" in json.loads(answer.content)["problem"]


def test_what_hurts_hurts_from_today_on(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2026, 1, 19, 20, tzinfo=UTC))
    typed = {"do": "else", "line": "mila-303", "what": "stop", "reason": "pain", "nonce": "one"}
    client(squads.by_role["coach"]).post(here(squads, "sessions/2026-01-26/?on=2026-01-26"), typed)
    made = models.Restriction.objects.get(athlete__ref="mila", ref__startswith="stop_")
    assert '"from":"2026-01-19"' in made.document


@pytest.mark.parametrize("way", ["page", "api"])
def test_two_entries_of_one_id_in_one_call_clash_as_in_two(squads: Squads, way: str) -> None:
    """The first is stored, as it would be had it come alone; the other is given back and never dropped."""
    who = squads.by_role["coach"]
    number = 0xABCDEF
    first, other = entry(number, who, results=[run(1, 2.31)]), entry(number, who, results=[run(1, 2.44)])
    other["id"] = other["id"].upper()
    those = [first, other, first, entry(2, who, effort=7)]
    body = by_api(squads, who, *those) if way == "api" else sent(client(who), squads, those)
    assert body["stored"] == [first["id"], those[3]["id"]]
    clashing = [one if isinstance(one, str) else one["id"] for one in body["clashing"]]
    assert clashing == [other["id"]]
    assert [one.results[0].time_s for one in stored(squads) if one.results] == [2.31]
    again = by_api(squads, who, *those) if way == "api" else sent(client(who), squads, those)
    assert (again["stored"], again["known"]) == ([], body["stored"])
    assert len(again["clashing"]) == 1


def test_two_of_one_id_that_cannot_be_are_both_told(squads: Squads) -> None:
    who = squads.by_role["coach"]
    those = [entry(1, who, revision=77), entry(1, who, results=[run(1, 2.44)])]
    body = sent(client(who), squads, those)
    assert [one["id"] for one in body["refused"]] == [those[0]["id"]]
    assert [one["id"] for one in body["clashing"]] == [those[1]["id"]]
    assert stored(squads) == ()


@pytest.mark.parametrize("loud", [False, True])
def test_a_file_with_two_entries_of_one_id_says_so(squads: Squads, *, loud: bool) -> None:
    who = squads.by_role["coach"]
    both = [entry(0xAB, who, results=[run(1, 2.31)]), entry(0xAB, who, results=[run(1, 2.44)])]
    both[1]["id"] = both[1]["id"].upper() if loud else both[1]["id"]
    log = {"schema": "speedloom.log/1", "programme": PROGRAMME, "timezone": "Europe/Zurich", "entries": both}
    file = SimpleUploadedFile("log.json", json.dumps(log).encode())
    answer = client(who).post(here(squads, f"sessions/{DAY}/sent-in/"), {"file": file})
    assert answer.status_code == 422
    assert "entries.2.id: expected each id for one entry" in answer.content.decode()
    assert stored(squads) == ()
