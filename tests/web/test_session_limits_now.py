"""Limits that are set or lifted while a session's page is open: the page asks, and hears only what is new."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from field_entries import client
from invented_squads import PROGRAMME, Squads
from speedloom.store.cards import Role
from speedloom.store.programmes import read_programme
from speedloom.store.restrictions import lift_restriction, restrictions, set_restriction
from speedloom.training.athlete import Limit, Restriction

FEWER_QUESTIONS = 8
"""What a page costs that hears nothing new: who, where, which programme, limits, clearances [count]."""


def address(squads: Squads, athlete: str | None = None) -> tuple[str, str]:
    """Give where a session's limits are asked for, and mila's line of it."""
    document = read_programme(squads.keeper, squads.ours, PROGRAMME)
    day = min(session.date for _, session in document.sessions())
    line = next(
        line.ref
        for own, session in document.sessions()
        if own == "mila" and session.date == day
        for line in session.prescriptions
        if line.purpose == "work"
    )
    whose = f"athletes/{athlete}/" if athlete else ""
    return f"/squads/{squads.ours}/{whose}programmes/{PROGRAMME}/sessions/{day}/limits/", line


def stopped(squads: Squads) -> None:
    said = {"set_by": "Physio Ann", "set_as": "clinician", "from": date(2026, 1, 1)}
    new = Restriction.model_validate({"ref": "rest", "limits": (Limit(what="minutes", at_most=0),), **said})
    set_restriction(squads.by_role["clinician"], squads.ours, "mila", new)


def asked(squads: Squads, role: Role, where: str, tag: str = "") -> tuple[int, str, dict[str, Any]]:
    answer = client(squads.by_role[role]).get(where, headers={"If-None-Match": tag} if tag else {})
    body = json.loads(answer.content) if answer.status_code == 200 else {}
    return answer.status_code, answer.headers.get("ETag", ""), body


def test_a_limit_and_its_lifting_are_heard_and_nothing_else(squads: Squads) -> None:
    where, line = address(squads)
    status, before, body = asked(squads, "assistant", where)
    assert (status, body["rows"], body["listed"]) == (200, {}, [])
    assert asked(squads, "assistant", where, before) == (304, before, {})
    stopped(squads)
    status, then, body = asked(squads, "assistant", where, before)
    assert status == 200
    assert body["rows"][line].startswith("Not as written. Limit: no training")
    assert body["listed"] == ["Mila: no training"]
    assert asked(squads, "assistant", where, then)[0] == 304
    (card,) = restrictions(squads.by_role["clinician"], squads.ours)
    lift_restriction(squads.by_role["clinician"], squads.ours, "mila", card.id, reason="better")
    status, _now, body = asked(squads, "assistant", where, then)
    assert (status, body["rows"], body["listed"]) == (200, {}, [])


def test_nothing_new_costs_next_to_nothing(squads: Squads) -> None:
    where, _line = address(squads)
    looks = client(squads.by_role["assistant"])
    tag = looks.get(where).headers["ETag"]
    with CaptureQueriesContext(connection) as told:
        assert looks.get(where, headers={"If-None-Match": tag}).status_code == 304
    assert len(told) <= FEWER_QUESTIONS, [one["sql"][:80] for one in told]


@pytest.mark.parametrize(("role", "hears"), [("clinician", True), ("viewer", False)])
def test_only_those_hear_of_it_who_may_see_health(squads: Squads, role: Role, *, hears: bool) -> None:
    where, line = address(squads)
    _status, before, _body = asked(squads, role, where)
    stopped(squads)
    status, _tag, body = asked(squads, role, where, before)
    assert status == (200 if hears else 304)
    assert (line in body.get("rows", {})) == hears


def test_an_athlete_hears_of_their_own_and_of_no_other(squads: Squads) -> None:
    stopped(squads)
    mine, line = address(squads, "mila")
    others, _line = address(squads, "noa")
    everybody, _line = address(squads)
    status, _tag, body = asked(squads, "athlete", mine)
    assert status == 200
    assert line in body["rows"]
    assert asked(squads, "athlete", others)[0] == 403
    assert asked(squads, "athlete", everybody)[0] == 403


def test_another_person_s_tag_is_another(squads: Squads) -> None:
    where, _line = address(squads)
    assert asked(squads, "assistant", where)[1] != asked(squads, "coach", where)[1]
